"""Where the main things of one machine and tractor stand, in millimetres from between the hitch pins."""

from __future__ import annotations

from dataclasses import dataclass

from rakeprep.drawing.shapes import Point, Shape
from rakeprep.model.profile import Profile, Rotor, Side
from rakeprep.model.source import Sourced
from rakeprep.model.tractor import Tractor

BEAM = 250.0  # width of the frame's beam; the profile does not say, so this is only looks


@dataclass(frozen=True, slots=True)
class Part:
    """A part that can be chosen: its key, the group it is shown with, and where it is.

    ``beside`` is where its mark belongs, if that is not the same place.
    """

    key: str
    group: str
    at: Point
    beside: Point | None = None

    @property
    def mark(self) -> Point:
        """Where its mark belongs."""
        return self.at if self.beside is None else self.beside


@dataclass(frozen=True, slots=True)
class Piece:
    """Some shapes and the parts that they make up."""

    shapes: tuple[Shape, ...] = ()
    parts: tuple[Part, ...] = ()


@dataclass(frozen=True, slots=True)
class RotorAt:
    """One rotor on the drawing."""

    side: Side
    rotor: Rotor
    centre: Point
    radius: float

    @property
    def key(self) -> str:
        """The part of the whole rotor."""
        return f"rotor-{self.side.value}"

    @property
    def hand(self) -> int:
        """-1 on the left, +1 on the right."""
        return -1 if self.side is Side.LEFT else 1


@dataclass(frozen=True, slots=True)
class Measures:
    """What several pieces of the drawing need."""

    left: RotorAt
    right: RotorAt
    splitter: Point
    axle: float
    rear: float
    half_rear: float
    half_span: float
    tractor_axle: float
    wheelbase: float
    pto: Point
    input: Point

    @property
    def rotors(self) -> tuple[RotorAt, RotorAt]:
        """Both rotors, left first."""
        return self.left, self.right


def together(*pieces: Piece) -> Piece:
    """Several pieces as one, the later ones on top."""
    return Piece(
        tuple(shape for piece in pieces for shape in piece.shapes),
        tuple(part for piece in pieces for part in piece.parts),
    )


def mm(length: Sourced) -> float:
    """A length of a data file in millimetres."""
    return length.value * 1000


def measures(profile: Profile, tractor: Tractor) -> Measures:
    """The places of one machine behind one tractor."""
    left, right = (_rotor_at(profile, side) for side in (Side.LEFT, Side.RIGHT))
    splitter = (0.0, (left.centre[1] + right.centre[1]) / 2)
    axle = -mm(profile.machine.pins_to_axle)
    tractor_axle = mm(tractor.tractor.links_behind_axle)
    pto = (0.0, tractor_axle * 0.58)
    # drawn a little longer than closed, as it stands at work
    reach = min(mm(profile.driveline.closed) * 1.15, max(300.0, (pto[1] - splitter[1]) * 0.5))
    return Measures(
        left=left,
        right=right,
        splitter=splitter,
        axle=axle,
        rear=_rear(profile, axle),
        half_rear=mm(profile.width.transport_width) / 2,
        half_span=mm(profile.hitch.span) / 2,
        tractor_axle=tractor_axle,
        wheelbase=mm(tractor.tractor.wheelbase),
        pto=pto,
        input=(0.0, pto[1] - reach),
    )


def _rotor_at(profile: Profile, side: Side) -> RotorAt:
    rotor = profile.rotor_at(side)
    hand = -1 if side is Side.LEFT else 1
    centre = (hand * mm(rotor.beside_middle), -mm(rotor.behind_pins))
    return RotorAt(side, rotor, centre, mm(rotor.tip_circle) / 2)


def _rear(profile: Profile, axle: float) -> float:
    """Where the bar of the lamps is: behind the axle and behind its wheels."""
    ends = [
        -mm(wheel.behind_pins) - mm(profile.tyre_of(wheel).diameter) / 2
        for wheel in profile.wheel
        if wheel.rotor is Side.NEITHER
    ]
    return min([axle - 300, *ends]) - 300
