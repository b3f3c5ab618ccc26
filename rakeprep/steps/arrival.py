"""Arrival: which machine it is, what the truck did to it, whether all of it came, and the papers."""

from __future__ import annotations

from collections.abc import Iterable

from rakeprep.calculations import Impossible
from rakeprep.calculations.identity import compare, year_verdict
from rakeprep.model.entry import Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Option, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Package, Profile
from rakeprep.model.source import Source, SourceKind
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps import _arrival_data, _arrival_lifting, _arrival_notice, _arrival_time
from rakeprep.steps._judged import Answer, answered_no, judged, whole
from rakeprep.steps._reading import cannot_tell
from rakeprep.text import Message, joined, msg, verbatim

EVERYTHING = frozenset(Use)
MACHINERY = Source(SourceKind.LAW, msg("2006/42/EC; from 20 Jan 2027 Regulation (EU) 2023/1230"))

PLATE = Place("plate", msg("on the plate"))
DECLARED = Place("declaration", msg("on the declaration"))
PAPERS = (Place("note", msg("on the delivery note")), Place("order", msg("on the order")))

ZONES = (
    Place("front", msg("front and hitch"), "hitch"),
    Place("left-rotor", msg("left rotor"), "rotor-left", "left"),
    Place("right-rotor", msg("right rotor"), "rotor-right", "right"),
    Place("frame", msg("frame and welds"), "frame"),
    Place("rear-axle", msg("rear axle and wheels"), "axle"),
    Place("shafts", msg("shafts and gearboxes"), "driveline"),
    Place("hoses", msg("hoses and rams")),
    Place("electrics", msg("lamps and cables")),
    Place("paint", msg("paint")),
    Place("bundles", msg("loose bundles and boxes")),
)
DAMAGE = (
    Option("sound", msg("no damage")),
    Option("cosmetic", msg("cosmetic")),
    Option("repair", msg("to be repaired")),
    Option("reject", msg("part rejected")),
)
DAMAGED = {
    "sound": Answer(Verdict.IN_ORDER, msg("{place}: no damage.")),
    "cosmetic": Answer(
        Verdict.IN_ORDER,
        msg("{place}: cosmetic damage only."),
        msg("Photograph it and write it on the consignment note; the driver signs too."),
    ),
    "repair": Answer(
        Verdict.PUT_RIGHT,
        msg("{place}: damage to be repaired."),
        msg("Photograph it, write it on the consignment note, and repair it before this part is used."),
    ),
    "reject": Answer(
        Verdict.STOP,
        msg("{place}: a part is rejected; the machine is on hold."),
        msg("Photograph it, tell the office, and do not build on this part before it is replaced."),
        EVERYTHING,
    ),
}
DECLARATION = (
    Option("right", msg("for this machine, signed and dated")),
    Option("other", msg("for another machine")),
    Option("unsigned", msg("not signed or not dated")),
    Option("missing", msg("not there")),
)
ORDER_IT = msg("The machine may be prepared but not handed over. The office asks for the right one.")
DECLARED_AS = {
    "right": Answer(Verdict.IN_ORDER, msg("The declaration belongs to this machine.")),
    "other": Answer(Verdict.PUT_RIGHT, msg("The declaration is for another machine."), ORDER_IT, EVERYTHING),
    "unsigned": Answer(Verdict.PUT_RIGHT, msg("The declaration is not complete."), ORDER_IT, EVERYTHING),
    "missing": Answer(Verdict.PUT_RIGHT, msg("There is no declaration."), ORDER_IT, EVERYTHING),
}


def package_place(package: Package) -> Place:
    """The place of a package."""
    return Place(package.key, verbatim(package.name))


def part_places(profile: Profile) -> tuple[Place, ...]:
    """Parts with a number of their own, to be noted before grease and covers hide it."""
    gearboxes = tuple(
        Place(f"gearbox-{box.key}", verbatim(box.name), f"gearbox-{box.key}", box.rotor.value)
        for box in profile.gearbox
    )
    hold = (Place("rotor-hold", msg("valve block of the one-rotor hold")),)
    return (
        Place("driveline", msg("driveline to the tractor"), "driveline"),
        *gearboxes,
        *(hold if profile.hydraulics.rotor_hold else ()),
    )


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of this step."""
    asked = (
        *_arrival_lifting.fields(profile),
        *delivery_fields(profile),
        *identity_fields(profile),
        *paper_fields(),
        *_arrival_data.fields(profile, tractor),
        *_arrival_time.fields(),
    )
    return tuple(field for field in asked if field.places)


def delivery_fields(profile: Profile) -> tuple[Field, ...]:
    """What came, when, and in what state."""
    return (
        Field("delivered", msg("Day of delivery"), Ask.DATE, msg("The day the truck was unloaded.")),
        Field(
            "load_photo",
            msg("Picture of the load on the truck"),
            Ask.PHOTO,
            msg("Before the straps come off: corners, straps, loose bundles."),
            need=Need.MAY,
        ),
        Field(
            "packages",
            msg("Pieces counted"),
            Ask.COUNT,
            msg("Count against the delivery note while the driver is still there."),
            tuple(package_place(p) for p in profile.package),
        ),
        Field(
            "damage",
            msg("Damage"),
            Ask.CHOICE,
            msg("Walk round, covers on the tines. Look along tubes, at hoses, welds, and below gearboxes."),
            ZONES,
            options=DAMAGE,
        ),
        Field(
            "damage_note",
            msg("What is damaged"),
            Ask.TEXT,
            msg("Part and size of the damage, as it will be written to the carrier."),
            ZONES,
            need=Need.MAY,
        ),
        Field(
            "damage_photo",
            msg("Picture of the damage"),
            Ask.PHOTO,
            msg("One from near with a rule beside it, one that shows where it is."),
            ZONES,
            need=Need.MAY,
        ),
        Field(
            "holidays",
            msg("Public holidays since delivery"),
            Ask.TEXT,
            msg("Dates like 2026-04-03, with commas between. They do not count for the carrier's notice."),
            need=Need.MAY,
        ),
        Field(
            "notice_sent",
            msg("Notice to the carrier sent on"),
            Ask.DATE,
            msg("In writing. Visible damage is reported at delivery, hidden damage by the last day."),
            need=Need.MAY,
        ),
    )


def identity_fields(profile: Profile) -> tuple[Field, ...]:
    """Which machine it is."""
    see = msg("Type what you see, character by character; nothing is corrected for you.")
    return (
        Field("designation", msg("Designation on the plate"), Ask.TEXT, see, need=Need.MUST),
        Field("serial", msg("Serial number"), Ask.TEXT, see, (PLATE, DECLARED), need=Need.MUST),
        Field("serial_paper", msg("Serial number"), Ask.TEXT, see, PAPERS),
        Field("year", msg("Year of construction"), Ask.COUNT, msg("From the plate, four digits.")),
        Field(
            "plate_photo",
            msg("Picture of the plate"),
            Ask.PHOTO,
            msg("Square-on, so that each character can be read."),
            need=Need.MAY,
        ),
        Field(
            "part_serial",
            msg("Number of this part"),
            Ask.TEXT,
            msg("Note it before grease and covers hide it: a later claim may need it."),
            part_places(profile),
            need=Need.MAY,
        ),
    )


def paper_fields() -> tuple[Field, ...]:
    """The papers in the box."""
    return (
        Field(
            "declaration",
            msg("Declaration of conformity"),
            Ask.CHOICE,
            msg("Type and serial number of this very machine, directive or regulation named, signed, dated."),
            options=DECLARATION,
            need=Need.MUST,
        ),
        Field(
            "declaration_language",
            msg("Declaration in customer's language"),
            Ask.CHOICE,
            msg("In an official language of the country where the machine will work."),
            options=YES_NO,
        ),
        Field(
            "book_language",
            msg("Book in the customer's language"),
            Ask.CHOICE,
            msg("The operator's book, and the driveline's leaflet (often inside the guard tube)."),
            options=YES_NO,
        ),
    )


def check(facts: Facts) -> Iterable[Finding]:
    """Judge identity, papers, delivery, and what the machine data leave undecided."""
    by_key = {f.key: f for f in fields(facts.profile, facts.tractor)}
    yield from serial_findings(facts)
    yield from designation_findings(facts)
    yield from year_findings(facts)
    yield from _arrival_lifting.findings(facts)
    yield from package_findings(facts)
    yield from judged(facts, by_key["damage"], DAMAGED)
    yield from _arrival_notice.findings(facts, any_damage(facts))
    yield from judged(facts, by_key["declaration"], DECLARED_AS, MACHINERY)
    yield from answered_no(
        facts,
        by_key["declaration_language"],
        msg("The declaration is not in the customer's language."),
        msg("The office asks for one in that language; hand the machine over with it."),
    )
    yield from answered_no(
        facts,
        by_key["book_language"],
        msg("The operator's book or the driveline's leaflet is missing in the customer's language."),
        msg("Order it now; it goes along as an open point if it is late."),
    )
    yield from _arrival_data.findings(facts)
    yield from _arrival_time.findings(facts)


def serial_findings(facts: Facts) -> Iterable[Finding]:
    """Compare the number on each paper with the plate."""
    plate = facts.text("serial", PLATE.key)
    if not plate.strip():
        return
    others = (("serial", DECLARED), *(("serial_paper", place) for place in PAPERS))
    for field, place in others:
        typed = facts.text(field, place.key)
        if typed.strip():
            about = (facts.slot(field, place.key), facts.slot("serial", PLATE.key))
            yield compared(about, plate, typed, place.name)


def compared(about: tuple[Slot, ...], plate: str, typed: str, where: Message) -> Finding:
    """The finding about one number held against the plate."""
    try:
        differences = compare(plate, typed)
    except Impossible as reason:
        return cannot_tell(about, reason)
    if not differences:
        return Finding(Verdict.IN_ORDER, about, msg("Number {where}: the same as on the plate.", where=where))
    what = joined([d.text for d in differences[:5]], "; ")
    return Finding(
        Verdict.PUT_RIGHT,
        about,
        msg("Number {where} differs from the plate: {what}.", where=where, what=what),
        msg("Read the plate once more, square-on. If it still differs, wait until the office has asked."),
        bars=EVERYTHING,
    )


def designation_findings(facts: Facts) -> Iterable[Finding]:
    """Compare the designation with the machine data that will be used."""
    typed, wanted = facts.text("designation"), facts.profile.machine.designation
    if not typed.strip():
        return
    about = (facts.slot("designation"),)
    try:
        same = not compare(wanted, typed)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    if same:
        yield Finding(Verdict.IN_ORDER, about, msg("The machine data are for this machine."))
        return
    yield Finding(
        Verdict.STOP,
        about,
        msg("The plate says {typed}, the machine data are for {wanted}.", typed=typed, wanted=wanted),
        msg("Do not go on with these data: every value in this job would be for another machine."),
        bars=EVERYTHING,
    )


def year_findings(facts: Facts) -> Iterable[Finding]:
    """Ask about a year that nobody would expect."""
    year = whole(facts, "year")
    if year is None:
        return
    about = (facts.slot("year"),)
    verdict = year_verdict(year, facts.today.year)
    if verdict is Verdict.IN_ORDER:
        yield Finding(verdict, about, msg("Built in {year}.", year=year))
    elif year > facts.today.year:
        says = msg("{year} is still to come.", year=year)
        yield Finding(verdict, about, says, msg("Read the plate again."))
    else:
        todo = msg("Read the plate again; if it is right, the office asks why the machine is so old.")
        yield Finding(verdict, about, msg("Built in {year}, more than two years ago.", year=year), todo)


def package_findings(facts: Facts) -> Iterable[Finding]:
    """Compare the pieces counted with what belongs to the machine."""
    for package in facts.profile.package:
        found = whole(facts, "packages", package.key)
        if found is None:
            continue
        about = (facts.slot("packages", package.key),)
        say = {"place": package_place(package).name, "found": found, "wanted": package.pieces}
        if found == package.pieces:
            yield Finding(Verdict.IN_ORDER, about, msg("{place}: {found} of {wanted} are there.", **say))
        elif found < package.pieces:
            yield Finding(
                Verdict.PUT_RIGHT,
                about,
                msg("{place}: {found} of {wanted} are there.", **say),
                msg("Write it on both copies of the delivery note and order what is missing at once."),
            )
        else:
            yield Finding(
                Verdict.PUT_RIGHT,
                about,
                msg("{place}: {found} counted, only {wanted} belong to this machine.", **say),
                msg("Count again. A bundle of the other hand or of another machine may be among them."),
            )


def any_damage(facts: Facts) -> bool:
    """Whether damage was seen in any zone."""
    chosen = [facts.chosen("damage", zone.key) or frozenset() for zone in ZONES]
    return any(words & {"cosmetic", "repair", "reject"} for words in chosen)


STEP = Step(
    key="arrival",
    order=1,
    title=msg("Arrival"),
    about=msg("Make sure that it is the right machine, that all of it came, and how it came."),
    cautions=(
        Caution(
            msg("A load can fall or swing while it is lifted off the truck."),
            msg("Rated gear on the marked points, nobody under the load or between it and anything fixed."),
            "falling-load",
        ),
        Caution(
            msg("Tines stand at the height of eyes."),
            msg("Tine covers on, glasses on, walk round."),
            "impalement",
        ),
    ),
    fields=fields,
    checks=(check,),
)
