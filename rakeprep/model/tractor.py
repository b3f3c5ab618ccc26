"""The customer's tractor, as its data file tells it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from rakeprep.model.schema import quantity, table, words
from rakeprep.model.source import Source, Sourced
from rakeprep.units import Kind


class Acting(StrEnum):
    """Single acting (one hose, weight brings it back) or double acting (two hoses)."""

    SINGLE = "single"
    DOUBLE = "double"


@dataclass(frozen=True, slots=True, kw_only=True)
class TractorSelf:
    """Who it is, and what it weighs."""

    name: str = words("what the tractor is called in this workshop")
    edition: str = words("date or edition of this data file")
    invented: bool = words("true when this is no real tractor", default=False)
    front_axle: Sourced = quantity(Kind.MASS, "mass on the front axle, without machine, with driver")
    rear_axle: Sourced = quantity(Kind.MASS, "mass on the rear axle, without machine, with driver")
    wheelbase: Sourced = quantity(Kind.LENGTH, "front axle to rear axle")
    links_behind_axle: Sourced = quantity(Kind.LENGTH, "rear axle to the lower-link balls")
    lift_capacity: Sourced = quantity(Kind.MASS, "lift capacity at the lower hitch points (ISO 789-2)")
    ballast_ahead: Sourced | None = quantity(
        Kind.LENGTH, "front ballast's centre of gravity ahead of the front axle", default=None
    )
    max_front_axle: Sourced | None = quantity(
        Kind.MASS, "largest mass allowed on the front axle", default=None
    )
    max_rear_axle: Sourced | None = quantity(Kind.MASS, "largest mass allowed on the rear axle", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Links:
    """The lower links."""

    category: str = words("hitch category of the balls: 1, 2, 3N, 3 …")
    ball_hole: Sourced = quantity(Kind.LENGTH, "hole of the lower-link balls")
    span: Sourced = quantity(Kind.LENGTH, "distance between the balls' inner faces")


@dataclass(frozen=True, slots=True, kw_only=True)
class PtoGear:
    """One PTO gear: what the stub turns at a stated engine speed."""

    key: str = words("short name, such as 540 or 540E")
    type: int = words("PTO type of ISO 500-1: 1, 2, 3 or 4")
    speed: Sourced = quantity(Kind.ROTATION, "rated speed of the PTO")
    engine: Sourced = quantity(Kind.ROTATION, "engine speed at that PTO speed")


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoteValve:
    """One remote valve with its couplings."""

    key: str = words("number or letter on the coupling")
    acting: Acting = words("single or double")
    float_position: bool = words("true when the lever has a float position or free return")
    flow: Sourced = quantity(Kind.FLOW, "largest flow")
    pressure: Sourced = quantity(Kind.PRESSURE, "largest pressure")
    adjustable: bool = words("true when its flow can be set", default=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Electric:
    """Sockets at the rear."""

    lights: str = words("standard of the lamp socket, such as ISO 1724")
    supply: bool = words("true when there is a switched 12 V socket")
    fuse: Sourced | None = quantity(Kind.CURRENT, "fuse of the switched 12 V socket", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tractor:
    """Everything known of the tractor."""

    sources: dict[str, Source] = table("where the values come from")
    tractor: TractorSelf = table("who it is, and what it weighs")
    links: Links = table("the lower links")
    pto: tuple[PtoGear, ...] = table("each PTO gear")
    remote: tuple[RemoteValve, ...] = table("each remote valve")
    electric: Electric = table("sockets at the rear")

    @property
    def name(self) -> str:
        """What the tractor is called."""
        return self.tractor.name
