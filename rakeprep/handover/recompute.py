"""Judge the entries inside a document anew and compare with the findings it carries."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rakeprep.handover.attached import CALENDAR, ENTRIES, FINDINGS, MACHINE, TRACTOR
from rakeprep.handover.calendar_file import calendar, days
from rakeprep.handover.checked import Check
from rakeprep.handover.findings import EDITION, canonical_findings, judged_on
from rakeprep.handover.paper import Paper
from rakeprep.jobs.assess import READINESS_WORDS, Assessment, Readiness
from rakeprep.jobs.chapters import roles_of
from rakeprep.jobs.open_job import ROLE_WORDS, UnreadableData, judge, understood
from rakeprep.model.job import Record
from rakeprep.store.canonical import parse
from rakeprep.store.chain import check_chain, short_code
from rakeprep.store.events import Stored, load
from rakeprep.text import ENGLISH, Message, msg, plural, verbatim

Row = Mapping[str, object]
ANOTHER_FORM = msg("The findings in the document have another form than this program gives them.")


def recompute(files: Mapping[str, bytes]) -> list[Check]:
    """The chain of entries, the head it must end in, and all that follows from the entries once more.

    Stops at the first that is not in order. ``files`` are the attached files by their names.
    """
    try:
        stored = load(files[ENTRIES])
        told = parse(files[FINDINGS])
    except ValueError as error:
        return [Check("chain", False, _unreadable(error))]
    checks = [_chain(stored)]
    if checks[-1].ok:
        checks.append(_head(stored, told))
    if not checks[-1].ok:
        return checks
    try:
        return [*checks, *_anew(stored, told, files)]
    except UnreadableData as error:
        return [*checks, _not_again(told, error.message)]
    except (ValueError, KeyError, TypeError, AttributeError, ArithmeticError) as error:
        return [*checks, _not_again(told, _unreadable(error))]


def _anew(stored: Sequence[Stored], told: Row, files: Mapping[str, bytes]) -> list[Check]:
    """Who signed, the data and the visits beside the entries, the findings; raises what ``judge`` raises."""
    day = judged_on(stored)
    record, assessment = judge(stored, day)
    anew = canonical_findings(record, assessment, day)
    people = _people(record)
    if not people.ok:
        return [people]
    return [people, _files(record, assessment, told, files), _same(told, anew)]


def _files(record: Record, assessment: Assessment, told: Row, files: Mapping[str, bytes]) -> Check:
    """The data of machine and tractor are those that the entries hold, and the visits follow from them."""
    opening = record.opening
    for name, text in ((MACHINE, opening.profile_text), (TRACTOR, opening.tractor_text)):
        if files[name] != text.encode("utf-8"):
            return Check(
                "files", False, msg("The attached file {name} is not that of the entries.", name=name)
            )
    profile, tractor = understood(opening)
    at = max(signature.at for signature in record.signatures.values())
    paper = Paper(record, assessment, profile, tractor, ENGLISH, short_code(record.head), at)
    if told.get("program") == EDITION and days(files[CALENDAR]) != days(calendar(paper)):
        says = msg("The visits in the attached file {name} do not follow from the entries.", name=CALENDAR)
        return Check("files", False, says)
    return Check("files", True, msg("The attached data and visits are those of the entries."))


def _not_again(told: Row, why: Message) -> Check:
    """Entries that cannot be judged here. Another edition may know keys and entries that this one does not;
    then the signatures alone say that nothing was changed since."""
    then = told.get("program")
    if then == EDITION or not _is_edition(then):
        return Check("findings", False, msg("The checks cannot be repeated. {why}", why=why))
    says = msg(
        "Made with edition {then} of the checks, which edition {now} cannot repeat; the signatures alone "
        "show that nothing was changed. {why}",
        then=_short(then),
        now=EDITION,
        why=why,
    )
    return Check("findings", True, says)


def _is_edition(name: object) -> bool:
    """Whether a document names the edition of the checks that made it."""
    return isinstance(name, str) and bool(name.strip())


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
    for role in roles_of(record.chapter):
        if role not in record.signatures:
            says = msg("Among the entries a signature is missing or lapsed: {role}.", role=ROLE_WORDS[role])
            return Check("people", False, says)
    return Check("people", True, msg("Everybody who had to sign did so after the last entry was made."))


def _same(told: Row, anew: Row) -> Check:
    other = first_difference(told, anew)
    if not _is_edition(told.get("program")):
        return Check("findings", False, other or ANOTHER_FORM)
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
        return ANOTHER_FORM
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
