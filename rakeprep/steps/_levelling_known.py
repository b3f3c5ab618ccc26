"""What the clearances of a rotor say as a whole, for its pictures."""

from __future__ import annotations

from dataclasses import dataclass

from rakeprep.calculations import Impossible
from rakeprep.model.facts import Facts
from rakeprep.model.profile import Side
from rakeprep.steps._levelling_plane import Measured, measured
from rakeprep.steps._levelling_tilts import Tilt, front_rear, right_left


@dataclass(frozen=True, slots=True)
class Known:
    """The plane of a rotor and both its tilts."""

    plane: Measured
    front: Tilt | None
    right: Tilt | None


def known(facts: Facts, side: Side) -> Known | None:
    """The plane of a rotor and its tilts; None while too few places are read."""
    try:
        plane = measured(facts, side)
        return None if plane is None else Known(plane, front_rear(facts, plane), right_left(facts, plane))
    except Impossible:
        return None
