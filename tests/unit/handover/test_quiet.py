"""What is kept quiet while a document is made."""

from __future__ import annotations

import gc

import pytest

from rakeprep.handover.quiet import short_pauses


def test_that_the_long_search_for_garbage_waits_and_comes_back_even_after_an_error() -> None:
    before = gc.get_threshold()
    longs: list[int] = []

    def noted(phase: str, about: dict[str, int]) -> None:
        longs.append(about["generation"])

    def work() -> None:
        with short_pauses():
            kept = [[number] for number in range(200_000)]  # enough for several long ones
            assert 2 not in longs
            raise KeyError(len(kept))

    gc.callbacks.append(noted)
    try:
        with pytest.raises(KeyError):
            work()
    finally:
        gc.callbacks.remove(noted)
    assert longs
    assert gc.get_threshold() == before
