"""Every kind of mistake in a data file, at its line and column.

Expected places are counted in the text itself by ``place``, apart from the scanner under test.
"""

from __future__ import annotations

import pytest

from rakeprep.profiles import Mistake, load_text, read_either, read_profile, read_tractor, sample_machines
from rakeprep.profiles import sample_tractors as tractors
from rakeprep.text import ENGLISH

A = load_text(next(p for p in sample_machines() if p.stem == "sample-rake-a"))
FITS = load_text(next(p for p in tractors() if p.stem == "tractor-fits"))


def place(text: str, needle: str, further: int = 0) -> tuple[int, int]:
    """Line and column, from 1, of the first ``needle``."""
    before = text[: text.index(needle) + further]
    return before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1


def changed(old: str, new: str, text: str = A) -> str:
    assert old in text
    return text.replace(old, new, 1)


def only(text: str) -> Mistake:
    """The one mistake of a machine file."""
    read = read_profile(text, "m.toml")
    assert read.value is None
    assert [m.lines() for m in read.mistakes[1:]] == []
    return read.mistakes[0]


# old text, new text, where the mistake is shown in the new text, words of the sentence
CASES = {
    "unknown key": (
        "tines_per_arm = 4",
        "tines_per_arms = 4\ntines_per_arm = 4",
        "tines_per_arms",
        ["tines_per_arm”"],
    ),
    "unknown table": ("[service]", "[colour]\nred = 1\n[service]", "[colour]", ["Unknown table", "service"]),
    "unknown key in a value": ('"2900 kg", source', '"2900 kg", allso = "1 kg", source', "allso", ["also"]),
    "missing key": ('designation = "SAMPLE-A-212"\n', "", "[machine]", ["designation", 'designation = "…"']),
    "missing amount": (
        'mass = { value = "2900 kg", source = "plate" }\n',
        "",
        "[machine]",
        ['mass = { value = "12 g", source = "book p. 1" }'],
    ),
    "missing source": (
        '{ value = "2900 kg", source = "plate" }',
        '{ value = "2900 kg" }',
        "mass =",
        ["no source"],
    ),
    "missing value": (
        '{ value = "2900 kg", source = "plate" }',
        '{ source = "plate" }',
        "mass =",
        ["no value"],
    ),
    "bare text": (
        '{ value = "2900 kg", source = "plate" }',
        '"2900 kg"',
        '"2900 kg"',
        ["a value and a source"],
    ),
    "number for a text": ('name = "sample rake A, 2 × 12"', "name = 5", "5", ["quotation marks"]),
    "text for a number": ("tines_per_arm = 4", 'tines_per_arm = "4"', '"4"', ["whole number"]),
    "truth for a number": ("tines_per_arm = 4", "tines_per_arm = true", "true\ntip", ["whole number"]),
    "text for a truth": ("invented = true", 'invented = "yes"', '"yes"', ["true or false"]),
    "value without quotes": ('"2900 kg"', "2900", "2900", ["in quotation marks and with its unit"]),
    "number too large": ("tines_per_arm = 4", "tines_per_arm = 400", "400\n", ["from 1 to 20"]),
    "negative count": ("holes = 24", "holes = -24", "-24", ["from 1 to 200"]),
    "hour that no clock has": ("[9, 10, 11, 12, 1", "[9, 10, 11, 13, 1", "13, 1", ["from 1 to 12"]),
    "negative mass": ('"2900 kg"', '"-2900 kg"', '"-2900 kg"', ["below zero"]),
    "no mass": ('"2900 kg"', '"0 kg"', '"0 kg"', ["zero"]),
    "slipped mark": ('"3.20 m"', '"320 m"', '"320 m"', ["more than 40 m"]),
    "unknown word": (
        'turning = "clockwise"',
        'turning = "clockwize"',
        '"clockwize"',
        ["did you mean “clockwise”"],
    ),
    "word far off": ('acting = "single"', 'acting = "both"', '"both"', ["single, double"]),
    "unknown category": ('category = "2"', 'category = "II"', '"II"', ["3N"]),
    "side left out on purpose": (
        'name = "shaft from the splitter to the left rotor"\nrotor = "left"',
        'name = "shaft from the splitter to the left rotor"\nrotor = ""',
        '""',
        ["empty"],
    ),
    "unknown source": ('"2900 kg", source = "plate"', '"2900 kg", source = "plaet"', '"plaet"', ["“plate”"]),
    "source far off": (
        '"2900 kg", source = "plate"',
        '"2900 kg", source = "xx 3"',
        '"xx 3"',
        ["book, plate, iso730"],
    ),
    "no source at all": ('"2900 kg", source = "plate"', '"2900 kg", source = ""', '""', ["Name one of"]),
    "unknown kind of source": ('kind = "plate"', 'kind = "plates"', '"plates"', ["did you mean “plate”"]),
    "unknown tyre": ('tyre = "chassis"', 'tyre = "chasis"', '"chasis"', ["chassis, transport"]),
    "key twice": ('key = "L1R"', 'key = "L1L"', None, ["used twice", "[[wheel]]"]),
    "key with a blank": ('key = "L1R"', 'key = "L1 R"', '"L1 R"', ["20 letters"]),
    "empty name": ('name = "sample rake A, 2 × 12"', 'name = " "', '" "', ["empty"]),
    "name of two lines": ('name = "sample rake A, 2 × 12"', 'name = "a\\nb"', '"a\\nb"', ["one line"]),
    "spring pin that is not made": ("pin = 12", "pin = 11", "11\nbolt", ["ISO 8752", "10, 12"]),
    "unknown thread": ('bolt = "M12"', 'bolt = "12 mm"', '"12 mm"', ["12 mm"]),
    "unknown class": ('bolt_class = "8.8"', 'bolt_class = "8.9"', '"8.9"', ["8.9"]),
    "more arms fitted than there are": ("fitted = 6", "fitted = 13", "13\n", ["More arms"]),
    "hour twice": ("[9, 10, 11, 12, 1, 2, 3]", "[9, 10, 10, 12]", "[9, 10, 10, 12]", ["twice"]),
    "too few hours": ("[9, 10, 11, 12, 1, 2, 3]", "[9, 12, 3]", "[9, 12, 3]", ["At least 4"]),
    "rod as thick as the bore": ('rod = { value = "35 mm"', 'rod = { value = "60 mm"', None, ["thinner"]),
    "hoses": ('hoses = ["LIFT"]', 'hoses = ["LIFT", "B"]', '["LIFT", "B"]', ["has one hose"]),
    "speed limits": (
        'speed_ceiling = { value = "480 rpm"',
        'speed_ceiling = { value = "440 rpm"',
        None,
        ["above"],
    ),
    "visits": ("visits = [1, 10, 50]", "visits = [10, 1]", "[10, 1]", ["rising order"]),
    "table for a list": ("[[board]]", "[board]", None, ["already"]),
    "list wanted": ("visits = [1, 10, 50]", "visits = 10", "10\nfirst", ["[ ]"]),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())
def test_that_each_mistake_is_found_at_its_place(case: tuple[str, str, str | None, list[str]]):
    old, new, needle, words = case
    text = changed(old, new)
    mistakes = read_profile(text, "m.toml").mistakes
    assert mistakes
    said = [m for m in mistakes if all(word in ENGLISH.say(m.says) for word in words)]
    assert said, [m.lines() for m in mistakes]
    if needle is not None:
        assert [(m.line, m.column) for m in said] == [place(text, needle)]
        assert len(mistakes) == 1


def test_that_a_wrong_unit_is_shown_at_the_unit():
    text = changed('"3.5 bar"', '"3.5 baar"')
    found = only(text)
    assert (found.line, found.column) == place(text, "baar")
    assert "did you mean bar" in ENGLISH.say(found.says)
    assert "bar, kPa, MPa, psi" in ENGLISH.say(found.says)


def test_that_a_unit_of_another_kind_is_named():
    text = changed('"3.5 bar"', '"3.5 kg"')
    found = only(text)
    assert (found.line, found.column) == place(text, '"3.5 kg"', 5)
    assert "a mass" in ENGLISH.say(found.says)


def test_that_a_number_that_cannot_be_read_is_shown_at_its_character():
    text = changed('"2900 kg"', '"2.900 kg"')  # decimal or thousands: asked back
    found = only(text)
    assert (found.line, found.column) == place(text, '"2.900 kg"', 1)


def test_that_a_key_used_twice_is_shown_at_the_second():
    text = changed('key = "L1R"', 'key = "L1L"')
    found = only(text)
    assert (found.line, found.column) == (place(A, '"L1R"'))  # where the second one stands now


def test_that_a_message_shows_file_line_column_and_a_caret():
    text = changed("tines_per_arm = 4", "tines_per_arm = 400")
    line, column = place(text, "400\n")
    head, source, caret = only(text).lines().split("\n")
    assert head.startswith(f"m.toml:{line}:{column}: ")
    assert source.endswith("| tines_per_arm = 400")
    assert caret.index("^") == source.index("400")


def test_that_all_mistakes_come_at_once_and_in_order():
    text = changed('"2900 kg"', '"2900 kgg"')
    text = changed("arms = 12", 'arms = "12"', text)
    text = changed('tyre = "transport"', 'tyre = "road"', text)
    text = changed("first_oil_change = 50\n", "", text)
    found = read_profile(text, "m.toml").mistakes
    assert [(m.line, m.column) for m in found] == [
        place(text, "kgg"),
        place(text, '"12"'),
        place(text, '"road"'),
        place(text, "[service]"),
    ]


def test_that_very_many_mistakes_stop_at_a_hundred():
    text = A + "\n[more]\n" + "".join(f"[x{n}]\n" for n in range(5000))
    assert len(read_profile(text, "m.toml").mistakes) == 100


# text, line, column, words; places counted by eye
SYNTAX = {
    "duplicate key": ("[machine]\nname = 'a'\nname = 'b'\n", 3, 1, ["machine.name", "line 2"]),
    "duplicate table": ("[machine]\n\n[machine]\n", 3, 1, ["“machine”", "line 1"]),
    "duplicate key in braces": ("a = { b = 1, b = 2 }\n", 1, 14, ["a.b", "line 1"]),
    "table over a value": ("a = 1\n[a]\n", 2, 1, ["“a”", "line 1"]),
    "no statement": ("[machine]\nhello world\n", 2, 7, ["equals sign"]),
    "stray signs": ("[machine]\n???\n", 2, 1, ["neither key = value"]),
    "no value": ("a =\n", 1, 4, ["cannot be read"]),
    "open quotation": ('a = "b\nc = 1\n', 1, 7, ["quotation mark"]),
    "unit without quotation": ("a = { value = 35 mm }\n", 1, 18, ["quotation marks"]),
    "two values on a line": ("a = 1 b = 2\n", 1, 7, ["one value a line"]),
    "open braces": ("a = { b = 1\nc = 2\n", 1, 12, ["close"]),
    "open table": ("[machine\n", 1, 9, ["[name]"]),
    "no text": ("a\x00b", 1, 2, ["no text file"]),
    "empty": ("", 1, 1, ["empty"]),
    "blank": (" \n\n", 1, 1, ["empty"]),
    "long line": ("a = '" + "x" * 2000 + "'", 1, 1, ["1000"]),
    "nested": ("a = " + "[" * 900, 1, 5, ["deeply"]),
    "nested over lines": ("a = " + "[\n" * 90_000, 1, 5, ["deeply"]),
    "large": ("#" * 10 + "\n" * 1_000_001, 1, 1, ["1 MB"]),
    "huge number": ("a = " + "9" * 900 + "\n[sources]\n", 1, 1, ["Unknown table"]),
}


@pytest.mark.parametrize("case", SYNTAX.values(), ids=SYNTAX.keys())
def test_that_a_text_that_is_no_toml_is_reported_in_one_sentence(case: tuple[str, int, int, list[str]]):
    text, line, column, words = case
    read = read_profile(text, "m.toml")
    assert read.value is None
    first = read.mistakes[0]
    assert all(word in ENGLISH.say(first.says) for word in words), first.lines()
    assert (first.line, first.column) == (line, column)


@pytest.mark.parametrize("line", ["{} = 1", "[{}]", "[[ {} ]]", '  "x" . {} = 1'])
def test_that_a_name_of_very_many_parts_is_refused(line: str):
    # The standard reader's time grows with the cube of a key's parts.
    text = "".join(line.format(f"b{n}." + ".".join("a" * 400)) + "\n" for n in range(1000))
    (found,) = read_profile(text, "m.toml").mistakes
    assert "8 parts" in ENGLISH.say(found.says)
    assert (found.line, found.column) == (1, 1)


def test_that_mistakes_in_tractor_files_are_found_too():
    text = changed("type = 1", "type = 5", FITS)
    text = changed('acting = "double"', 'acting = "dubble"', text)
    found = read_tractor(text, "t.toml").mistakes
    assert [(m.line, m.column) for m in found] == [place(text, "5\nspeed"), place(text, '"dubble"')]


def test_that_a_file_is_told_by_its_first_table():
    assert read_either(A, "a").value is not None
    assert read_either(FITS, "t").value is not None
    read = read_either("[other]\nx = 1\n", "o.toml")
    assert read.value is None
    assert "neither [machine] nor [tractor]" in read.mistakes[0].lines()
    assert read_either("a b", "o.toml").mistakes


def test_that_windows_line_ends_and_a_byte_order_mark_change_nothing():
    assert read_profile("\ufeff" + A.replace("\n", "\r\n"), "m.toml").value == read_profile(A, "m.toml").value
