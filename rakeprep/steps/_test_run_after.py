"""After the run: leaks, second torque, wheel nuts, latches and hubs after a short pull."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from rakeprep.calculations import Impossible
from rakeprep.calculations.torque import recheck
from rakeprep.model.facts import Facts
from rakeprep.model.field import Field, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import Answer, judged
from rakeprep.steps._reading import LARGEST, cannot_tell, shown
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind

NO_WORK = frozenset({Use.PTO, Use.FIELD})
FIELD = frozenset({Use.FIELD})
ROAD = frozenset({Use.ROAD})
APART = math.radians(30)  # rule of thumb: no clamp was left
ANSWERS = {
    "leaks": {
        "dry": Answer(Verdict.IN_ORDER, msg("{place}: dry.")),
        "damp": Answer(
            Verdict.MEASURE_AGAIN,
            msg("{place}: damp; that may be left from filling."),
            msg("Wipe it dry, run once more, pressure off, and look again with cardboard."),
            FIELD,
        ),
        "drips": Answer(
            Verdict.PUT_RIGHT,
            msg("{place}: leaks."),
            msg("Pressure off, engine off, key out. Tighten or seal, then run and look again."),
            NO_WORK,
        ),
    },
    "wheel_nuts": {
        "yes": Answer(Verdict.IN_ORDER, msg("{place}: nuts pulled again, none moved.")),
        "no": Answer(
            Verdict.PUT_RIGHT,
            msg("{place}: nuts not pulled again, or one of them moved."),
            msg("Wheel on the ground: look for paint in the seats, tighten, and pull again after 1 h."),
            ROAD,
        ),
    },
    "pull_latch": {
        "yes": Answer(Verdict.IN_ORDER, msg("{place}: fully in after the pull.")),
        "no": Answer(
            Verdict.STOP,
            msg("{place}: not fully in after the pull."),
            msg("No driving. Lower to the ground, nobody near, and look at hook, pin and spring."),
            ROAD,
        ),
    },
    "pull_hub": {
        "yes": Answer(Verdict.IN_ORDER, msg("{place}: cool, quiet, no play.")),
        "no": Answer(
            Verdict.PUT_RIGHT,
            msg("{place}: warm, noisy or with play."),
            msg("Chock the machine, wheel off the ground on a rated stand: bearing play, grease, brake."),
            ROAD,
        ),
    },
}
WORDS = {
    Verdict.IN_ORDER: (msg("{place}: the nut moved {angle}; it has settled."), None),
    Verdict.MEASURE_AGAIN: (
        msg("{place}: the nut moved {angle}, {limit} or more."),
        msg("It is tight now. Run once more, then pull again: it must hardly move."),
    ),
    Verdict.PUT_RIGHT: (
        msg("{place}: the nut moved {angle}: no clamp was left."),
        msg(
            "Take the joint apart and look: paint or burr in between, wrong thread, stretched bolt. New bolt."
        ),
    ),
}


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterator[Finding]:
    """What is seen and felt once everything stands still."""
    for key, answers in ANSWERS.items():
        if key in by_key:
            yield from judged(facts, by_key[key], answers)
    if "second_torque" in by_key:
        for place in by_key["second_torque"].places:
            yield from moved(facts, place)


def moved(facts: Facts, place: Place) -> Iterator[Finding]:
    """How far the worst nut of one family went on."""
    angle, limit = facts.number("second_torque", place.key), facts.profile.test_run.retorque_angle
    noted = facts.value(limit)
    if angle is None or noted is None or abs(angle) > LARGEST:
        return
    about = (facts.slot("second_torque", place.key),)
    note_below = math.radians(noted)
    apart = max(APART, note_below)
    try:
        verdict, _ = recheck(math.radians(angle), note_below, apart)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    says, todo = WORDS[verdict]
    say = {
        "place": place.name,
        "angle": Amount(angle, Kind.ANGLE, "°"),
        "limit": shown(limit),
        "apart": Amount(math.degrees(apart), Kind.ANGLE, "°"),
    }
    working = msg("Below {limit} noted, up to {apart} tighten and try again, above take apart.", **say)
    text = Message(says.text, tuple(say.items()))
    bars = NO_WORK if verdict is Verdict.PUT_RIGHT else frozenset()
    yield Finding(verdict, about, text, todo, (working,), limit.source, bars)
