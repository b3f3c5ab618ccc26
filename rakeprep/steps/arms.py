"""Tine arms: hand, coil and tines of every arm, counts, and which way the rotors turn."""

from __future__ import annotations

from collections.abc import Iterable

from rakeprep.calculations import Impossible
from rakeprep.calculations.arms import Coil, Hand, HandCheck, Spin, check_crate, check_hands, check_spin
from rakeprep.calculations.arms import Rotor as ArmRotor
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Option, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile, Side
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import answered_no
from rakeprep.steps._reading import ROTOR_NAMES, ROTORS, SIDES, reading, rule_of_thumb
from rakeprep.text import Message, msg, plural, verbatim
from rakeprep.units import Amount, Kind

FIELD_WORK = frozenset({Use.FIELD})
PTO = frozenset({Use.PTO, Use.FIELD})
ON_SIDE = {Side.LEFT: ArmRotor.LEFT, Side.RIGHT: ArmRotor.RIGHT}
HAND_OF = {Side.LEFT: Hand.LEFT, Side.RIGHT: Hand.RIGHT}
COILS = {"winds": Coil.WINDS_UP, "opens": Coil.OPENS}
HANDS = (Option("left", msg("left-hand")), Option("right", msg("right-hand")))
COIL_OPTIONS = (Option("winds", msg("winds up")), Option("opens", msg("opens")))
TURNING = (Option("clockwise", msg("clockwise")), Option("anticlockwise", msg("anticlockwise")))
TIGHT = 0.003  # m at the tip, rule of thumb: an arm that is well pinned moves no more
LOOSE = 0.010  # m at the tip, rule of thumb: from here the pin is the wrong size or the hole worn


def arm_places(profile: Profile) -> tuple[Place, ...]:
    """Every arm of both rotors, counted clockwise seen from above from the paint mark on the hub."""
    return tuple(
        Place(
            key,
            msg("{rotor}, arm {code}", rotor=ROTOR_NAMES[side], code=verbatim(key)),
            f"arm-{key}",
            side.value,
        )
        for side in SIDES
        for key in arm_keys(profile, side)
    )


def arm_keys(profile: Profile, side: Side) -> tuple[str, ...]:
    """The codes of the arms of one rotor in order."""
    letter = ON_SIDE[side].value
    return tuple(f"{letter}A{number:02d}" for number in range(1, profile.rotor_at(side).arms + 1))


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of this step."""
    return (*rotor_fields(profile), *arm_fields(arm_places(profile)))


def rotor_fields(profile: Profile) -> tuple[Field, ...]:
    """The questions asked once for each rotor."""
    places = ROTORS
    loose = tuple(
        p for p in places if profile.rotor_at(Side(p.key)).fitted < profile.rotor_at(Side(p.key)).arms
    )
    counted = Field(
        "loose",
        msg("Loose arms of this hand"),
        Ask.COUNT,
        msg("Lay the loose arms out, left-hand and right-hand apart, and count those for this rotor."),
        loose,
        need=Need.MAY,
    )
    return (
        *((counted,) if loose else ()),
        Field(
            "turning",
            msg("Sense of rotation seen from above"),
            Ask.CHOICE,
            msg(
                "Engine off, key out: turn the driveline by hand the way the PTO turns it, clockwise seen "
                "from behind the tractor, and look which way the rotor goes."
            ),
            places,
            options=TURNING,
            need=Need.MUST,
            bars=PTO,
        ),
        Field(
            "free_turn",
            msg("One full turn by hand, all free"),
            Ask.CHOICE,
            msg("All arms on, guards closed. Turn the rotor once round by hand, look and listen."),
            places,
            options=YES_NO,
            bars=PTO,
        ),
    )


def arm_fields(arms: tuple[Place, ...]) -> tuple[Field, ...]:
    """The questions asked at every arm."""
    return (
        Field(
            "hand",
            msg("Hand of the arm"),
            Ask.CHOICE,
            msg(
                "Letter on the arm, or compare with its neighbours. Left-hand arms belong on the left rotor."
            ),
            arms,
            options=HANDS,
            need=Need.MUST,
            bars=FIELD_WORK,
        ),
        Field(
            "coil",
            msg("Coil when the tip is pushed back"),
            Ask.CHOICE,
            msg("Push a tip with a block the way hay would push it: the coil has to wind up, never to open."),
            arms,
            options=COIL_OPTIONS,
            need=Need.MUST,
            bars=FIELD_WORK,
        ),
        Field(
            "tines",
            msg("Double tines on the arm"),
            Ask.COUNT,
            msg("Count those fitted and fastened."),
            arms,
        ),
        Field(
            "twist",
            msg("Play at the tip after pinning"),
            Ask.QUANTITY,
            msg("Twist the arm by hand and measure at a tine tip. Usual: 0 to 3 mm."),
            arms,
            Kind.LENGTH,
            "mm",
            need=Need.MAY,
            instrument="tape",
            rests_on=("fasteners.pins_in",),
        ),
    )


def check(facts: Facts) -> Iterable[Finding]:
    """Judge rotation, hands, coils, tines and play."""
    by_key = {f.key: f for f in fields(facts.profile, facts.tractor)}
    yield from answered_no(
        facts,
        by_key["free_turn"],
        msg("{place}: a tine or arm touches on the way round."),
        msg("Find the place by hand and set guard or arm; no run before it is free."),
        bars=PTO,
    )
    yield from loose_findings(facts)
    for side in SIDES:
        yield from turning_findings(facts, side)
        yield from hand_findings(facts, side)
        for key in arm_keys(facts.profile, side):
            yield from tine_findings(facts, side, key)
            yield from twist_findings(facts, key)
    yield from balance_findings(facts)


def loose_findings(facts: Facts) -> Iterable[Finding]:
    """Count of the loose arms against those not yet fitted."""
    for side in SIDES:
        rotor = facts.profile.rotor_at(side)
        wanted, found = rotor.arms - rotor.fitted, facts.number("loose", side.value)
        if found is None or wanted <= 0:
            continue
        about = (facts.slot("loose", side.value),)
        if found == wanted:
            words = plural(
                "{rotor}: {count} loose arm, right.",
                "{rotor}: {count} loose arms, right.",
                wanted,
                rotor=ROTOR_NAMES[side],
            )
            yield Finding(Verdict.IN_ORDER, about, words)
            continue
        yield Finding(
            Verdict.PUT_RIGHT,
            about,
            msg(
                "{rotor}: {found} loose arms counted, {wanted} wanted.",
                rotor=ROTOR_NAMES[side],
                found=round(found),
                wanted=wanted,
            ),
            msg("Look among the arms for the other rotor; order what is missing at once."),
        )


def turning_findings(facts: Facts, side: Side) -> Iterable[Finding]:
    """Sense of rotation against the machine data, and whether the front sweeps to the middle."""
    seen = facts.chosen("turning", side.value) or frozenset()
    spin = next((each for each in Spin if seen == {each.value}), None)
    if spin is None:
        return
    about = (facts.slot("turning", side.value),)
    wanted = facts.profile.rotor_at(side).turning
    outward = check_spin(ON_SIDE[side], spin)
    if spin.value == wanted.value:
        says = outward or msg("{rotor}: sweeps to the middle at the front.", rotor=ROTOR_NAMES[side])
        todo = msg("The machine data want it so; make sure that they are right.") if outward else None
        yield Finding(Verdict.MEASURE_AGAIN if outward else Verdict.IN_ORDER, about, says, todo)
        return
    yield Finding(
        Verdict.PUT_RIGHT,
        about,
        outward or msg("{rotor}: turns against the machine data.", rotor=ROTOR_NAMES[side]),
        msg("Look again from above; then whether side shaft and gearbox are on their own side. No run."),
        bars=PTO,
    )


def hands_of(facts: Facts, side: Side) -> tuple[dict[int, Hand], dict[int, Coil]]:
    """What was said of hand and coil, by the number of the arm."""
    hands: dict[int, Hand] = {}
    coils: dict[int, Coil] = {}
    for number, key in enumerate(arm_keys(facts.profile, side), 1):
        for hand in Hand:
            if facts.chosen("hand", key) == frozenset({hand.value}):
                hands[number] = hand
        for word, coil in COILS.items():
            if facts.chosen("coil", key) == frozenset({word}):
                coils[number] = coil
    return hands, coils


def hand_findings(facts: Facts, side: Side) -> Iterable[Finding]:
    """Hand and coil of each arm of one rotor."""
    hands, coils = hands_of(facts, side)
    keys = arm_keys(facts.profile, side)
    if not (hands or coils):
        return
    rotor, wanted = ON_SIDE[side], HAND_OF[side]
    whole = check_hands(rotor, hands, wanted, len(keys), coils)
    if not whole.not_fitted and len(whole.wrong) == len(keys) > 1 and wanted not in hands.values():
        yield exchanged(facts, keys, whole)
        return
    for number, key in enumerate(keys, 1):
        one_hand = {number: hands[number]} if number in hands else {}
        one_coil = {number: coils[number]} if number in coils else {}
        if not one_hand and not one_coil:
            continue
        field = "hand" if one_hand else "coil"
        about = (facts.slot(field, key), facts.slot("coil" if field == "hand" else "hand", key))
        if number in whole.wrong:
            says = check_hands(rotor, one_hand, wanted, len(keys), one_coil).says[0]
            yield Finding(Verdict.PUT_RIGHT, about, says, wrong_arm(number, hands, wanted), bars=FIELD_WORK)
        elif one_hand and one_coil:
            words = msg("Arm {arm}: right hand for this rotor, coils wind up.", arm=verbatim(key))
            yield Finding(Verdict.IN_ORDER, about, words)


def wrong_arm(number: int, hands: dict[int, Hand], wanted: Hand) -> Message:
    """What to do about one arm."""
    if hands.get(number, wanted) is wanted:
        return msg("Compare with its neighbours: turn the tine over, or fit an arm of the other hand.")
    return msg("Stop fitting and look at the whole bundle; put this arm on the other rotor.")


def exchanged(facts: Facts, keys: tuple[str, ...], whole: HandCheck) -> Finding:
    """The finding when both sets of arms have changed places."""
    about = tuple(facts.slot("hand", key) for key in keys)
    todo = msg("Change both sets over; gearbox and shafts are not at fault.")
    return Finding(Verdict.PUT_RIGHT, about, whole.says[0], todo, bars=FIELD_WORK)


def balance_findings(facts: Facts) -> Iterable[Finding]:
    """Both hands counted over the whole machine, once every arm has been looked at."""
    found: list[Hand] = []
    strange: list[str] = []
    for side in SIDES:
        keys = arm_keys(facts.profile, side)
        hands, _ = hands_of(facts, side)
        if len(hands) < len(keys):
            return
        found += hands.values()
        strange += [keys[number - 1] for number, hand in hands.items() if hand is not HAND_OF[side]]
    left, right = facts.profile.rotor.left.arms, facts.profile.rotor.right.arms
    try:
        missing = check_crate(found, left, right)
    except Impossible:  # pragma: no cover - the profile's counts are never below zero
        return
    if not missing:
        return
    about = tuple(facts.slot("hand", key) for key in strange)
    yield Finding(
        Verdict.PUT_RIGHT,
        about,
        among(found, left, right),
        msg("Order the missing hand at once, and send back what is too many."),
        missing,
        bars=FIELD_WORK,
    )


def among(found: list[Hand], left: int, right: int) -> Message:
    """The count of both hands in one sentence."""
    n_left, n_right = found.count(Hand.LEFT), found.count(Hand.RIGHT)
    if n_right < right:
        return plural(
            "{count} left-hand arm is among the right-hand ones; {found} right-hand found of {wanted}.",
            "{count} left-hand arms are among the right-hand ones; {found} right-hand found of {wanted}.",
            n_left - left,
            found=n_right,
            wanted=right,
        )
    return plural(
        "{count} right-hand arm is among the left-hand ones; {found} left-hand found of {wanted}.",
        "{count} right-hand arms are among the left-hand ones; {found} left-hand found of {wanted}.",
        n_right - right,
        found=n_left,
        wanted=left,
    )


def tine_findings(facts: Facts, side: Side, key: str) -> Iterable[Finding]:
    """Tines on one arm against the machine data."""
    found, wanted = facts.number("tines", key), facts.profile.rotor_at(side).tines_per_arm
    if found is None:
        return
    about = (facts.slot("tines", key),)
    arm = verbatim(key)
    if found == wanted:
        words = plural("Arm {arm}: {count} tine, right.", "Arm {arm}: {count} tines, right.", wanted, arm=arm)
        yield Finding(Verdict.IN_ORDER, about, words)
        return
    yield Finding(
        Verdict.PUT_RIGHT,
        about,
        msg("Arm {arm}: {found} tines, {wanted} wanted.", arm=arm, found=round(found), wanted=wanted),
        msg("Fit what is missing; note it with the parts if there is none."),
        bars=FIELD_WORK,
    )


def twist_findings(facts: Facts, key: str) -> Iterable[Finding]:
    """Play of a pinned arm. Between the two limits lies more than the doubt of a tape."""
    read = reading(facts, "twist", key, "tape")
    if read is None:
        return
    say = {
        "arm": verbatim(key),
        "read": Amount(read.value, Kind.LENGTH, "mm"),
        "tight": Amount(TIGHT, Kind.LENGTH, "mm"),
        "loose": Amount(LOOSE, Kind.LENGTH, "mm"),
    }
    if read.value < 0:
        verdict, says = Verdict.MEASURE_AGAIN, msg("Arm {arm}: play cannot be below zero.", **say)
    elif read.value <= TIGHT:
        verdict, says = Verdict.IN_ORDER, msg("Arm {arm}: {read} at the tip, well pinned.", **say)
    elif read.value < LOOSE:
        verdict, says = (
            Verdict.MEASURE_AGAIN,
            msg("Arm {arm}: {read} at the tip is more than {tight}.", **say),
        )
    else:
        verdict, says = Verdict.PUT_RIGHT, msg("Arm {arm}: {read} at the tip; the arm is loose.", **say)
    todo = {
        Verdict.MEASURE_AGAIN: msg("Twist once more without bending the arm, and look at the pin."),
        Verdict.PUT_RIGHT: msg("Look for a pin of the wrong size, a worn hole, or a shipping bolt left in."),
    }
    yield Finding(
        verdict,
        (facts.slot("twist", key),),
        says,
        todo.get(verdict),
        (msg("Well pinned up to {tight}, loose from {loose}.", **say),),
        rule_of_thumb(msg("play of a pinned arm at the tine tip")),
        FIELD_WORK,
    )


STEP = Step(
    key="arms",
    order=8,
    title=msg("Tine arms"),
    about=msg("Arm by arm, by its number: one wrong hand leaves a strip of hay behind on every round."),
    cautions=(
        Caution(
            msg("Tine tips stand at eye height."),
            msg("Glasses on, tine covers on where nobody works, walk and never run."),
            "impalement",
        ),
        Caution(
            msg("An arm is heavy and falls when its bolt is drawn."),
            msg("Arm held by a hoist or a second person before the bolt comes out."),
            "crushing",
        ),
    ),
    fields=fields,
    checks=(check,),
)
