"""One stretch of the work, as its file in ``steps`` declares it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

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


@dataclass(frozen=True, slots=True)
class Step:
    """A step: its questions for this machine and tractor, and its check.

    ``check`` is pure, never raises on missing, extreme or nonsense entries, and its findings name
    only fields of ``fields``. ``order`` is the place of the step in the work. The questions of a step of
    ``visits`` only appear in the chapters after the handover that ask for them.
    """

    key: str
    order: int
    title: Message
    about: Message
    cautions: tuple[Caution, ...]
    fields: Callable[[Profile, Tractor], tuple[Field, ...]]
    check: Callable[[Facts], Iterable[Finding]]
    visits: bool = False
