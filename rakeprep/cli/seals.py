"""The commands about the workshop's signing key, and its passphrase."""

from __future__ import annotations

import argparse
import getpass
import sys
from collections.abc import Callable, Iterable
from pathlib import Path

from rakeprep.cli.surroundings import DONE, FAILED, data, now, say_all, say_error
from rakeprep.text import Message, msg


def new(asked: argparse.Namespace) -> int:
    """Make the workshop's seal."""
    from rakeprep.handover import seal_commands

    folder = asked.seal or data() / "seal"
    given: Path | None = asked.passphrase_file
    return said_of(lambda: seal_commands.new(folder, asked.workshop, lambda: new_passphrase(given), now))


def show(asked: argparse.Namespace) -> int:
    """Say whose seal it is."""
    from rakeprep.handover import seal_commands

    return said_of(lambda: seal_commands.show(asked.seal or data() / "seal"))


def export(asked: argparse.Namespace) -> int:
    """Write the part of the seal that others may have."""
    from rakeprep.handover import seal_commands

    return said_of(lambda: seal_commands.export_certificate(asked.seal or data() / "seal", asked.file))


def trust(asked: argparse.Namespace) -> int:
    """Know another workshop's seal."""
    from rakeprep.handover import seal_commands

    return said_of(lambda: seal_commands.trust(asked.seal or data() / "seal", asked.file))


def said_of(action: Callable[[], Iterable[Message]]) -> int:
    """Do something with a seal; a refusal becomes one sentence."""
    from rakeprep.handover.keys import SealError

    try:
        say_all(action(), sys.stdout)
    except SealError as error:
        say_error(error.message)
        return FAILED
    return DONE


def passphrase(file: Path | None) -> str:
    """The passphrase from a file's first line, or asked for."""
    if file is None:
        return getpass.getpass(str(msg("Passphrase of the seal: ")))
    from rakeprep.handover.seal_commands import passphrase_in

    return passphrase_in(file)


def new_passphrase(file: Path | None) -> str:
    """A new passphrase, asked for twice unless a file has it."""
    first = passphrase(file)
    if file is None and getpass.getpass(str(msg("The same once more: "))) != first:
        from rakeprep.handover.keys import SealError

        raise SealError(msg("The two passphrases differ; begin again."))
    return first
