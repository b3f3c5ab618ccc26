"""How a data file's keys are declared on the class that holds them."""

from __future__ import annotations

import dataclasses
from typing import Any

from rakeprep.text import Message
from rakeprep.units import Kind

_NONE_GIVEN: Any = dataclasses.MISSING


def quantity(kind: Kind, about: str, default: Any = _NONE_GIVEN) -> Any:
    """A value with unit and source, written ``{ value = "35 mm", source = "book p. 12" }``."""
    return dataclasses.field(default=default, metadata={"kind": kind, "about": about})


def words(about: str, default: Any = _NONE_GIVEN) -> Any:
    """A plain text, whole number, true or false, one of a few words, or a list of texts."""
    return dataclasses.field(default=default, metadata={"about": about})


def table(about: str, default: Any = _NONE_GIVEN) -> Any:
    """A table ``[name]``, or for a tuple a list of tables ``[[name]]``."""
    return dataclasses.field(default=default, metadata={"about": about})


def meaning(declared: dataclasses.Field[Any]) -> Message:
    """What a declared key means, in words that the catalogue knows."""
    return Message(str(declared.metadata.get("about", declared.name)))
