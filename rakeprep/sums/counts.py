"""Counting parts: fasteners, crates, and the hand of every arm."""

from __future__ import annotations

from rakeprep.calculations import demand
from rakeprep.calculations.arms import Coil, Hand, Rotor, check_crate, check_hands, check_spin
from rakeprep.calculations.arms import Spin as SpinWay
from rakeprep.calculations.balance import fastener_balance
from rakeprep.model.verdict import Verdict
from rakeprep.sums.parts import choice, count
from rakeprep.sums.shape import Answer, Choice, Form, Given, Input, Result, Sum
from rakeprep.text import Message, msg

ROTORS = (Choice("left", msg("left rotor")), Choice("right", msg("right rotor")))
HANDS = (Choice("L", msg("left-hand arm")), Choice("R", msg("right-hand arm")))
COILS = (Choice("winds", msg("winds up")), Choice("opens", msg("opens")), Choice("-", msg("not looked at")))
SPINS = (Choice("cw", msg("clockwise")), Choice("ccw", msg("anticlockwise")))
OF_HAND = {"L": Hand.LEFT, "R": Hand.RIGHT}
OF_COIL = {"winds": Coil.WINDS_UP, "opens": Coil.OPENS}
OF_SPIN = {"cw": SpinWay.CLOCKWISE, "ccw": SpinWay.ANTICLOCKWISE}


def balance(given: Given) -> Answer:
    """C3."""
    found = fastener_balance(
        *(given.count(key) for key in ("bolts-shipped", "bolts-out", "holes", "pins-in"))
    )
    says = msg("Shipping bolts and pins balance.") if not found.reasons else msg("The counts do not balance.")
    results = (
        Result("bolts-left", msg("shipping bolts still in the machine"), found.bolts_left),
        Result("holes-open", msg("holes without a pin"), found.holes_open),
    )
    working = (
        msg(
            "Bolts: {shipped} shipped − {out} out. Pins: {holes} holes − {pins} in.",
            shipped=given.count("bolts-shipped"),
            out=given.count("bolts-out"),
            holes=given.count("holes"),
            pins=given.count("pins-in"),
        ),
    )
    return Answer(says, results, found.verdict, (*found.reasons, *working))


def crate(given: Given) -> Answer:
    """C3 and C4."""
    left, right = given.count("left-found"), given.count("right-found")
    wanted = given.count("left-wanted"), given.count("right-wanted")
    sentences = check_crate([Hand.LEFT] * left + [Hand.RIGHT] * right, *wanted)
    return judged(sentences, msg("The arms are the right ones."), msg("The arms are not the right ones."))


def judged(sentences: tuple[Message, ...], right: Message, wrong: Message) -> Answer:
    """An answer whose reasons are sentences."""
    verdict = Verdict.PUT_RIGHT if sentences else Verdict.IN_ORDER
    results = (Result("found", msg("things to put right"), len(sentences)),)
    return Answer(wrong if sentences else right, results, verdict, sentences)


def hands(given: Given) -> Answer:
    """C4."""
    rotor = Rotor.LEFT if given.word("rotor") == "left" else Rotor.RIGHT
    arms = given.words("arms")
    fitted = {n: OF_HAND[word] for n, word in enumerate(arms, 1)}
    coils = None
    if given.has("coils"):
        words = given.words("coils")
        demand(
            len(words) == len(arms), msg("There must be as many coils as arms; type - where not looked at.")
        )
        coils = {n: OF_COIL[word] for n, word in enumerate(words, 1) if word in OF_COIL}
    wanted = OF_HAND[given.word("wanted")]
    check = check_hands(rotor, fitted, wanted, given.count("count"), coils)
    sentences = list(check.says)
    if given.has("turns") and (wrong := check_spin(rotor, OF_SPIN[given.word("turns")])) is not None:
        sentences.append(wrong)
    return judged(
        tuple(sentences),
        msg("Every arm has the right hand."),
        msg("Arms, coils or rotation are not as they must be."),
    )


SUMS = (
    Sum(
        "fastener-balance",
        msg("shipping bolts out and spring pins in"),
        msg("Every shipping bolt must lie on the bench, every hole must have its pin."),
        (
            count("bolts-shipped", msg("joints bolted for shipping only")),
            count("bolts-out", msg("bolts lying on the bench")),
            count("holes", msg("holes that need a pin")),
            count("pins-in", msg("pins driven in")),
        ),
        balance,
        {"bolts-shipped": "14", "bolts-out": "13", "holes": "26", "pins-in": "26"},
        msg("Counts of one machine."),
        msg("Arithmetic."),
    ),
    Sum(
        "arm-crate",
        msg("loose arms counted by hand"),
        msg("What lies in the crate against what should have come."),
        (
            count("left-found", msg("left-hand arms found")),
            count("right-found", msg("right-hand arms found")),
            count("left-wanted", msg("left-hand arms that should be there")),
            count("right-wanted", msg("right-hand arms that should be there")),
        ),
        crate,
        {"left-found": "7", "right-found": "5", "left-wanted": "6", "right-wanted": "6"},
        msg("Counts up to 9999."),
        msg("Arithmetic."),
    ),
    Sum(
        "arm-hands",
        msg("hand of every arm, coils and rotation of one rotor"),
        msg("All arms of a rotor have one hand; the hay must wind every coil up, never open it."),
        (
            choice("rotor", msg("which rotor, seen from the tractor seat"), ROTORS),
            choice("wanted", msg("hand that belongs on this rotor, from the machine's data"), HANDS),
            count("count", msg("arms this rotor has places for"), "12"),
            Input("arms", msg("hand of arm 1, 2, … from the paint mark"), Form.WORDS, choices=HANDS),
            Input(
                "coils",
                msg("coil of arm 1, 2, … when a tip is pushed back"),
                Form.WORDS,
                choices=COILS,
                optional=True,
            ),
            choice("turns", msg("rotation seen from above"), SPINS, optional=True),
        ),
        hands,
        {
            "rotor": "right",
            "wanted": "R",
            "arms": "R,R,R,R,R,R,L,R,R,R,R,R",
            "turns": "ccw",
        },
        msg("Delivery to the middle; arms counted clockwise seen from above on both rotors."),
        msg("Spring design practice: torsion springs are loaded in the direction that winds them up."),
    ),
)
