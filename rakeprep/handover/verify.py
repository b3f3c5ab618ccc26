"""Whether a handover document is what the workshop sealed, and says what its entries say.

Whatever goes wrong inside means "not verified"; nothing is ever raised.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from typing import TypeVar

from rakeprep.handover import cms
from rakeprep.handover.attached import ALL, Unattached, read_attached
from rakeprep.handover.checked import Check
from rakeprep.handover.keys import spoken
from rakeprep.handover.recompute import recompute
from rakeprep.handover.signatures import ADDED, Sealing, Signed, judge_signatures
from rakeprep.text import ENGLISH, Language, Message, msg

T = TypeVar("T")
LARGEST = 200_000_000  # bytes
HEADER = b"%PDF-"
TRAILER = b"%%EOF"


class Outcome(Enum):
    """What became of it, with the exit code of the command."""

    VERIFIED = "verified"
    UNKNOWN_SEAL = "unchanged, but sealed by a workshop unknown to this computer"
    NOT_VERIFIED = "not verified"

    @property
    def word(self) -> Message:
        """The words for people."""
        return OUTCOME_WORDS[self]

    @property
    def code(self) -> int:
        """0, 2 or 1."""
        return {Outcome.VERIFIED: 0, Outcome.UNKNOWN_SEAL: 2, Outcome.NOT_VERIFIED: 1}[self]


OUTCOME_WORDS = {
    Outcome.VERIFIED: msg("verified"),
    Outcome.UNKNOWN_SEAL: msg("unchanged, but sealed by a workshop unknown to this computer"),
    Outcome.NOT_VERIFIED: msg("not verified"),
}


@dataclass(frozen=True, slots=True)
class Report:
    """The outcome and every check that led to it, in the order in which they were made."""

    outcome: Outcome
    checks: tuple[Check, ...]
    workshop: str = ""
    fingerprint: str = ""
    signed: tuple[Signed, ...] = ()

    @property
    def code(self) -> int:
        """The exit code: 0 verified, 2 unknown seal, 1 not verified."""
        return self.outcome.code

    def lines(self, language: Language = ENGLISH) -> list[str]:
        """The report in words, the outcome first."""
        said = [msg("Outcome: {outcome}.", outcome=self.outcome.word)]
        for check in self.checks:
            pattern = msg("in order: {says}", says=check.says)
            said.append(pattern if check.ok else msg("not in order: {says}", says=check.says))
        if self.outcome is Outcome.UNKNOWN_SEAL:
            said.append(
                msg("Ask the workshop for the certificate of its seal and let this computer trust it.")
            )
        return [language.say(message) for message in said]

    def to_json(self) -> dict[str, object]:
        """The report for other programs, in English; times in ISO 8601."""
        return {
            "outcome": self.outcome.value,
            "code": self.code,
            "workshop": self.workshop,
            "seal_sha256": self.fingerprint,
            "signed": [
                {"field": s.field, "name": s.name, "reason": s.reason, "at": s.at.isoformat()}
                for s in self.signed
            ],
            "checks": [{"check": c.key, "ok": c.ok, "says": str(c.says)} for c in self.checks],
        }


def verify_file(path: Path, trusted_roots: Iterable[bytes]) -> Report:
    """Check the document in a file; never raises."""
    return verify_read(path, trusted_roots)[0]


def verify_read(path: Path, trusted_roots: Iterable[bytes]) -> tuple[Report, bytes]:
    """The same, with the very bytes that were checked; never raises."""
    try:
        with path.open("rb") as stream:
            pdf = stream.read(LARGEST + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or type(error).__name__
        says = msg("{file} cannot be read ({reason}).", file=str(path), reason=str(reason))
        return Report(Outcome.NOT_VERIFIED, (Check("pdf", False, says),)), b""
    return verify(pdf, trusted_roots), pdf


def verify(pdf: bytes, trusted_roots: Iterable[bytes], second_opinion: bool = True) -> Report:
    """Check a document against the root certificates (DER) known here; never raises.

    Without a ``second_opinion`` (see ``judge_signatures``) it is quick enough for a document just made.
    """
    roots = frozenset(trusted_roots)
    checks = [_is_pdf(pdf)]
    if not checks[-1].ok:
        return Report(Outcome.NOT_VERIFIED, tuple(checks))
    misfit = _at_a_glance(pdf)
    if misfit is not None:
        return Report(Outcome.NOT_VERIFIED, (*checks, misfit))
    sealing = _guarded(lambda: judge_signatures(pdf, second_opinion), Sealing((BROKEN,)))
    checks.extend(sealing.checks)
    if not sealing.holds:
        return _report(Outcome.NOT_VERIFIED, checks, sealing)
    known = sealing.root in roots
    checks.append(_known(sealing, known))
    content = _guarded(lambda: _content(pdf), [BROKEN_CONTENT])
    checks.extend(content)
    if not content or not all(check.ok for check in content):
        return _report(Outcome.NOT_VERIFIED, checks, sealing)
    return _report(Outcome.VERIFIED if known else Outcome.UNKNOWN_SEAL, checks, sealing)


BROKEN = Check(
    "whole",
    False,
    msg("The document is damaged or was changed: its structure or its signatures cannot be read."),
)
BROKEN_CONTENT = Check("findings", False, msg("The entries in the document cannot be checked."))


def _guarded(ask: Callable[[], T], otherwise: T) -> T:
    """What ``ask`` gives, or ``otherwise`` when it fails in any way but by the user's own wish."""
    try:
        return ask()
    except (KeyboardInterrupt, SystemExit, GeneratorExit):
        raise
    except BaseException:
        # A panic inside one of the compiled libraries is no Exception, and must not verify either.
        return otherwise


def _is_pdf(pdf: bytes) -> Check:
    """The cheap questions first, so that a large file of another kind is answered at once."""
    if not pdf:
        return Check("pdf", False, msg("The file is empty."))
    if len(pdf) > LARGEST:
        return Check("pdf", False, msg("The file is larger than 200 MB; no handover document is."))
    if not pdf.startswith(HEADER):
        return Check("pdf", False, msg("This is not a PDF document."))
    if not pdf[-32:].rstrip().endswith(TRAILER):
        return Check("pdf", False, msg("The end of the document is missing, or something stands after it."))
    return Check("pdf", True, msg("This is a PDF document."))


def _at_a_glance(pdf: bytes) -> Check | None:
    """What plainly does not fit; taking a large damaged file apart would last a minute.

    This proves nothing: ``judge_signatures`` looks at all of it again by way of the document's structure.
    """
    place = cms.last_range(pdf)
    if place is None:
        return Check("fields", False, msg("There is no signature in the document."))
    start, end, rest = place
    if end + rest < len(pdf):
        return Check("whole", False, ADDED)
    if not start < end or not cms.seems_to_fit(pdf, start, end):
        return Check("whole", False, msg("The document was changed or cut after it was signed."))
    return None


def _known(sealing: Sealing, known: bool) -> Check:
    gaps = {"workshop": sealing.workshop, "fingerprint": spoken(sealing.fingerprint)}
    if known:
        says = msg("The seal of “{workshop}” ({fingerprint}) is known to this computer.", **gaps)
    else:
        says = msg(
            "The seal says “{workshop}” ({fingerprint}), which this computer does not know, so anybody could "
            "have made it.",
            **gaps,
        )
    return Check("known", known, says)


def _content(pdf: bytes) -> list[Check]:
    try:
        files = read_attached(pdf, ALL)
    except Unattached as error:
        return [Check("attached", False, error.message)]
    return recompute(files)


def _report(outcome: Outcome, checks: list[Check], sealing: Sealing) -> Report:
    return Report(outcome, tuple(checks), sealing.workshop, sealing.fingerprint, sealing.signed)
