"""Every sentence a user sees goes through the catalogue, and the catalogue can be drawn from the code."""

from __future__ import annotations

import ast
import datetime as dt
import gettext
import re
from collections.abc import Iterator
from dataclasses import fields as fields_of
from dataclasses import is_dataclass
from enum import Enum
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from rakeprep.jobs.assess import Assessment, assess
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.field import Ask
from rakeprep.model.job import Opening, Record
from rakeprep.model.profile import MachineSelf, Profile
from rakeprep.model.tractor import Links, Tractor
from rakeprep.profiles import load_text, read_profile, read_tractor, sample_machines, sample_tractors
from rakeprep.steps import all_steps
from rakeprep.text import GAP, Language, Message, joined, msg, plural, verbatim

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "rakeprep"
NOON = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
MAKERS = {"msg": 1, "plural": 2}  # functions that make messages, and how many literals they begin with
# What a value of machine data is, declared on its field, stands on paper too: where its literal stands.
DECLARED = {"quantity": 1, "words": 0, "table": 0}
SCHEMAS = {PACKAGE / "model" / "profile.py", PACKAGE / "model" / "tractor.py"}
FILLED_LATER = {"steps", "sums", "handover"}
# Files that make a message from another one's text or from gaps alone, but bring no words of their own.
MAKE_MESSAGES_OTHERWISE = {
    "text.py",
    "model/schema.py",
    "steps/_judged.py",
    "steps/_reading.py",
    "steps/_settings_speed.py",
    "steps/_test_run_after.py",
    "sums/showing.py",
}
LETTER = re.compile(r"[^\W\d_]")


# ---------------------------------------------------------------------- drawing the catalogue


def called(node: ast.Call) -> str:
    """The bare name of what is called."""
    match node.func:
        case ast.Name(id=name) | ast.Attribute(attr=name):
            return name
    return ""


def literals(node: ast.Call, count: int) -> tuple[str, ...] | None:
    """The first ``count`` arguments if they are literal texts."""
    first = node.args[:count]
    words = [a.value for a in first if isinstance(a, ast.Constant) and isinstance(a.value, str)]
    return tuple(words) if len(words) == count else None


def extract(file: Path) -> Iterator[tuple[int, tuple[str, ...] | None]]:
    """Every message made in a file: its line, and its text, or singular and plural; None if not literal."""
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        if called(node) in MAKERS:
            yield node.lineno, literals(node, MAKERS[called(node)])
        elif file in SCHEMAS and called(node) in DECLARED:
            node.args = node.args[DECLARED[called(node)] :]
            yield node.lineno, literals(node, 1)


@cache
def catalogue() -> dict[tuple[str, ...], list[str]]:
    """All messages of the package, each with the places where it is made."""
    found: dict[tuple[str, ...], list[str]] = {}
    for file in modules():
        for line, words in extract(file):
            if words is not None:
                found.setdefault(words, []).append(f"{file.relative_to(ROOT).as_posix()}:{line}")
    return found


@cache
def modules() -> tuple[Path, ...]:
    return tuple(sorted(PACKAGE.rglob("*.py")))


def own_name(file: Path) -> str:
    return file.relative_to(PACKAGE).as_posix()


def test_that_no_message_is_put_together_at_run_time() -> None:
    found = [
        f"{own_name(file)}:{line}" for file in modules() for line, words in extract(file) if words is None
    ]
    assert [place for place in found if not place.startswith("text.py:")] == []


def test_that_messages_are_made_by_their_makers_only() -> None:
    found = {
        own_name(file)
        for file in modules()
        for node in ast.walk(ast.parse(file.read_text("utf-8")))
        if isinstance(node, ast.Call) and called(node) == "Message"
    }
    assert found <= MAKE_MESSAGES_OTHERWISE


def test_that_every_gap_is_filled_where_the_message_is_made() -> None:
    """A value that no gap shows is a slip anywhere; a gap may be filled later only in ``FILLED_LATER``."""
    wrong = []
    for file in modules():
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if not isinstance(node, ast.Call) or called(node) not in MAKERS:
                continue
            words = literals(node, MAKERS[called(node)])
            names = {keyword.arg for keyword in node.keywords}
            if words is None or None in names:
                continue
            given = names | ({"count"} if called(node) == "plural" else set())
            gaps = {gap for text in words for gap in GAP.findall(text)}
            later = file.relative_to(PACKAGE).parts[0] in FILLED_LATER
            if names - gaps or (gaps - given and not later):
                wrong.append(f"{own_name(file)}:{node.lineno}: {words[0]}")
    assert wrong == []


def test_that_singular_and_plural_have_the_same_gaps() -> None:
    for words in catalogue():
        if len(words) == 2:
            one, many = (set(GAP.findall(text)) - {"count"} for text in words)
            assert one == many, words


def test_that_an_empty_message_is_never_a_key_of_the_catalogue() -> None:
    """gettext keeps its own heading under the empty key, and would show that."""
    assert ("",) not in catalogue()


def test_that_what_is_said_of_machine_data_is_in_the_catalogue() -> None:
    for kind in (Profile, Tractor, MachineSelf, Links):
        for declared in fields_of(kind):
            assert (declared.metadata["about"],) in catalogue()


def test_that_the_extractor_sees_through_what_it_should(tmp_path: Path) -> None:
    file = tmp_path / "planted.py"
    file.write_text(
        "msg('one ' 'two')\ntext.msg('three')\nplural('one', 'many', n)\n"
        "msg(f'{x}')\nmsg('a' + b)\nmsg(words)\nplural('one', more, n)\nother('no')\n",
        "utf-8",
    )
    found = [words for _, words in sorted(extract(file), key=lambda pair: pair[0])]
    assert found == [("one two",), ("three",), ("one", "many"), None, None, None, None]


# ---------------------------------------------------------------------- saying all of it


class Brackets(gettext.NullTranslations):
    """A language that is English between brackets, so that what went past the catalogue is seen."""

    def gettext(self, message: str) -> str:
        return f"⟦{message}⟧"

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return f"⟦{msgid1 if n == 1 else msgid2}⟧"


PSEUDO = Language("en", Brackets())


def unwrapped(said: str) -> str:
    """What stands outside all brackets."""
    depth, rest = 0, []
    for char in said:
        depth += (char == "⟦") - (char == "⟧")
        assert depth >= 0
        if depth == 0 and char != "⟧":
            rest.append(char)
    assert depth == 0
    return "".join(rest)


def outcome(machine: Path, tractor: Path, answers: str) -> Assessment:
    """A job with every question answered one way, and one that was left."""
    profile = read_profile(load_text(machine), machine.name).value
    power = read_tractor(load_text(tractor), tractor.name).value
    assert profile is not None
    assert power is not None
    opening = Opening("J", NOON, "Technician One", "Customer One", "O", machine.name, "", tractor.name, "")
    record = Record(opening)
    empty = assess(all_steps(), profile, power, record, NOON.date())
    entries = {slot: entry_of(slot, state.task.field, answers) for slot, state in empty.states.items()}
    history = {slot: (entry,) for slot, entry in entries.items()}
    record = Record(opening, entries if answers else {}, history if answers else {})
    return assess(all_steps(), profile, power, record, NOON.date())


NUMBERS = {"first": Fraction(6, 10), "last": Fraction(0), "large": Fraction(9999)}


def entry_of(slot: Slot, field: object, answers: str) -> Entry:
    ask, options = getattr(field, "ask", Ask.TEXT), getattr(field, "options", ())
    exact = NUMBERS.get(answers) if ask in {Ask.QUANTITY, Ask.COUNT} else None
    words = [option.key for option in options] or ["2026-05-18" if ask is Ask.DATE else "A1"]
    typed = words[0 if answers == "first" else -1]
    return Entry(
        slot, How.VALUE, typed, "Technician One", NOON, 2, exact=exact, division=exact and Fraction(1, 1000)
    )


def messages_in(thing: object) -> Iterator[Message]:
    """Every message anywhere inside a frozen object."""
    match thing:
        case Message():
            yield thing
        case Enum() | str():
            return
        case dict():
            yield from (m for value in thing.values() for m in messages_in(value))
        case tuple() | list() | frozenset():
            yield from (m for value in thing for m in messages_in(value))
        case _ if is_dataclass(thing):
            yield from (m for f in fields_of(thing) for m in messages_in(getattr(thing, f.name)))


def inside(message: Message) -> Iterator[Message]:
    """A message and all messages in its gaps."""
    yield message
    for _, value in message.params:
        if isinstance(value, Message):
            yield from inside(value)


OUTCOMES = pytest.mark.parametrize("answers", ["", *NUMBERS])
ON_SAMPLES = pytest.mark.parametrize("machine", sample_machines(), ids=lambda p: p.stem)


@cache
def said_on(machine: Path, answers: str) -> tuple[Message, ...]:
    """All messages a job on this machine brings, with every tractor."""
    found = [m for tractor in sample_tractors() for m in messages_in(outcome(machine, tractor, answers))]
    return tuple(each for message in found for each in inside(message))


@ON_SAMPLES
@OUTCOMES
def test_that_everything_said_goes_through_the_catalogue(machine: Path, answers: str) -> None:
    for message in said_on(machine, answers):
        if message.text:
            assert unwrapped(PSEUDO.say(message)) == "", str(message)


@ON_SAMPLES
@OUTCOMES
def test_that_everything_said_is_in_the_drawn_catalogue(machine: Path, answers: str) -> None:
    known = {text for words in catalogue() for text in words}
    said = {
        text
        for m in said_on(machine, answers)
        for text in (m.text, m.many)
        if LETTER.search(GAP.sub("", text))
    }
    assert said - known == set()


@ON_SAMPLES
@OUTCOMES
def test_that_plain_text_in_a_gap_comes_from_data_or_a_person(machine: Path, answers: str) -> None:
    """English words that stand as plain text in a gap would stay English on a paper in another language."""
    data = machine.read_text("utf-8") + "".join(t.read_text("utf-8") for t in sample_tractors())
    data += " ".join(str(slot) for slot in outcome(machine, sample_tractors()[0], "").states)
    data += " Technician One A1 2026-05-18 " + " ".join(option_words(machine))
    found = {
        value
        for message in said_on(machine, answers)
        for name, value in message.params
        if isinstance(value, str) and name != "source"
        for word in re.findall(r"[a-z]{4,}", value)
        if word not in data
    }
    assert found == set()


def option_words(machine: Path) -> set[str]:
    states = outcome(machine, sample_tractors()[0], "").states.values()
    return {option.key for state in states for option in state.task.field.options}


@pytest.mark.parametrize(
    ("message", "said"),
    [
        (msg("Turn {what}.", what=msg("the crank")), "⟦Turn ⟦the crank⟧.⟧"),
        (plural("{count} flat", "{count} flats", 2), "⟦2 flats⟧"),
        (joined([msg("a"), msg("b")]), "⟦⟦a⟧, ⟦b⟧⟧"),
        (verbatim("{x}"), "⟦{x}⟧"),
    ],
)
def test_that_the_language_of_brackets_shows_each_part(message: Message, said: str) -> None:
    assert PSEUDO.say(message) == said
    assert unwrapped(said) == ""
    assert unwrapped(f"{said} x") == " x"


# ---------------------------------------------------------------------- the catalogues themselves


def translations() -> list[Path]:
    return sorted((ROOT / "resources" / "translations").glob("*.po"))


@pytest.mark.parametrize("file", translations(), ids=lambda file: file.stem)
def test_that_a_catalogue_says_all_that_the_code_says(file: Path) -> None:
    """Run tests/whole/make_catalogues.py and translate what it leaves empty."""
    from babel.messages.pofile import read_po

    with file.open("rb") as stream:
        told = read_po(stream, locale=file.stem)
    missing = [words[0] for words in catalogue() if not forms(told.get(words[0]))]
    assert missing == []


@pytest.mark.parametrize("file", translations(), ids=lambda file: file.stem)
def test_that_a_translation_has_the_gaps_of_its_message(file: Path) -> None:
    from babel.messages.pofile import read_po

    with file.open("rb") as stream:
        told = read_po(stream, locale=file.stem)
    wrong = []
    for words in catalogue():
        gaps = [set(GAP.findall(text)) for text in words]
        for form in forms(told.get(words[0])):
            own = set(GAP.findall(form))
            if own not in gaps:
                wrong.append((words[0], form))
    assert wrong == []


def forms(message: object) -> list[str]:
    """The forms of a translation; none while one of them is empty."""
    string = getattr(message, "string", None)
    found = [string] if isinstance(string, str) else list(string or ())
    return found if all(found) else []
