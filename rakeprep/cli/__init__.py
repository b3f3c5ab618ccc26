"""The command line: what was asked, and nothing else."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence

from rakeprep.cli.arguments import arguments
from rakeprep.cli.surroundings import DONE, FAILED, printable

__all__ = ["DONE", "FAILED", "main", "printable"]


def main(argv: Sequence[str]) -> int:
    """Do what ``argv`` asks; gives the exit code."""
    asked = arguments().parse_args(argv)
    action: Callable[[argparse.Namespace], int] = asked.action
    return action(asked)
