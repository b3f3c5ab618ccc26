"""Annotation and docstring of every public function name the same units.

Where a parameter is ``Annotated[float, "m"]``, alone or inside a tuple, sequence, mapping or union, its
line under ``Args`` must hold ``[m]``; likewise for what is returned. ``[m, 1]`` names two units.
"""

from __future__ import annotations

import ast
import importlib
import inspect
import pkgutil
import re
import typing
from collections.abc import Iterator
from types import FunctionType, ModuleType

import pytest

import rakeprep.calculations as package

SECTIONS = ("Args", "Returns", "Raises", "Example", "Source")
BRACKETS = re.compile(r"\[([^\[\]]+)\]")
UNIT = re.compile(r"^(any|1|[A-Za-z°Ω%·/²³⁻¹]+|1/s)$")


def modules() -> list[ModuleType]:
    names = [info.name for info in pkgutil.iter_modules(package.__path__)]
    return [importlib.import_module(f"{package.__name__}.{name}") for name in names]


def functions() -> Iterator[FunctionType]:
    """Public functions where they are defined."""
    for module in [package, *modules()]:
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if not name.startswith("_") and function.__module__ == module.__name__:
                yield function


def units_in(hint: object) -> set[str]:
    """All units that an annotation names."""
    if typing.get_origin(hint) is typing.Annotated:
        inner, *notes = typing.get_args(hint)
        return {note for note in notes if isinstance(note, str)} | units_in(inner)
    found: set[str] = set()
    for part in typing.get_args(hint):
        if isinstance(part, list):
            for each in part:
                found |= units_in(each)
        else:
            found |= units_in(part)
    return found


def section(doc: str, name: str) -> str:
    """Text of one section of a docstring."""
    match = re.search(rf"^{name}:(.*?)(?=^(?:{'|'.join(SECTIONS)}):|\Z)", doc, re.M | re.S)
    return match.group(1) if match else ""


def arguments(doc: str) -> dict[str, str]:
    """Text about each argument."""
    text = section(doc, "Args")
    parts = re.split(r"^    (\w+): ", text, flags=re.M)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def units_named(text: str) -> set[str]:
    """Units in square brackets; words and examples in brackets do not count."""
    named: set[str] = set()
    for inside in BRACKETS.findall(text):
        parts = [part.strip().split(",")[0] for part in inside.split(",")]
        if all(UNIT.match(part) for part in parts):
            named |= set(parts)
        elif UNIT.match(parts[0]):
            named.add(parts[0])
    return named


CHECKED = [
    function for function in functions() if function.__module__ != package.__name__
]  # the package's own guards have no unit


@pytest.mark.parametrize("function", CHECKED, ids=lambda f: f"{f.__module__.rsplit('.')[-1]}.{f.__name__}")
def test_that_annotation_and_docstring_name_the_same_units(function: FunctionType) -> None:
    doc = inspect.getdoc(function) or ""
    for name in SECTIONS:
        assert f"{name}:" in doc, f"no {name}"
    assert ">>>" in section(doc, "Example")
    hints = typing.get_type_hints(function, include_extras=True)
    told = arguments(doc)
    parameters = list(inspect.signature(function).parameters)
    assert list(told) == parameters, "the arguments told are not those of the function"
    for name in parameters:
        units = units_in(hints[name])
        assert units <= units_named(told[name]), f"{name}: {units} is not what the docstring says"
        if units:  # an Estimate has no unit of its own, so that a docstring may say more than the hint
            assert units_named(told[name]) <= units, f"{name}: {units_named(told[name])}, not {units}"
    returned = units_in(hints["return"])
    assert returned <= units_named(section(doc, "Returns")), f"returns {returned}"


def test_that_the_readers_of_this_test_see_a_difference() -> None:
    def wrong(length: typing.Annotated[float, "m"], pair: tuple[typing.Annotated[float, "Pa"], int]) -> None:
        """Nothing.

        Args:
            length: of a thing [mm].
            pair: pressure and count [Pa].
        """

    hints = typing.get_type_hints(wrong, include_extras=True)
    told = arguments(inspect.getdoc(wrong) or "")
    # written down by hand
    assert (units_in(hints["length"]), units_named(told["length"])) == ({"m"}, {"mm"})
    assert units_in(hints["pair"]) == units_named(told["pair"]) == {"Pa"}
    assert units_named("speed [1/s, turns a second] and [see there], [m, 1]") == {"1/s", "m", "1"}


def test_that_every_float_of_a_public_function_names_its_unit_or_is_a_count() -> None:
    # counts and turns that need no unit are told so in words
    bare: list[str] = []
    for function in CHECKED:
        hints = typing.get_type_hints(function, include_extras=True)
        told = arguments(inspect.getdoc(function) or "")
        for name, hint in hints.items():
            if hint is float and name != "return" and not units_named(told[name]):
                bare.append(f"{function.__module__.rsplit('.')[-1]}.{function.__name__}({name})")
    assert sorted(bare) == sorted(COUNTS)


COUNTS = [
    "adjusting.sensitivity(turns)",
    "learning.learn(steps)",
    "levelling.clock_angle(hour)",
    "levelling.suspect_readings(factor)",
    "test_run.knocks(count)",
    "speed.pto_from_turns(turns)",
    "speed.pto_from_turns(turns_doubt)",
]


def test_that_fields_of_public_classes_name_known_units() -> None:
    for module in modules():
        for _, kind in inspect.getmembers(module, inspect.isclass):
            if kind.__module__ != module.__name__ or not hasattr(kind, "__dataclass_fields__"):
                continue
            for name, hint in typing.get_type_hints(kind, include_extras=True).items():
                for unit in units_in(hint):
                    assert UNIT.match(unit), f"{kind.__name__}.{name}: {unit}"


def test_that_no_calculation_imports_what_only_tests_may_use() -> None:
    for module in modules():
        tree = ast.parse(inspect.getsource(module))
        for node in ast.walk(tree):
            names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            for name in names:
                assert name.partition(".")[0] not in {"numpy", "scipy", "uncertainties", "hypothesis"}
