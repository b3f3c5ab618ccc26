"""The machine data themselves as part of the arrival: conflicts, and values that are rules of thumb."""

from __future__ import annotations

from collections.abc import Iterable

from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Field, Need, Option
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile
from rakeprep.model.source import Sourced, SourceKind
from rakeprep.model.tractor import Tractor
from rakeprep.model.values import Meant, values
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg, plural
from rakeprep.units import Amount, Typed

PRINTED = (
    Option("first", msg("the first printed value")),
    Option("second", msg("the second printed value")),
)


def conflicts(profile: Profile, tractor: Tractor) -> tuple[Sourced, ...]:
    """Values whose two printed forms contradict one another, each path once."""
    both = (meant.value for data in (profile, tractor) for meant in values(data))
    return tuple({value.path: value for value in both if value.conflict and value.also}.values())


def rules(profile: Profile) -> tuple[Meant, ...]:
    """Values of the machine data that are rules of thumb."""
    return tuple(meant for meant in values(profile) if meant.value.source.kind is SourceKind.RULE)


def as_printed(typed: Typed) -> Amount:
    """A printed value, to the digits it is printed with."""
    return Amount(typed.si, typed.kind, typed.unit, step=typed.division)


def conflict_place(value: Sourced) -> Place:
    """The place of a conflict; its words give both printed values."""
    second = value.also or value.typed
    words = msg(
        "{path}: first {first}, second {second}",
        path=value.path,
        first=as_printed(value.typed),
        second=as_printed(second),
    )
    return Place(value.path, words)


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions about the machine data; none where there is nothing to decide."""
    asked = []
    disputed = tuple(conflict_place(v) for v in conflicts(profile, tractor))
    if disputed:
        asked.append(
            Field(
                "printed_value",
                msg("Which printed value holds"),
                Ask.CHOICE,
                msg("The two printed values contradict each other. Neither is used until you choose one."),
                disputed,
                options=PRINTED,
                need=Need.MUST,
            )
        )
    if rules(profile):
        asked.append(
            Field(
                "rules_accepted_by",
                msg("Rules of thumb accepted by"),
                Ask.TEXT,
                msg("Name of the foreman who accepts the values that no book, standard or plate gives."),
                need=Need.MUST,
            )
        )
    return tuple(asked)


def findings(facts: Facts) -> Iterable[Finding]:
    """What was decided about the machine data, and what still is not."""
    for value in conflicts(facts.profile, facts.tractor):
        yield conflict_finding(facts, value)
    marked = rules(facts.profile)
    if not marked:
        return
    name = facts.text("rules_accepted_by").strip()
    about = (facts.slot("rules_accepted_by"),)
    many = len(marked)
    if name:
        says = plural(
            "{count} value is a rule of thumb, accepted by {name}.",
            "{count} values are rules of thumb, accepted by {name}.",
            many,
            name=name,
        )
        yield Finding(Verdict.IN_ORDER, about, says, working=listed(marked))
        return
    says = plural(
        "{count} value of the machine data is only a rule of thumb.",
        "{count} values of the machine data are only rules of thumb.",
        many,
    )
    todo = msg("The foreman looks at them (show the working) and accepts them by name.")
    yield Finding(Verdict.NOT_YET, about, says, todo, listed(marked))


def listed(found: tuple[Meant, ...]) -> tuple[Message, ...]:
    """One line for each meaning and value, so that three gearboxes alike take one."""
    lines = (msg("{what}: {value}", what=each.about, value=as_printed(each.value.typed)) for each in found)
    return tuple(dict.fromkeys(lines))


def conflict_finding(facts: Facts, value: Sourced) -> Finding:
    """Which printed value is used, or that none is."""
    about = (facts.slot("printed_value", value.path),)
    second = as_printed(value.also or value.typed)
    say: dict[str, object] = {"path": value.path, "first": as_printed(value.typed), "second": second}
    chosen = facts.chosen("printed_value", value.path) or frozenset()
    if "first" in chosen or "second" in chosen:
        used = say["second"] if "second" in chosen else say["first"]
        says = msg("{path}: {used} is used.", path=value.path, used=used)
        working = (msg("Printed are {first} and {second}.", **say),)
        return Finding(Verdict.IN_ORDER, about, says, working=working, source=value.source)
    return Finding(
        Verdict.NOT_YET,
        about,
        msg("{path}: {first} and {second} are printed for the same thing; neither is used.", **say),
        msg("Look into the machine's own book or measure, then choose one and give the reason."),
        source=value.source,
    )
