"""One stretch of the work, as its file in ``steps`` declares it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import chain

from rakeprep.model.facts import Facts
from rakeprep.model.field import Field
from rakeprep.model.finding import Finding
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.text import Message


@dataclass(frozen=True, slots=True)
class Caution:
    """A hazard, the safe state asked for by name, and the sign that stands for it.

    ``sign`` is one of the keys of ``resources/cautions``: the hazard group of ISO 11684 in words.
    """

    hazard: Message
    safe_state: Message
    sign: str = "general"


Check = Callable[[Facts], Iterable[Finding]]


@dataclass(frozen=True, slots=True)
class Step:
    """A step: its questions for this machine and tractor, and its checks.

    A check is pure, never raises on missing, extreme or nonsense entries, and its findings name only
    fields of ``fields``. It is run again when an entry that it looked at has changed, so what is long to
    work out has a check of its own. ``order`` is the place of the step in the work. The questions of a step
    of ``visits`` only appear in the chapters after the handover that ask for them.
    """

    key: str
    order: int
    title: Message
    about: Message
    cautions: tuple[Caution, ...]
    fields: Callable[[Profile, Tractor], tuple[Field, ...]]
    checks: tuple[Check, ...]
    visits: bool = False

    def check(self, facts: Facts) -> Iterable[Finding]:
        """What all its checks say, one after the other."""
        return chain.from_iterable(check(facts) for check in self.checks)
