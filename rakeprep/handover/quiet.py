"""Libraries that log what a user cannot use."""

from __future__ import annotations

import logging

TALKATIVE = ("pyhanko", "pyhanko_certvalidator")


def hush() -> None:
    """Keep the signing library's tracebacks away from the terminal; what matters is said in sentences."""
    for name in TALKATIVE:
        logger = logging.getLogger(name)
        logger.propagate = False
        if not logger.handlers:
            logger.addHandler(logging.NullHandler())
