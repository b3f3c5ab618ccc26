"""What is kept quiet while a document is made."""

from __future__ import annotations

import gc
import subprocess
import sys

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


def test_that_nothing_is_searched_when_a_process_of_one_act_ends() -> None:
    # What was asked for first is done last at the end of a process (documentation of Python's atexit).
    code = (
        "import atexit, gc\n"
        "from rakeprep.handover.quiet import one_act\n"
        "atexit.register(lambda: print(gc.get_freeze_count() > len(gc.get_objects())))\n"
        "with one_act():\n    pass\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True
    )
    assert done.stdout.split() == ["True"]
