"""Remotes, the one-rotor hold, and the lights."""

from __future__ import annotations

from rakeprep.calculations import demand, lamp_faults, lights, remotes
from rakeprep.calculations.lamp_faults import COMMAND_WORDS, LAMP_WORDS, State
from rakeprep.calculations.lights import Board, Command, Lamp
from rakeprep.calculations.remotes import Feature, Need, Remote, Switch
from rakeprep.model.verdict import Verdict
from rakeprep.sums.parts import amount, at, choice, length
from rakeprep.sums.shape import Answer, Choice, Form, Given, Input, Result, Sum
from rakeprep.sums.working import spread
from rakeprep.text import Message, joined, msg, verbatim
from rakeprep.units import Kind

FEATURES = (
    Choice("double", msg("double acting: two couplings")),
    Choice("single", msg("single acting: one coupling")),
    Choice("float", msg("float, or comes down by its weight")),
    Choice("free", msg("free return")),
    Choice("detent", msg("lever that stays put")),
)
SWITCHES = (
    Choice("both", msg("both rotors")),
    Choice("left", msg("left only")),
    Choice("right", msg("right only")),
    Choice("off", msg("no power")),
)
OF_SWITCH = {
    "both": Switch.BOTH,
    "left": Switch.LEFT_ONLY,
    "right": Switch.RIGHT_ONLY,
    "off": Switch.NO_POWER,
}
RISES = (
    Choice("both", msg("both rise")),
    Choice("left", msg("the left one rises")),
    Choice("right", msg("the right one rises")),
    Choice("none", msg("none rises")),
)
OF_RISE = {"both": (True, True), "left": (True, False), "right": (False, True), "none": (False, False)}
COMMANDS = {
    "left-turn": Command.LEFT_TURN,
    "right-turn": Command.RIGHT_TURN,
    "left-tail": Command.LEFT_TAIL,
    "right-tail": Command.RIGHT_TAIL,
    "stop": Command.STOP,
    "fog": Command.FOG,
}
LAMPS = {
    "left-turn": Lamp.LEFT_TURN,
    "right-turn": Lamp.RIGHT_TURN,
    "left-tail": Lamp.LEFT_TAIL,
    "right-tail": Lamp.RIGHT_TAIL,
    "left-stop": Lamp.LEFT_STOP,
    "right-stop": Lamp.RIGHT_STOP,
    "fog": Lamp.FOG,
    "plate": Lamp.PLATE,
}
SEEN = (
    *(Choice(key, LAMP_WORDS[lamp]) for key, lamp in LAMPS.items()),
    *(Choice(f"{key}-dim", msg("{lamp}, dim", lamp=LAMP_WORDS[lamp])) for key, lamp in LAMPS.items()),
    Choice("none", msg("no lamp at all")),
)
PLATES = (Choice("5", msg("contact 5")), Choice("7", msg("contact 7")), Choice("none", msg("no plate lamp")))
FEATURE_WORDS = remotes.FEATURE_WORDS


def need_of(key: str, features: tuple[str, ...]) -> Need:
    """A circuit as typed."""
    words = set(features)
    return Need(
        key,
        double_acting="double" in words,
        float_return="float" in words,
        free_return="free" in words,
        detent="detent" in words,
    )


def remote_of(key: str, features: tuple[str, ...]) -> Remote:
    """A remote as typed; double acting unless it says single."""
    words = set(features)
    return Remote(
        key,
        double_acting="single" not in words,
        float_position="float" in words,
        free_return="free" in words,
        detent="detent" in words,
    )


def match(given: Given) -> Answer:
    """C19."""
    needs = [need_of(*each) for each in given.circuits("circuits")]
    offers = [remote_of(*each) for each in given.circuits("remotes")]
    found = remotes.assign(needs, offers)
    rows = tuple((verbatim(circuit), verbatim(remote)) for circuit, remote in found.pairs)
    results = (
        Result("served", msg("circuits that have a remote"), len(found.pairs)),
        Result("missing", msg("circuits without"), len(found.missing)),
        Result("spare", msg("remotes to spare"), len(found.spare)),
    )
    says = msg("Every circuit has its remote.") if found.complete else found.missing[0].says
    unproven = tuple(
        msg(
            "{circuit}: {feature} is not known of this tractor and taken on trust.",
            circuit=key,
            feature=words_of(what),
        )
        for key, what in found.unproven
    )
    working = (
        *(each.says for each in found.missing),
        *unproven,
        msg("Every possible assignment was weighed."),
    )
    verdict = Verdict.IN_ORDER if found.complete else Verdict.PUT_RIGHT
    return Answer(says, results, verdict, working, rows)


def words_of(feature: Feature) -> Message:
    """A feature in words."""
    return FEATURE_WORDS[feature]


def hold(given: Given) -> Answer:
    """C19, the one-rotor hold."""
    left, right = OF_RISE[given.word("rises")]
    without = OF_RISE[given.word("without-power")] if given.has("without-power") else None
    seen = remotes.hold(OF_SWITCH[given.word("switch")], left, right, without)
    verdict = Verdict.IN_ORDER if seen.as_expected else Verdict.PUT_RIGHT
    results = (Result("as-expected", msg("as expected"), msg("yes") if seen.as_expected else msg("no")),)
    return Answer(seen.says, results, verdict)


# ---------------------------------------------------------------------- lights


def functions(given: Given) -> Answer:
    """The contacts of the socket."""
    head = (
        msg("contact"),
        msg("code"),
        msg("function"),
        msg("colour"),
        msg("least cross-section"),
        msg("lights"),
    )
    board = Board(plate_pin=plate_of(given))
    lit = {lights.PIN_OF[command]: lights.expected(board, command) for command in Command}
    rows = tuple(
        (
            msg("{n}", n=pin.number),
            verbatim(pin.code),
            pin.function,
            pin.colour,
            msg("{area}", area=at(pin.area, Kind.AREA, "mm²")),
            lamp_words(lit.get(pin.number, frozenset())),
        )
        for pin in lights.PINS
    )
    says = msg("Seven-pin socket, 12 V. Switch on one function at a time.")
    return Answer(says, (Result("contacts", msg("contacts"), len(rows)),), None, (), (head, *rows))


def lamp_words(lamps: frozenset[Lamp]) -> Message:
    """Lamps in a row."""
    words = [LAMP_WORDS[lamp] for lamp in Lamp if lamp in lamps]
    return joined(words) if words else msg("none of its own")


def plate_of(given: Given) -> int | None:
    """The contact of the plate lamp."""
    word = given.word("plate")
    return None if word == "none" else int(word)


def drop(given: Given) -> Answer:
    """C20, voltage lost on the wires."""
    long, current, area = (given.estimate(key) for key in ("length", "current", "area"))
    earth_current = given.number("earth-current") if given.has("earth-current") else None
    earth_area = given.number("earth-area") if given.has("earth-area") else None
    warm = given.number("temperature")

    def whole(l: float, i: float, a: float) -> float:  # noqa: E741
        return lights.voltage_drop(l, i, a, earth_current, earth_area, warm).total

    lost = lights.voltage_drop(long.value, current.value, area.value, earth_current, earth_area, warm)
    total = spread(whole, long, current, area)
    results = [
        Result("feed", msg("lost on the feed"), lost.feed, Kind.VOLTAGE, "V"),
        Result("earth", msg("lost on the earth"), lost.back, Kind.VOLTAGE, "V"),
        Result("total", msg("lost together"), total.value, Kind.VOLTAGE, "V", total.doubt or None),
    ]
    says = msg("{u} are lost on sound wires.", u=at(total.value, Kind.VOLTAGE, "V"))
    verdict = None
    if given.has("measured"):
        verdict = given.estimate("measured").within(high=total.value + given.number("extra"))
        says = {
            Verdict.IN_ORDER: msg("No more is lost than on sound wires."),
            Verdict.MEASURE_AGAIN: msg("Too close to what sound wires lose to tell."),
        }.get(verdict, msg("Far more is lost than on sound wires: look for a bad contact."))
    working = (
        msg(
            "ΔU = ρ · L · I / A for feed and earth, L = {l}, I = {i}, A = {a}.",
            l=at(long.value, Kind.LENGTH, "m"),
            i=at(current.value, Kind.CURRENT, "A"),
            a=at(area.value, Kind.AREA, "mm²"),
        ),
    )
    return Answer(says, tuple(results), verdict, working)


def pattern(given: Given) -> Answer:
    """C20, what the lamps did."""
    board = Board(led=given.word("lamps") == "led", plate_pin=plate_of(given))
    seen: dict[Command, dict[Lamp, State]] = {}
    for key, command in COMMANDS.items():
        if given.has(key):
            words = set(given.words(key)) - {"none"}
            seen[command] = {
                lamp: state_of(name, words) for name, lamp in LAMPS.items() if lamp in board.lamps
            }
            demand(
                all(LAMPS[word.removesuffix("-dim")] in board.lamps for word in words),
                msg("A lamp is named that this machine does not have."),
            )
    found = lamp_faults.find(board, seen)
    rows = tuple((each.fault.says, msg("mismatch {n}", n=each.score)) for each in found.best)
    results = (
        Result("best", msg("mismatch of the best fit"), found.best[0].score),
        Result("gap", msg("how far the second lies behind"), found.gap),
    )
    says = msg("Every lamp does what it should.") if found.healthy else found.best[0].fault.says
    verdict = Verdict.IN_ORDER if found.healthy else Verdict.PUT_RIGHT
    looked = joined([COMMAND_WORDS[command] for command in seen])
    working = (msg("Looked at: {what}.", what=looked), msg("Next: {test}", test=found.next_test))
    return Answer(says, results, verdict, working, rows)


def state_of(name: str, words: set[str]) -> State:
    """What one lamp did."""
    if name in words:
        return State.ON
    return State.DIM if f"{name}-dim" in words else State.OFF


def seen_at(key: str, command: Command) -> Input:
    """What was lit at one command."""
    label = msg("lamps lit at {command} alone", command=COMMAND_WORDS[command])
    return Input(key, label, Form.WORDS, choices=SEEN, optional=True)


PLATE = choice("plate", msg("where the plate lamp is wired"), PLATES, "5")
SUMS = (
    Sum(
        "remote-match",
        msg("which hose goes to which remote"),
        msg("Every circuit gets a remote that has all it asks for, or the missing feature is named."),
        (
            Input("circuits", msg("the machine's circuits"), Form.CIRCUITS, choices=FEATURES),
            Input("remotes", msg("the tractor's remotes"), Form.CIRCUITS, choices=FEATURES),
        ),
        match,
        {"circuits": "W:double LIFT:float", "remotes": "R1:double R2:double+float R3:double"},
        msg("At most 12 of each."),
        msg("The assignment problem, solved exactly."),
    ),
    Sum(
        "one-rotor-hold",
        msg("the switch that holds one rotor down"),
        msg("What rose when the lift lever was put to up; from the seat, nobody near."),
        (
            choice("switch", msg("where the switch stood"), SWITCHES),
            choice("rises", msg("what rose"), RISES),
            choice(
                "without-power",
                msg("what rises with the plug out, from the machine's data"),
                RISES,
                optional=True,
            ),
        ),
        hold,
        {"switch": "left", "rises": "right"},
        msg("One place of the switch at a time."),
        msg("Logic; causes are common workshop practice."),
    ),
    Sum(
        "lamp-functions",
        msg("contacts of the seven-pin socket"),
        msg("Function, colour, cross-section, and the lamps that must light."),
        (PLATE,),
        functions,
        {"plate": "5"},
        msg("12 V, seven contacts."),
        msg("ISO 1724; the plate lamp is on 5 or 7 as wired."),
    ),
    Sum(
        "wire-drop",
        msg("voltage lost on the way to the lamps"),
        msg("Feed and common earth apart; the earth carries every lamp that burns."),
        (
            length("length", msg("plug to lamps, one way"), unit="m"),
            amount("current", msg("current in the feed"), Kind.CURRENT, "A"),
            amount("area", msg("copper of the feed"), Kind.AREA, "mm²"),
            amount(
                "earth-current",
                msg("current in the earth, if not the same"),
                Kind.CURRENT,
                "A",
                optional=True,
            ),
            amount(
                "earth-area", msg("copper of the earth, if not the same"), Kind.AREA, "mm²", optional=True
            ),
            amount("temperature", msg("of the wires"), Kind.TEMPERATURE, "°C", "20 °C"),
            amount(
                "measured",
                msg("measured loss"),
                Kind.VOLTAGE,
                "V",
                optional=True,
                instrument="multimeter",
            ),
            amount("extra", msg("loss at sound contacts"), Kind.VOLTAGE, "V", "0.3 V"),
        ),
        drop,
        {"length": "8m", "current": "3.5A", "area": "1.5mm²", "measured": "2V"},
        msg("Copper from −40 °C to 150 °C."),
        msg("Ohm's law; IEC 60028 for copper (from memory); 0.3 V is a rule of thumb."),
    ),
    Sum(
        "lamp-pattern",
        msg("which wiring fault makes this pattern of lamps"),
        msg("Switch on one function at a time; name the lamps that light, with -dim where they only glow."),
        (
            *(seen_at(key, command) for key, command in COMMANDS.items()),
            choice(
                "lamps",
                msg("what is fitted"),
                (Choice("bulb", msg("bulbs")), Choice("led", msg("LED"))),
                "bulb",
            ),
            PLATE,
        ),
        pattern,
        {"left-turn": "right-turn", "right-turn": "left-turn"},
        msg("Wiring of the seven-pin socket."),
        msg("ISO 1724; nearest pattern by the sum of mismatches."),
    ),
)
