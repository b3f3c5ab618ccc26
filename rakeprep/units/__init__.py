"""Reading typed numbers with units, exact conversion, and showing amounts."""

from __future__ import annotations

from rakeprep.units.amount import Amount
from rakeprep.units.convert import from_si, to_si, warm_up
from rakeprep.units.grammar import EntryError, Typed, parse, parse_count
from rakeprep.units.rounding import rounded
from rakeprep.units.table import Kind, base_unit, closest_units, find_unit, kind_of, other_unit, units_of

__all__ = [
    "Amount",
    "EntryError",
    "Kind",
    "Typed",
    "base_unit",
    "closest_units",
    "find_unit",
    "from_si",
    "kind_of",
    "other_unit",
    "parse",
    "parse_count",
    "rounded",
    "to_si",
    "units_of",
    "warm_up",
]
