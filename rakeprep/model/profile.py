"""A machine's data file as frozen classes: what the shop must know of it, each value with its source.

Every table of the TOML file is one class here; its keys, kinds and meanings are declared on the
fields, and ``profiles`` checks a file against them. Lengths ahead are positive forward of the hitch
pins' line, lengths to the right positive to the right, both as seen from the tractor seat.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from rakeprep.model.schema import quantity, table, words
from rakeprep.model.source import Source, Sourced
from rakeprep.model.tractor import Acting
from rakeprep.units import Kind


class Side(StrEnum):
    """Left or right as seen from the tractor seat, or neither."""

    LEFT = "left"
    RIGHT = "right"
    NEITHER = ""


class Turning(StrEnum):
    """Sense of rotation seen from above."""

    CLOCKWISE = "clockwise"
    ANTICLOCKWISE = "anticlockwise"


class Unpowered(StrEnum):
    """What the lift does when the one-rotor hold has no electric power."""

    BOTH_RISE = "both rise"
    NEITHER_RISES = "neither rises"
    LEFT_ONLY = "left only"
    RIGHT_ONLY = "right only"


class LampKind(StrEnum):
    """How a lamp makes its light; faults of the earth wire look different."""

    BULB = "bulb"
    LED = "led"


class BoardKind(StrEnum):
    """What a board or sign looks like, so that it can be drawn; not said in older data files."""

    BOARD = "board"
    EMBLEM = "emblem"
    REFLECTOR = "reflector"
    LAMP = "lamp"
    SPEED = "speed sign"
    SAFETY = "safety sign"
    NOT_SAID = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineSelf:
    """Which machine it is, and its masses."""

    name: str = words("what the machine is called in this workshop")
    designation: str = words("designation as on the plate")
    edition: str = words("date or edition of this data file")
    invented: bool = words("true when this is no real machine", default=False)
    mass: Sourced = quantity(Kind.MASS, "mass ready for work")
    pins_to_axle: Sourced = quantity(Kind.LENGTH, "hitch pins to transport axle")
    centre_of_gravity: Sourced = quantity(Kind.LENGTH, "centre of gravity behind the hitch pins")


@dataclass(frozen=True, slots=True, kw_only=True)
class Package:
    """A package or bundle that comes with the machine."""

    key: str = words("short code")
    name: str = words("what it is")
    pieces: int = words("how many", default=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rotor:
    """One rotor."""

    turning: Turning = words("clockwise or anticlockwise, seen from above")
    arms: int = words("number of tine arms")
    fitted: int = words("arms already fitted on delivery")
    tines_per_arm: int = words("double tines on each arm")
    tip_circle: Sourced = quantity(Kind.LENGTH, "diameter of the circle of the tine tips")
    behind_pins: Sourced = quantity(Kind.LENGTH, "rotor centre behind the hitch pins")
    beside_middle: Sourced = quantity(Kind.LENGTH, "rotor centre beside the middle line")
    clock_places: tuple[int, ...] = words("hours of the clock at which the tines are down, in order")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rotors:
    """Both rotors."""

    left: Rotor = table("left rotor")
    right: Rotor = table("right rotor")


@dataclass(frozen=True, slots=True, kw_only=True)
class PinJoint:
    """A family of joints that are bolted for shipping only and get slotted spring pins."""

    key: str = words("short code")
    name: str = words("which joints")
    holes: int = words("spring pins needed")
    shipping_bolts: int = words("bolts fitted for shipping, all to come out")
    pin: int = words("nominal diameter of the slotted spring pin (ISO 8752), a name and no length")
    inner_pin: int = words("nominal diameter of a second pin inside the first; 0 for none", default=0)
    bolt: str = words("thread of the shipping bolt, such as M12")
    bolt_class: str = words("property class on the bolt's head (ISO 898-1)")
    protrusion: Sourced | None = quantity(Kind.LENGTH, "largest protrusion of the pin", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class BoltJoint:
    """A family of bolted joints that stay bolted and are tightened to a torque."""

    key: str = words("short code")
    name: str = words("which joints")
    count: int = words("number of bolts")
    thread: str = words("such as M16 or M16x1.5")
    bolt_class: str = words("property class on the bolt's head (ISO 898-1)")
    condition: str = words("dry or oiled")
    torque: Sourced = quantity(Kind.TORQUE, "tightening torque")


@dataclass(frozen=True, slots=True, kw_only=True)
class Hitch:
    """How it couples to the tractor."""

    category: str = words("category of the lower-link pins (ISO 730): 1, 2, 3N, 3 …")
    pin: Sourced = quantity(Kind.LENGTH, "diameter of the lower-link pins")
    span: Sourced = quantity(Kind.LENGTH, "distance between the pin shoulders")
    height: Sourced = quantity(Kind.LENGTH, "height of the pins above the ground at work (nominal)")
    height_tolerance: Sourced = quantity(Kind.LENGTH, "how far the height may be off")
    level_tolerance: Sourced = quantity(Kind.LENGTH, "largest height difference of the two pins")
    tyre_clearance: Sourced = quantity(Kind.LENGTH, "smallest clearance of tractor tyres at full turn")
    guard_clearance: Sourced = quantity(Kind.LENGTH, "smallest clearance of links to driveline guard")
    front_axle_share: Sourced = quantity(
        Kind.RATIO, "smallest share of the tractor's own mass that stays on its front axle"
    )
    lift_reserve: Sourced = quantity(Kind.RATIO, "lift capacity needed, as a multiple of the load")


@dataclass(frozen=True, slots=True, kw_only=True)
class SideShaft:
    """A shaft from the splitter to a rotor, with its overrunning clutch."""

    key: str = words("short code")
    name: str = words("which shaft")
    rotor: Side = words("left or right")
    clutch: bool = words("true when it has an overrunning clutch", default=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Driveline:
    """The shaft from the tractor to the machine."""

    pto_type: int = words("PTO type of ISO 500-1 at the tractor end: 1, 2, 3 or 4")
    wide_angle_end: str = words("end with the wide-angle joint: tractor, machine or none")
    closed: Sourced = quantity(Kind.LENGTH, "closed length, groove to groove")
    half_a: Sourced = quantity(Kind.LENGTH, "tractor half, groove to open tube end")
    half_b: Sourced = quantity(Kind.LENGTH, "machine half, groove to open tube end")
    guard_a: Sourced = quantity(Kind.LENGTH, "guard tube of the tractor half")
    guard_b: Sourced = quantity(Kind.LENGTH, "guard tube of the machine half")
    guard_to_groove: Sourced = quantity(Kind.LENGTH, "groove to the start of the guard tube, each end")
    guard_overlap: Sourced = quantity(Kind.LENGTH, "smallest overlap of the guards")
    end_reserve: Sourced = quantity(Kind.LENGTH, "free travel left at the shortest place")
    overlap: Sourced = quantity(Kind.LENGTH, "smallest overlap of the tubes at the longest place")
    plain_joint: Sourced = quantity(Kind.ANGLE, "largest angle of the plain joint under load")
    wide_joint: Sourced = quantity(Kind.ANGLE, "largest angle of the wide-angle joint, turning")
    side_shaft: tuple[SideShaft, ...] = table("each shaft from the splitter to a rotor", default=())


@dataclass(frozen=True, slots=True, kw_only=True)
class Circuit:
    """One hydraulic function: its hoses, its rams, and what it needs of a remote."""

    key: str = words("short code")
    name: str = words("what it moves")
    acting: Acting = words("single or double")
    float_needed: bool = words("true when it needs float or free return", default=False)
    hoses: tuple[str, ...] = words("labels of the hoses, the one that extends or lifts first")
    rams: int = words("number of rams in parallel")
    bore: Sourced = quantity(Kind.LENGTH, "bore")
    rod: Sourced = quantity(Kind.LENGTH, "rod diameter")
    stroke: Sourced = quantity(Kind.LENGTH, "stroke")
    flow: Sourced = quantity(Kind.FLOW, "flow to be set")
    pressure: Sourced = quantity(Kind.PRESSURE, "pressure needed")
    drift: Sourced | None = quantity(Kind.LENGTH, "largest sinking in 10 min, raised", default=None)
    slowest_lowering: Sourced | None = quantity(
        Kind.TIME, "shortest time in which it may come down", default=None
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class RotorHold:
    """The valve block that lifts one rotor and holds the other."""

    unpowered: Unpowered = words("what rises when it has no electric power")
    current: Sourced = quantity(Kind.CURRENT, "current of its coils together")


@dataclass(frozen=True, slots=True, kw_only=True)
class Hydraulics:
    """Circuits and hold."""

    time_tolerance: Sourced = quantity(Kind.RATIO, "how far a function time may be off")
    circuit: tuple[Circuit, ...] = table("each circuit")
    rotor_hold: RotorHold | None = table("the one-rotor hold, where fitted", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lamp:
    """One lamp; its functions in the words of ISO 1724."""

    key: str = words("short code")
    name: str = words("which lamp")
    side: Side = words("left or right", default=Side.NEITHER)
    function: str = words("left-turn, right-turn, left-tail, right-tail, stop, fog or plate")
    power: Sourced = quantity(Kind.POWER, "electric power")


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A board, emblem, reflector or sign that has to be there and readable."""

    key: str = words("short code")
    name: str = words("which one")
    road: bool = words("true when the road needs it", default=False)
    kind: BoardKind = words(
        "board, emblem, reflector, lamp, speed sign or safety sign", default=BoardKind.NOT_SAID
    )

    @property
    def drawn_as(self) -> BoardKind:
        """Its kind; where that is not said, the one that its key or name speaks of, or else a safety sign
        if the road does not need it."""
        if self.kind is not BoardKind.NOT_SAID:
            return self.kind
        said = f"{self.key} {self.name}".casefold()
        named = (kind for kind in BoardKind if kind is not BoardKind.NOT_SAID and kind.split()[0] in said)
        return next(named, BoardKind.NOT_SAID if self.road else BoardKind.SAFETY)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lights:
    """Lamps and their wiring."""

    socket: str = words("standard of the plug, such as ISO 1724")
    kind: LampKind = words("bulb or led")
    largest_drop: Sourced = quantity(Kind.VOLTAGE, "largest voltage drop, battery to lamp")
    lamp: tuple[Lamp, ...] = table("each lamp")


@dataclass(frozen=True, slots=True, kw_only=True)
class TyreSet:
    """Wheels that have the same tyre."""

    key: str = words("short code")
    size: str = words("size and marking on the tyre, a name and no length")
    pressure: Sourced = quantity(Kind.PRESSURE, "inflation pressure, cold, at work")
    tolerance: Sourced = quantity(Kind.PRESSURE, "how far the pressure may be off")
    nut_torque: Sourced = quantity(Kind.TORQUE, "tightening torque of the wheel nuts")
    nuts: int = words("nuts on each wheel")
    width: Sourced = quantity(Kind.LENGTH, "tyre width")
    diameter: Sourced = quantity(Kind.LENGTH, "tyre diameter")


@dataclass(frozen=True, slots=True, kw_only=True)
class Wheel:
    """One wheel and where it stands."""

    key: str = words("code: rotor letter, row from the front, side")
    name: str = words("its place in words")
    rotor: Side = words("left, right, or left out for the transport axle", default=Side.NEITHER)
    tyre: str = words("key of its tyre set")
    castor: bool = words("true when it swings", default=False)
    behind_pins: Sourced = quantity(Kind.LENGTH, "behind the hitch pins")
    right_of_middle: Sourced = quantity(Kind.LENGTH, "right of the middle line; left is negative")


@dataclass(frozen=True, slots=True, kw_only=True)
class Latch:
    """A transport latch."""

    key: str = words("short code")
    name: str = words("which latch")
    rotor: Side = words("left, right or neither", default=Side.NEITHER)
    depth: Sourced = quantity(Kind.LENGTH, "depth of a latch that is fully in")
    tolerance: Sourced = quantity(Kind.LENGTH, "how much less still counts as fully in")


@dataclass(frozen=True, slots=True, kw_only=True)
class Guard:
    """A guard that has to be closed and fastened before any run."""

    key: str = words("short code")
    name: str = words("which guard")
    driveline: bool = words("true for the guard of a turning shaft", default=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gearbox:
    """A gearbox and its oil."""

    key: str = words("short code")
    name: str = words("which gearbox")
    rotor: Side = words("left, right or neither", default=Side.NEITHER)
    oil: str = words("grade, such as SAE 80W-90 GL-4")
    volume: Sourced = quantity(Kind.VOLUME, "oil volume")
    volume_tolerance: Sourced | None = quantity(
        Kind.VOLUME, "how far a filling may be off the oil volume", default=None
    )
    plug_beside_centre: Sourced = quantity(Kind.LENGTH, "level plug beside the gearbox centre")
    largest_tilt: Sourced = quantity(Kind.ANGLE, "largest tilt at which the level may be read")


@dataclass(frozen=True, slots=True, kw_only=True)
class GreasePoint:
    """Nipples of one kind."""

    key: str = words("short code")
    name: str = words("which nipples")
    nipples: int = words("how many")
    grams: Sourced = quantity(Kind.MASS, "grease for each")
    hours: int = words("interval in running hours")


@dataclass(frozen=True, slots=True, kw_only=True)
class Turnbuckle:
    """Sets a rotor's front against its rear."""

    pitches: Sourced = quantity(Kind.LENGTH, "left-hand plus right-hand pitch: length per turn")
    lever: Sourced = quantity(Kind.LENGTH, "lever on which it acts")
    shorter_raises: str = words("what comes up when it gets shorter: front or rear")


@dataclass(frozen=True, slots=True, kw_only=True)
class ChassisPins:
    """Sets a rotor's left against its right, hole by hole."""

    step: Sourced = quantity(Kind.LENGTH, "distance of two holes")
    track: Sourced = quantity(Kind.LENGTH, "track on which it acts")


@dataclass(frozen=True, slots=True, kw_only=True)
class HeightCrank:
    """Sets the height of a rotor."""

    pitch: Sourced = quantity(Kind.LENGTH, "travel per turn")
    ratio: Sourced = quantity(Kind.RATIO, "tine travel per travel of the crank")


@dataclass(frozen=True, slots=True, kw_only=True)
class Headstock:
    """Tilts both rotors together, by the height of the hitch pins."""

    step: Sourced = quantity(Kind.LENGTH, "smallest change of the hitch pins' height that can be set")
    rigid: bool = words("true when the rotors hang rigidly on the frame", default=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Levelling:
    """What a rotor's plane should be, and what sets it."""

    front_lower: Sourced = quantity(Kind.LENGTH, "front lower than rear, across the tip circle")
    tolerance: Sourced = quantity(Kind.LENGTH, "how far that may be off")
    cross_tolerance: Sourced = quantity(Kind.LENGTH, "how far left and right may differ across the circle")
    arm_tolerance: Sourced = quantity(Kind.LENGTH, "how far one arm may stand out of the row")
    turnbuckle: Turnbuckle | None = table("front against rear", default=None)
    chassis_pins: ChassisPins | None = table("left against right", default=None)
    height_crank: HeightCrank | None = table("height", default=None)
    headstock: Headstock | None = table("both rotors together, by the hitch", default=None)
    track_tolerance: Sourced = quantity(Kind.ANGLE, "largest steering error of the transport axle")
    toe_tolerance: Sourced = quantity(Kind.LENGTH, "largest toe, rim edge to rim edge")


@dataclass(frozen=True, slots=True, kw_only=True)
class WidthAndLift:
    """Working width, limiter, transport size."""

    narrow: Sourced = quantity(Kind.LENGTH, "smallest working width on the gauge")
    wide: Sourced = quantity(Kind.LENGTH, "largest working width on the gauge")
    gauge_tolerance: Sourced = quantity(Kind.LENGTH, "how far the gauge may be off")
    headland_clearance: Sourced = quantity(Kind.LENGTH, "tine clearance at the headland, at least")
    transport_width: Sourced = quantity(Kind.LENGTH, "transport width")
    transport_height: Sourced = quantity(Kind.LENGTH, "transport height, all arms fitted")
    road_width: Sourced = quantity(Kind.LENGTH, "largest width on local roads: check the local law")
    road_height: Sourced = quantity(Kind.LENGTH, "largest height on local roads: check the local law")


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldSettings:
    """Settings for the field. Working speed, its ceiling and the gearbox's rating are three limits."""

    tine_clearance: Sourced = quantity(Kind.LENGTH, "lowest tine tips above firm ground in the field")
    clearance_tolerance: Sourced = quantity(Kind.LENGTH, "how far that may be off")
    ratio: Sourced = quantity(Kind.RATIO, "PTO turns for one rotor turn")
    working_speed: Sourced = quantity(Kind.ROTATION, "PTO speed for raking")
    speed_ceiling: Sourced = quantity(Kind.ROTATION, "highest PTO speed for raking")
    gearbox_rating: Sourced = quantity(Kind.ROTATION, "highest PTO speed of the gearbox")
    ground_speed: Sourced = quantity(Kind.SPEED, "usual ground speed")
    largest_travel: Sourced | None = quantity(
        Kind.LENGTH, "longest forward travel per arm for a clean sweep", default=None
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class TestRun:
    """What a first run may show."""

    __test__ = False

    duration: Sourced = quantity(Kind.TIME, "length of the run")
    hottest: Sourced = quantity(Kind.TEMPERATURE, "highest surface temperature")
    side_difference: Sourced = quantity(
        Kind.TEMPERATURE_DIFFERENCE, "largest difference of left and right gearbox"
    )
    coast_ratio: Sourced = quantity(Kind.RATIO, "smallest ratio of shorter to longer coast-down")
    retorque_angle: Sourced = quantity(Kind.ANGLE, "largest turn of a nut at the second torque")


@dataclass(frozen=True, slots=True, kw_only=True)
class Service:
    """When somebody has to come back."""

    visits: tuple[int, ...] = words("running hours of the visits, such as [1, 10, 50]")
    first_oil_change: int = words("running hours of the first gearbox oil change")
    hours_a_day: int = words("running hours expected a day in the season")


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """Everything known of one machine."""

    sources: dict[str, Source] = table("where the values come from")
    machine: MachineSelf = table("which machine it is, and its masses")
    package: tuple[Package, ...] = table("each package that comes with it")
    rotor: Rotors = table("both rotors")
    pin_joint: tuple[PinJoint, ...] = table("joints bolted for shipping only", default=())
    bolt_joint: tuple[BoltJoint, ...] = table("joints tightened to a torque", default=())
    hitch: Hitch = table("how it couples to the tractor")
    driveline: Driveline = table("the shaft from the tractor to the machine")
    hydraulics: Hydraulics = table("circuits and hold")
    lights: Lights = table("lamps and their wiring")
    board: tuple[Board, ...] = table("boards, emblems, reflectors and signs", default=())
    tyre: tuple[TyreSet, ...] = table("tyres and their pressures")
    wheel: tuple[Wheel, ...] = table("each wheel")
    guard: tuple[Guard, ...] = table("each guard")
    latch: tuple[Latch, ...] = table("each transport latch", default=())
    gearbox: tuple[Gearbox, ...] = table("each gearbox")
    grease: tuple[GreasePoint, ...] = table("each kind of grease nipple", default=())
    levelling: Levelling = table("rotor planes and what sets them")
    width: WidthAndLift = table("working width, limiter, transport size")
    settings: FieldSettings = table("settings for the field")
    test_run: TestRun = table("what a first run may show")
    service: Service = table("when somebody has to come back")

    @property
    def name(self) -> str:
        """What the machine is called."""
        return self.machine.name

    def tyre_of(self, wheel: Wheel) -> TyreSet:
        """The tyre set of a wheel (the loader makes sure that it exists)."""
        return next(t for t in self.tyre if t.key == wheel.tyre)

    def rotor_at(self, side: Side) -> Rotor:
        """The rotor on one side."""
        return self.rotor.left if side is Side.LEFT else self.rotor.right
