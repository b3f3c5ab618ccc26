"""Keep quiet what a user cannot use: the libraries' logs, and pauses in the middle of the work."""

from __future__ import annotations

import atexit
import gc
import logging
from collections.abc import Iterator
from contextlib import contextmanager

TALKATIVE = ("pyhanko", "pyhanko_certvalidator")
SELDOM = 1_000_000  # searches among the middle-aged before one among all; out of reach


def hush() -> None:
    """Keep the signing library's tracebacks away from the terminal; what matters is said in sentences."""
    for name in TALKATIVE:
        logger = logging.getLogger(name)
        logger.propagate = False
        if not logger.handlers:
            logger.addHandler(logging.NullHandler())


@contextmanager
def short_pauses() -> Iterator[None]:
    """Put off the long search for garbage: it would hold up every thread, and so the window, for a while.

    The short searches go on, so that memory does not grow.
    """
    often = gc.get_threshold()
    gc.set_threshold(*often[:2], SELDOM)
    try:
        yield
    finally:
        gc.set_threshold(*often)


@contextmanager
def one_act() -> Iterator[None]:
    """For a process that makes one document and ends: no long search for garbage, nor one at its end."""
    atexit.register(gc.freeze)
    with short_pauses():
        yield
