"""Judge the entries inside a document anew and compare with the findings it carries."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rakeprep.handover.checked import Check
from rakeprep.handover.findings import EDITION, canonical_findings, judged_on
from rakeprep.jobs.assess import READINESS_WORDS, Readiness
from rakeprep.jobs.open_job import ROLE_WORDS, ROLES, UnreadableData, judge
from rakeprep.model.job import Record
from rakeprep.store.canonical import parse
from rakeprep.store.chain import check_chain, short_code
from rakeprep.store.events import Stored, load
from rakeprep.text import Message, msg, plural, verbatim

Row = Mapping[str, object]


def recompute(entries: bytes, findings: bytes) -> list[Check]:
    """The chain of entries, the head it must end in, the signatures among them, the same findings once more.

    Stops at the first that is not in order. ``entries`` and ``findings`` are the attached files.
    """
    try:
        stored = load(entries)
        told = parse(findings)
    except ValueError as error:
        return [Check("chain", False, _unreadable(error))]
    checks = [_chain(stored)]
    if checks[-1].ok:
        checks.append(_head(stored, told))
    if not checks[-1].ok:
        return checks
    try:
        day = judged_on(stored)
        record, assessment = judge(stored, day)
        anew = canonical_findings(record, assessment, day)
    except UnreadableData as error:
        return [
            *checks,
            Check("findings", False, msg("The checks cannot be repeated. {why}", why=error.message)),
        ]
    except (ValueError, KeyError, TypeError, AttributeError, ArithmeticError) as error:
        return [*checks, Check("findings", False, _unreadable(error))]
    return [*checks, _people(record), _same(told, anew)]


def _unreadable(error: BaseException) -> Message:
    return msg("The entries in the document cannot be read: {reason}.", reason=str(error)[:200])


def _chain(stored: Sequence[Stored]) -> Check:
    problem = check_chain(stored)
    if problem is not None:
        return Check("chain", False, msg("The chain of entries is broken. {where}", where=problem))
    if not stored:
        return Check("chain", False, msg("There are no entries in the document."))
    says = plural(
        "The chain of {count} entry is unbroken.", "The chain of {count} entries is unbroken.", len(stored)
    )
    return Check("chain", True, says)


def _head(stored: Sequence[Stored], told: Row) -> Check:
    head = stored[-1].hash
    if told.get("head") != head or told.get("entries") != len(stored):
        return Check(
            "head",
            False,
            msg("The entries end in {code}, but the findings were made from others.", code=short_code(head)),
        )
    says = msg("The entries end in {code}; compare it with the code on the paper.", code=short_code(head))
    return Check("head", True, says)


def _people(record: Record) -> Check:
    for role in ROLES:
        if role not in record.signatures:
            says = msg("Among the entries a signature is missing or lapsed: {role}.", role=ROLE_WORDS[role])
            return Check("people", False, says)
    return Check("people", True, msg("All three signed after the last entry was made."))


def _same(told: Row, anew: Row) -> Check:
    other = first_difference(told, anew)
    if other is None:
        readiness = READINESS_WORDS[Readiness(str(anew["readiness"]))]
        return Check(
            "findings",
            True,
            msg("Judging the entries once more gives the same findings: {readiness}.", readiness=readiness),
        )
    if told.get("program") == EDITION:
        return Check("findings", False, other)
    return _another_edition(told, anew)


def _another_edition(told: Row, anew: Row) -> Check:
    """What this edition of the checks says of entries that another edition judged.

    The signatures prove that nothing was changed; an edition may word or judge a thing otherwise without
    the older document being any less true to what was said then.
    """
    say: dict[str, object] = {"then": _short(told.get("program")), "now": EDITION}
    judged = first_difference(_verdicts(told), _verdicts(anew))
    if judged is None:
        says = msg(
            "Edition {now} of the checks judges the entries like edition {then}, which made the document.",
            **say,
        )
    else:
        says = msg(
            "Made with edition {then} of the checks; edition {now} judges something otherwise. {judged}",
            judged=judged,
            **say,
        )
    return Check("findings", True, says)


def _verdicts(findings: Row) -> Row:
    """Findings without their wording."""
    rows = [
        {k: v for k, v in row.items() if k in {"slot", "verdict"}} for row in _rows(findings.get("findings"))
    ]
    judged = {key: findings.get(key) for key in ("judged_on", "readiness")}
    return {**judged, "findings": sorted(rows, key=lambda row: (str(row["slot"]), str(row["verdict"])))}


def first_difference(told: Row, anew: Row) -> Message | None:
    """The first thing in which two sets of findings differ, in words."""
    if told.get("judged_on") != anew.get("judged_on"):
        return msg(
            "The findings are said to be of {told}, but the last signature is of {anew}.",
            told=_short(told.get("judged_on")),
            anew=_short(anew.get("judged_on")),
        )
    for part in ("findings", "open_points"):
        found = _first(_rows(told.get(part)), _rows(anew.get(part)))
        if found is not None:
            return found
    if told.get("readiness") != anew.get("readiness"):
        return msg(
            "The document says “{told}”, but judging the entries once more gives “{anew}”.",
            told=_short(told.get("readiness")),
            anew=_short(anew.get("readiness")),
        )
    if {**told, "program": ""} != {**anew, "program": ""}:
        return msg("The findings in the document have another form than this program gives them.")
    return None


def _first(told: Sequence[Row], anew: Sequence[Row]) -> Message | None:
    """Both lists are sorted by their rows, so the first pair that differs tells what is missing where."""
    for old, new in zip(told, anew, strict=False):
        if old == new:
            continue
        if old.get("slot") == new.get("slot"):
            return msg(
                "At {slot} the document says “{told}”, but judging the entries once more gives “{anew}”.",
                slot=_slot(old),
                told=_words(old),
                anew=_words(new),
            )
        return _only_told(old) if str(old.get("slot")) < str(new.get("slot")) else _only_anew(new)
    if len(told) > len(anew):
        return _only_told(told[len(anew)])
    if len(anew) > len(told):
        return _only_anew(anew[len(told)])
    return None


def _only_told(row: Row) -> Message:
    return msg(
        "At {slot} the document says “{told}”, but judging the entries once more does not give that.",
        slot=_slot(row),
        told=_words(row),
    )


def _only_anew(row: Row) -> Message:
    return msg(
        "At {slot} judging the entries once more gives “{anew}”, which the document does not say.",
        slot=_slot(row),
        anew=_words(row),
    )


def _rows(value: object) -> list[Row]:
    if not isinstance(value, list):
        return []
    return [row for row in value if isinstance(row, Mapping)]


def _slot(row: Row) -> Message:
    return verbatim(_short(row.get("slot")))


def _words(row: Row) -> str:
    return ": ".join(_short(row[key]) for key in ("verdict", "says") if key in row)


def _short(value: object) -> str:
    return str(value if value is not None else "")[:300]
