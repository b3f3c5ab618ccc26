"""The steps of the work, one file each; every file that declares ``STEP`` is a step."""

from __future__ import annotations

import importlib
import pkgutil
from functools import cache

from rakeprep.model.step import Step


@cache
def all_steps() -> tuple[Step, ...]:
    """Every step in the order of the work."""
    found: list[Step] = [importlib.import_module(name).STEP for name in modules()]
    return tuple(sorted(found, key=lambda step: step.order))


def modules() -> list[str]:
    """The names of the modules that declare a step."""
    names = sorted(m.name for m in pkgutil.iter_modules(__path__) if not m.name.startswith("_"))
    return [f"{__name__}.{name}" for name in names]
