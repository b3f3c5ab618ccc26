"""``python -m rakeprep`` and the ``rakeprep`` command."""

from __future__ import annotations

import sys

STOPPED_BY_USER = 130  # what shells report for a program ended with Ctrl-C


def main() -> int:
    """Run the program with the process's arguments; returns the exit code."""
    try:
        from rakeprep import cli

        return cli.main(sys.argv[1:])
    except KeyboardInterrupt:
        return STOPPED_BY_USER


if __name__ == "__main__":
    sys.exit(main())
