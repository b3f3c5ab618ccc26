"""What was found missing, wrong or damaged, as a list for the parts counter."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from rakeprep.handover import blocks
from rakeprep.handover.answers_shown import limited
from rakeprep.handover.blank_forms import margins
from rakeprep.handover.form_blocks import Listing
from rakeprep.handover.paper import NOTHING, Paper
from rakeprep.jobs.assess import State
from rakeprep.model.entry import Entry, How
from rakeprep.model.profile import LampKind, PinJoint, Side
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, joined, msg, plural, verbatim
from rakeprep.units import Amount, Kind


@dataclass(frozen=True, slots=True)
class Part:
    """One line: what it is, how many belong there, what was found, how many to order (0: look first)."""

    what: Message
    wanted: Message
    found: Message
    order: int = 1


Rule = Callable[[Paper, State, Entry], Part | None]
ONE = verbatim("1")
PAPER = {
    "arrival.declaration": msg("Declaration of conformity"),
    "arrival.declaration_language": msg("Declaration in customer's language"),
    "arrival.book_language": msg("Book in the customer's language"),
}


def found_by(state: State) -> Message | None:
    """What the worst finding on a question says, if something is wrong there."""
    bad = [f for f in state.findings if f.verdict.rank >= Verdict.PUT_RIGHT.rank]
    return max(bad, key=lambda f: f.verdict.rank).says if bad else None


def piece(order: int, name: Message | None = None) -> Rule:
    """Something at a place that is missing, broken or not readable, as its check says."""

    def rule(paper: Paper, state: State, entry: Entry) -> Part | None:
        says = found_by(state)
        place = state.task.place
        what = name or (place.name if place.key else state.task.field.label)
        return None if says is None else Part(what, ONE, says, order)

    return rule


def chosen(paper: Paper, state: State, entry: Entry) -> Message:
    """The answer in its words."""
    options = [o.label for o in state.task.field.options if o.key in entry.chosen]
    return joined(options) if options else verbatim(entry.typed)


def package(paper: Paper, state: State, entry: Entry) -> Part | None:
    """Fewer pieces, or more, than the delivery note has."""
    known = next((p for p in paper.profile.package if p.key == entry.slot.place), None)
    if known is None or entry.exact is None or entry.exact == known.pieces:
        return None
    return counted(verbatim(known.name), known.pieces, entry)


def counted(what: Message, wanted: int, entry: Entry) -> Part:
    """So many wanted, so many found."""
    found = entry.exact if entry.exact is not None else 0
    short = max(wanted - int(min(max(found, 0), wanted)), 0)
    return Part(what, verbatim(str(wanted)), verbatim(entry.typed), short)


def damage(paper: Paper, state: State, entry: Entry) -> Part | None:
    """A damaged place, with what was written about it."""
    if "sound" in entry.chosen:
        return None
    note = paper.entry("arrival", "damage_note", entry.slot.place)
    what = verbatim(note.typed) if note is not None else msg("damaged part, see the pictures of the job")
    return Part(what, NOT_SAID, chosen(paper, state, entry), 1 if "reject" in entry.chosen else 0)


NOT_SAID = verbatim(NOTHING)


def paper_part(paper: Paper, state: State, entry: Entry) -> Part | None:
    """A paper that is missing or is another machine's."""
    if entry.chosen & {"right", "yes"}:
        return None
    return Part(PAPER[f"{entry.slot.step}.{entry.slot.field}"], ONE, chosen(paper, state, entry))


def pins(paper: Paper, state: State, entry: Entry) -> Part | None:
    """Holes without a spring pin."""
    joint = next((j for j in paper.profile.pin_joint if j.key == entry.slot.place), None)
    if joint is None or entry.exact is None or entry.exact >= joint.holes:
        return None
    return counted(pin(joint), joint.holes, entry)


def pin_size(paper: Paper, state: State, entry: Entry) -> Part | None:
    """A bag with pins of another size."""
    joint = next((j for j in paper.profile.pin_joint if j.key == entry.slot.place), None)
    if joint is None or found_by(state) is None:
        return None
    read = Amount(entry.exact or 0, Kind.LENGTH, entry.unit or "mm")
    return Part(pin(joint), verbatim(str(joint.holes)), msg("pins of {size}", size=read), joint.holes)


def by_hand(paper: Paper, state: State, entry: Entry) -> Part | None:
    """A pin that falls in: it is the wrong one, or its hole is worn."""
    joint = next((j for j in paper.profile.pin_joint if j.key == entry.slot.place), None)
    says = found_by(state)
    return None if joint is None or says is None else Part(pin(joint), verbatim(str(joint.holes)), says, 0)


def pin(joint: PinJoint) -> Message:
    """The spring pin of a joint."""
    return msg("slotted spring pin {size} mm (ISO 8752): {joint}", size=joint.pin, joint=joint.name)


def arm(paper: Paper, state: State, entry: Entry) -> Part | None:
    """An arm of the wrong hand."""
    left = state.task.place.rotor == Side.LEFT.value
    wanted, other = ("left", "right") if left else ("right", "left")
    if other not in entry.chosen:
        return None
    what = msg("tine arm, left-hand") if wanted == "left" else msg("tine arm, right-hand")
    return Part(what, ONE, chosen(paper, state, entry))


def loose(paper: Paper, state: State, entry: Entry) -> Part | None:
    """Loose arms that are missing."""
    side = Side(entry.slot.place)
    rotor = paper.profile.rotor_at(side)
    wanted = rotor.arms - rotor.fitted
    if entry.exact is None or entry.exact >= wanted:
        return None
    what = msg("tine arm, left-hand") if side is Side.LEFT else msg("tine arm, right-hand")
    return counted(what, wanted, entry)


def tines(paper: Paper, state: State, entry: Entry) -> Part | None:
    """Double tines missing on an arm."""
    wanted = paper.profile.rotor_at(Side(state.task.place.rotor)).tines_per_arm
    if entry.exact is None or entry.exact >= wanted:
        return None
    return counted(msg("double tine"), wanted, entry)


def wheel(paper: Paper, state: State, entry: Entry) -> Part | None:
    """A wheel with another tyre than belongs there."""
    known = next((w for w in paper.profile.wheel if w.key == entry.slot.place), None)
    if known is None or found_by(state) is None:
        return None
    size = paper.profile.tyre_of(known).size
    return Part(msg("wheel with tyre {size}", size=size), ONE, verbatim(entry.typed))


def lamps(paper: Paper, state: State, entry: Entry) -> Part | None:
    """Lamps of a function that stayed dark; the wiring may be at fault."""
    fitted = [lamp for lamp in paper.profile.lights.lamp if lamp.function == entry.slot.place]
    dark = [lamp for lamp in fitted if lamp.key not in entry.chosen]
    if not dark or found_by(state) is None:
        return None
    names = joined([verbatim(lamp.name) for lamp in dark])
    watts = joined([verbatim(w) for w in dict.fromkeys(lamp.power.typed.text for lamp in dark)])
    what = (
        msg("bulb 12 V {power}: {lamps}", power=watts, lamps=names)
        if paper.profile.lights.kind is LampKind.BULB
        else msg("LED lamp {power}: {lamps}", power=watts, lamps=names)
    )
    wanted = verbatim(str(len(fitted)))
    return Part(what, wanted, msg("dark; the wiring may be at fault, look at it first"), len(dark))


RULES: Mapping[str, Rule] = {
    "arrival.packages": package,
    "arrival.damage": damage,
    "arrival.declaration": paper_part,
    "arrival.declaration_language": paper_part,
    "arrival.book_language": paper_part,
    "fasteners.pins_in": pins,
    "fasteners.pin_size": pin_size,
    "fasteners.by_hand": by_hand,
    "hitch.clip": piece(0),
    "hitch.pin": piece(0),
    "driveline.chain": piece(0),
    "hydraulics.leak": piece(0),
    "lights.socket": piece(0),
    "lights.lit": lamps,
    "lights.boards": piece(1),
    "lights.other_boards": piece(1),
    "tyres.size": wheel,
    "tyres.castor": piece(0),
    "arms.loose": loose,
    "arms.hand": arm,
    "arms.tines": tines,
    "guards.guard_free": piece(0),
    "guards.chain_holds": piece(0),
    "guards.cord": piece(0),
    "guards.signs": piece(1),
    "oil.vent": piece(1, msg("vent plug of the gearbox")),
    "test_run.leaks": piece(0),
    "handover.papers": piece(1),
}


def parts(paper: Paper) -> Listing:
    """The list for the parts counter."""
    opening, machine = paper.record.opening, paper.profile.machine
    serial = paper.entry("arrival", "serial", "plate")
    rows = tuple(row(paper, number, *each) for number, each in enumerate(wanted(paper), 1))
    head = (
        pair(paper, msg("Machine"), machine.name, verbatim(machine.designation)),
        pair(paper, msg("Serial number"), serial.typed if serial else ""),
        pair(paper, msg("Order"), opening.order, msg("for {customer}", customer=opening.customer)),
        pair(paper, msg("Job"), opening.job, msg("state of {at}", at=paper.printed_at)),
    )
    made: list[blocks.Block] = [
        blocks.Heading(1, paper.say(msg("Parts that are missing, wrong or damaged"))),
        blocks.KeyValues(head, 4),
    ]
    if rows:
        titles = (
            msg("no."),
            msg("part, place"),
            msg("wanted"),
            msg("found"),
            msg("to order"),
            msg("found by"),
        )
        weights = (9, 58, 16, 48, 17, 36)
        made.append(blocks.Table(tuple(paper.say(t) for t in titles), rows, weights))
    else:
        made.append(
            blocks.Paragraph(paper.say(msg("Nothing missing, wrong or damaged is entered.")), "strong")
        )
    open_yet = unanswered(paper)
    if open_yet:
        remark = plural(
            "{count} question that could show a missing part is not answered yet.",
            "{count} questions that could show a missing part are not answered yet.",
            open_yet,
        )
        made.append(blocks.Paragraph(paper.say(remark), "quiet"))
    return Listing(margins(paper, msg("Parts wanted")), tuple(made))


def pair(paper: Paper, label: Message, value: str, more: Message | None = None) -> blocks.Pair:
    """A label with its value and perhaps one line more."""
    line = paper.say(more)
    return blocks.Pair(paper.say(label), paper.user(value), (line,) if line else ())


def wanted(paper: Paper) -> Iterator[tuple[Part, State, Entry]]:
    """Every part that is wanted, in the order of the work."""
    for slot, state in paper.assessment.states.items():
        rule, entry = RULES.get(f"{slot.step}.{slot.field}"), paper.record.entries.get(slot)
        if rule is None or entry is None:
            continue
        found = rule(paper, state, entry) if entry.how is How.VALUE else not_there(state, entry)
        if found is not None:
            yield found, state, entry


def not_there(state: State, entry: Entry) -> Part:
    """Something that was said not to be on this machine, with the reason."""
    place = state.task.place
    what = place.name if place.key else state.task.field.label
    return Part(what, ONE, msg("not on this machine: {reason}", reason=entry.reason), 0)


def unanswered(paper: Paper) -> int:
    """Questions about parts that nobody has answered; those nobody misses do not count."""
    return sum(
        f"{slot.step}.{slot.field}" in RULES
        and slot not in paper.record.entries
        and state.task.field.need.value != "may"
        for slot, state in paper.assessment.states.items()
    )


def row(paper: Paper, number: int, part: Part, state: State, entry: Entry) -> tuple[blocks.Cell, ...]:
    """One line of the list."""
    order = str(part.order) if part.order else paper.say(msg("look first"))
    return (
        blocks.Cell(str(number), strong=True),
        blocks.Cell(limited(paper, paper.say(part.what), 300), where(paper, state, part)),
        blocks.Cell(limited(paper, paper.say(part.wanted), 60)),
        blocks.Cell(limited(paper, paper.say(part.found), 300), left(paper, state)),
        blocks.Cell(order, strong=part.order > 0),
        blocks.Cell("", (paper.user(entry.who), paper.moment(entry.at))),
    )


def where(paper: Paper, state: State, part: Part) -> tuple[str, ...]:
    """Step and place, where the part's name does not tell the place already."""
    step, place = state.task.step.title, state.task.place
    if not place.key or paper.say(place.name) in paper.say(part.what):
        return (paper.say(step),)
    return (paper.say(joined([step, place.name], " · ")),)


def left(paper: Paper, state: State) -> tuple[str, ...]:
    """What was agreed about it, while it is left as an open point."""
    later = paper.record.later.get(state.task.slot)
    if later is None or not state.open_point:
        return ()
    due = msg("by {due}", due=later.due) if later.due else msg("no day agreed")
    return (paper.say(msg("open point: {reason} · {due}", reason=later.reason, due=due)),)
