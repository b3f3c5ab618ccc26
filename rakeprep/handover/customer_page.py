"""Page one, the customer's: what he got, what he may do with it, what is still open, what comes next."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from rakeprep.calculations import Impossible
from rakeprep.calculations.speed import PtoGear, engine_speed
from rakeprep.handover import blocks
from rakeprep.handover.paper import NOTHING, Paper
from rakeprep.handover.visits import a_day, follow_ups, handed_over
from rakeprep.jobs.assess import OpenPoint, Readiness
from rakeprep.jobs.chapters import kind_of, roles_of
from rakeprep.jobs.open_job import ROLE_WORDS
from rakeprep.model.entry import Entry
from rakeprep.model.field import USE_WORDS, Use
from rakeprep.model.verdict import Verdict
from rakeprep.store.chain import short_code
from rakeprep.text import Message, joined, msg, plural, verbatim
from rakeprep.units import Amount, Kind

FIELDS = {"technician": "technician", "checker": "", "customer": "customer"}
DECLARES = {
    "technician": msg("I prepared and measured this machine as recorded here."),
    "checker": msg("I looked again at what cannot be undone: cut, pins, wheel nuts, latches."),
    "customer": msg("I have machine and papers, did the topics above myself, and know the open points."),
}
DECLARES_LATER = {
    "technician": msg("I did and measured what is recorded here."),
    "checker": msg("I looked again at what cannot be undone."),
    "customer": msg("I was told what was done, and know the open points."),
}
SHORT_BAR = {
    Use.FIELD: msg("no field work"),
    Use.ROAD: msg("not on the road"),
    Use.PTO: msg("PTO stays off"),
}
ENGINE_STEP = Fraction(25)  # 1/min; a tractor's dial shows no less
CALL_FIELDS = ("call", "contact", "phone", "whom_to_call")
MOST_VISITS = 3
SHORT = 70  # characters of a sentence about an open point


def front(paper: Paper) -> blocks.FrontPage:
    """The customer's page."""
    opening = paper.record.opening
    kind = kind_of(paper.record.chapter)
    chapter = msg("job {job} · chapter “{chapter}”", job=opening.job, chapter=kind.title)
    visit = msg("job {job} · {day}", job=opening.job, day=paper.printed_at.date())
    seat = msg("Left and right are as seen from the tractor seat.")
    named = follows(paper)
    return blocks.FrontPage(
        title=paper.say(
            msg("Handover of a rotary rake")
            if named is None
            else msg("Rotary rake, {chapter}", chapter=kind.title)
        ),
        line=paper.say(named or seat),
        aside=paper.say(chapter if named is None else visit),  # a visit's title says which chapter it is
        tag=tag(paper),
        who=who(paper),
        notice=notice(paper),
        points=open_points(paper),
        topics=topics(paper),
        settings=settings(paper),
        visits=visits(paper),
        signatures=signatures(paper),
    )


def follows(paper: Paper) -> Message | None:
    """The sentence that names the document before, or None in the first chapter."""
    before = paper.record.chapter.before
    if before is None:
        return None
    return msg("Follows the record {code} of {day}.", code=short_code(before.head), day=before.at.date())


def tag(paper: Paper) -> str:
    """The mark of a paper that is no real handover."""
    if paper.invented:
        return paper.say(msg("Invented sample data"))
    if paper.assessment.gate.readiness is Readiness.NOT_READY:
        return paper.say(msg("Draft, not handed over"))
    return ""


def who(paper: Paper) -> blocks.KeyValues:
    """Machine, customer, tractor."""
    opening, profile = paper.record.opening, paper.profile
    serial = paper.entry("arrival", "serial", "plate") or paper.entry("arrival", "serial_plate")
    machine = blocks.Pair(
        paper.say(msg("Machine")),
        paper.user(profile.machine.name),
        (
            paper.say(msg("serial number {serial}", serial=paper.user(serial.typed if serial else ""))),
            paper.user(profile.machine.designation),
        ),
    )
    customer = blocks.Pair(
        paper.say(msg("Customer")),
        paper.user(opening.customer),
        (
            paper.say(msg("order {order}", order=paper.user(opening.order))),
            paper.say(msg("handed over {day}", day=paper.day(handed_over(paper)))),
        ),
    )
    category = msg("lower links category {category}", category=paper.tractor.links.category)
    tractor = blocks.Pair(
        paper.say(msg("Tractor")),
        paper.user(paper.tractor.name),
        (paper.say(category), paper.say(msg("another tractor: ask the workshop first"))),
    )
    return blocks.KeyValues((machine, customer, tractor))


def notice(paper: Paper) -> blocks.Notice:
    """What it may be used for now."""
    gate = paper.assessment.gate
    small = paper.say(
        msg("The machine's own book, the local road law and the rules of safe work come before this sheet.")
    )
    if gate.readiness is Readiness.NOT_READY:
        says = msg("Not ready: this machine must not be used yet.")
        return blocks.Notice(Verdict.STOP, paper.say(says), small)
    free = [use for use in Use if use not in gate.barred]
    said = [msg("You may now: {uses}.", uses=use_list(free))] if free else []
    said += [not_before(paper, use) for use in Use if use in gate.barred]
    verdict = Verdict.IN_ORDER if not gate.barred else Verdict.PUT_RIGHT if free else Verdict.STOP
    return blocks.Notice(verdict, paper.say(joined(said, " ")), small)


def use_list(uses: list[Use]) -> Message:
    """Uses in a row."""
    return joined([USE_WORDS[use] for use in uses])


def not_before(paper: Paper, use: Use) -> Message:
    """What must wait for which open points."""
    points = paper.assessment.gate.open_points
    numbers = [number for number, point in enumerate(points, 1) if use in point.bars]
    return plural(
        "Not before open point {numbers} is closed: {use}.",
        "Not before open points {numbers} are closed: {use}.",
        len(numbers),
        numbers=joined([verbatim(run) for run in in_runs(numbers)]),
        use=USE_WORDS[use],
    )


def in_runs(numbers: Sequence[int]) -> list[str]:
    """Numbers in a row; three or more that count up by their first and last."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return [
        piece for run in runs for piece in ([f"{run[0]}–{run[-1]}"] if len(run) > 2 else list(map(str, run)))
    ]


def open_points(paper: Paper) -> blocks.OpenPoints:
    """What the customer takes the machine with."""
    points = paper.assessment.gate.open_points
    return blocks.OpenPoints(
        heading=paper.say(msg("Open points")),
        points=tuple(point_row(paper, number, point) for number, point in enumerate(points, 1)),
        none=paper.say(
            msg("Not settled yet: this paper is a draft.")
            if paper.assessment.gate.readiness is Readiness.NOT_READY
            else msg("None. Everything that was asked for is done.")
        ),
        more=paper.say(msg("and {count} more, listed on page 2")),
        full=paper.say(msg("shortened; in full on page 2")),
        when=paper.say(msg("by when, who")),
    )


def point_row(paper: Paper, number: int, point: OpenPoint) -> blocks.Point:
    """One open point with its reason, its day, and who left it open."""
    says = paper.say(point.says)
    return blocks.Point(
        number,
        says,
        short_of(paper, point, says),
        paper.user(point.reason),
        paper.user(point.due) if point.due else paper.say(msg("no day agreed")),
        paper.user(point.who),
        paper.say(joined([SHORT_BAR[use] for use in Use if use in point.bars], " · ")),
    )


def short_of(paper: Paper, point: OpenPoint, says: str) -> str:
    """What was found wrong, if that is short; else the question and its place."""
    state = paper.assessment.states.get(point.slot)
    if state is None or (state.findings and len(says) <= SHORT):
        return says
    named = [state.task.field.label]
    if state.task.place.key:
        named.append(state.task.place.name)
    return paper.say(joined(named))


def topics(paper: Paper) -> blocks.Topics:
    """What the customer did with his own hands."""
    rows = []
    for number, state in enumerate(paper.states("handover", "topic"), 1):
        entry = paper.record.value(state.task.slot)
        initials = paper.user(entry.typed) if entry else ""
        rows.append(blocks.Topic(number, paper.say(state.task.place.name), initials))
    return blocks.Topics(
        paper.say(msg("Shown, and done by you with your own hands")),
        paper.say(msg("your initials")),
        tuple(rows),
    )


def settings(paper: Paper) -> blocks.Settings:
    """Numbers for the tractor seat."""
    pairs = (pto(paper), tyres(paper), tines(paper), on_the_road(paper), headstock(paper), oil(paper))
    return blocks.Settings(paper.say(msg("Your settings")), "", pairs)


def pto(paper: Paper) -> blocks.Pair:
    """PTO speed, its ceiling, and the engine speeds of this tractor that go with them."""
    setting = paper.profile.settings
    speed = paper.shown(Amount(setting.working_speed.exact, Kind.ROTATION, "rpm"))
    ceiling = paper.shown(Amount(setting.speed_ceiling.exact, Kind.ROTATION, "rpm", toward="down"))
    value = paper.say(msg("{speed}, never above {ceiling}", speed=bare(speed), ceiling=ceiling))
    lines = []
    for gear in paper.tractor.pto:
        if gear.type != paper.profile.driveline.pto_type:
            continue
        try:
            at = PtoGear(gear.key, gear.engine.value, gear.speed.value)
            low, high = (engine_speed(at, s.value) for s in (setting.working_speed, setting.speed_ceiling))
        except Impossible:
            continue
        slow = paper.shown(Amount(low, Kind.ROTATION, "rpm", step=ENGINE_STEP))
        most = paper.shown(Amount(high, Kind.ROTATION, "rpm", step=ENGINE_STEP, toward="down"))
        lines.append(
            paper.say(
                msg(
                    "{gear}: engine {speed}, at most {most}",
                    gear=gear.key,
                    speed=bare(slow),
                    most=most,
                )
            )
        )
    return blocks.Pair(paper.say(msg("PTO speed for raking")), value, tuple(lines[:2]))


def bare(shown: str) -> str:
    """A value without its unit, where the next one has it."""
    return shown.rpartition(" ")[0] or shown


def tyres(paper: Paper) -> blocks.Pair:
    """Pressure of each tyre set, cold."""
    values = dict.fromkeys(paper.both_of(tyre.pressure) for tyre in paper.profile.tyre)
    sizes = {
        pair: ", ".join(paper.user(t.size) for t in paper.profile.tyre if paper.both_of(t.pressure) == pair)
        for pair in values
    }
    pairs = list(values)[:2]
    value = paper.say(joined([verbatim(own) for own, _ in pairs], " / "))
    others = paper.say(joined([verbatim(other) for _, other in pairs if other], " / "))
    where = paper.say(joined([verbatim(sizes[pair]) for pair in pairs], " / ")) if len(pairs) > 1 else ""
    return blocks.Pair(paper.say(msg("Tyre pressure, cold")), value, tuple(x for x in (others, where) if x))


def tines(paper: Paper) -> blocks.Pair:
    """Height of the lowest tine tips in the field."""
    own, other = paper.both_of(paper.profile.settings.tine_clearance, "up")
    tolerance, _ = paper.both_of(paper.profile.settings.clearance_tolerance, "down")
    more = paper.say(msg("± {tolerance} is right", tolerance=tolerance))
    return blocks.Pair(
        paper.say(msg("Tine tips above firm ground")), own, tuple(x for x in (other, more) if x)
    )


def on_the_road(paper: Paper) -> blocks.Pair:
    """Width and height, as measured where they were measured."""
    width = measured(paper, "width", ("transport_width", "road_width"))
    height = measured(paper, "width", ("transport_height", "road_height"))
    book = paper.profile.width
    sizes = []
    for entry, sourced in ((width, book.transport_width), (height, book.transport_height)):
        exact = entry.exact if entry is not None and entry.exact is not None else sourced.exact
        sizes.append(paper.both(exact, Kind.LENGTH, "m", "up", Fraction(1, 100)))
    own = msg("{width} wide, {height} high", width=sizes[0][0], height=sizes[1][0])
    other = f"{sizes[0][1]} × {sizes[1][1]}"
    both = width is not None and height is not None
    source = msg("measured") if both else msg("by the machine's book")
    return blocks.Pair(paper.say(msg("On the road")), paper.say(own), (other, paper.say(source)))


def measured(paper: Paper, step: str, names: tuple[str, ...]) -> Entry | None:
    """The largest reading under one of these names, at any place."""
    found = [
        entry
        for entry in paper.record.entries.values()
        if entry.slot.step == step and entry.slot.field in names and entry.exact is not None
    ]
    return max(found, key=lambda entry: entry.exact or Fraction(0), default=None)


def headstock(paper: Paper) -> blocks.Pair:
    """Height of the hitch pins at work."""
    label = paper.say(msg("Hitch pins above ground"))
    read = [paper.entry("hitch", "height", side) for side in ("left", "right")]
    known = [e.exact for e in read if e is not None and e.exact is not None]
    unit = paper.profile.hitch.height.typed.unit
    if len(known) == len(read):
        own, other = paper.both(sum(known, Fraction(0)) / len(known), Kind.LENGTH, unit)
        return blocks.Pair(label, own, (other, paper.say(msg("measured on your tractor"))))
    own, other = paper.both_of(paper.profile.hitch.height)
    return blocks.Pair(label, own, (other, paper.say(msg("by the machine's book"))))


def oil(paper: Paper) -> blocks.Pair:
    """What oil is in the gearboxes, and when it is changed first."""
    grades = list(dict.fromkeys(paper.user(gearbox.oil) for gearbox in paper.profile.gearbox))
    change = msg("first change after {hours} h", hours=paper.profile.service.first_oil_change)
    return blocks.Pair(paper.say(msg("Gearbox oil")), " / ".join(grades[:2]) or NOTHING, (paper.say(change),))


def visits(paper: Paper) -> blocks.Visits:
    """When somebody has to look again, and whom to call."""
    return blocks.Visits(
        paper.say(msg("What comes next")),
        paper.say(msg("days at {hours} of work a day", hours=Amount(a_day(paper), Kind.DURATION, "h"))),
        tuple(visit_pairs(paper)),
        call(paper),
    )


def visit_pairs(paper: Paper) -> Iterator[blocks.Pair]:
    """The next visits with their days."""
    first = paper.record.chapter.before is None
    today = paper.printed_at.date()
    still = [v for v in follow_ups(paper) if first or v.day is None or v.day > today]
    for visit in still[:MOST_VISITS]:
        label = paper.say(msg("after {hours} h of work", hours=visit.hours))
        value = NOTHING if visit.day is None else paper.say(msg("about {day}", day=paper.day(visit.day)))
        yield blocks.Pair(label, value, (paper.say(visit.work),))


def call(paper: Paper) -> blocks.Pair:
    """Whom to call."""
    states = [s for name in CALL_FIELDS for s in paper.states("handover", name)]
    entries = [paper.record.value(state.task.slot) for state in states]
    said = next((entry.typed for entry in entries if entry is not None), "")
    value = paper.user(said or paper.workshop or paper.record.opening.technician)
    stop = msg("odd noise or leak: stop first, then call")
    return blocks.Pair(paper.say(msg("whom to call")), value, (paper.say(stop),))


def signatures(paper: Paper) -> blocks.SignatureBoxes:
    """The three who sign, under the open points."""
    return blocks.SignatureBoxes(
        paper.say(msg("Signed under the open points above")),
        tuple(signature_box(paper, role) for role in roles_of(paper.record.chapter)),
    )


def signature_box(paper: Paper, role: str) -> blocks.SignatureBox:
    """One signature, or its empty box."""
    signature = paper.record.signatures.get(role)
    chapter = paper.record.chapter
    receives = chapter.before is None or kind_of(chapter).customer
    title, declares = paper.say(ROLE_WORDS[role]), paper.say((DECLARES if receives else DECLARES_LATER)[role])
    if signature is None:
        below = paper.say(msg("not signed yet"))
        return blocks.SignatureBox(title, declares, below, field=FIELDS[role])
    name = paper.user(signature.name)
    when = paper.moment(signature.at)
    typed = name if signature.typed or not signature.strokes else ""
    alt = paper.say(msg("drawn signature of {name}", name=name))
    return blocks.SignatureBox(title, declares, name, signature.strokes, typed, FIELDS[role], alt, when)
