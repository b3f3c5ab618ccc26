"""Results that are kept as long as what they follow from is the same."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Any, TypeVar

T = TypeVar("T")


class Kept:
    """The last result under every name, with what it followed from.

    Pure results only. Most of what they follow from are the very objects of the last time, which Python
    finds equal without looking into them.
    """

    def __init__(self) -> None:
        self._last: dict[Hashable, tuple[tuple[object, ...], Any]] = {}

    def get(self, name: Hashable, follows_from: tuple[object, ...], work_out: Callable[[], T]) -> T:
        """The result under ``name``, worked out anew if ``follows_from`` is not what it was."""
        last = self._last.get(name)
        if last is not None and last[0] == follows_from:
            kept: T = last[1]
            return kept
        result = work_out()
        self._last[name] = (follows_from, result)
        return result
