"""What the command line and the settings page do with a seal; every function answers in messages."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable, Iterable
from pathlib import Path

from rakeprep.handover import keys
from rakeprep.handover.certificates import COUNTERSIGNING, TECHNICIAN, NotASeal, name_on, root_in, runs_out
from rakeprep.handover.keys import Clock, SealError, spoken
from rakeprep.text import Message, msg

Ask = Callable[[], str]


LARGEST_PASSPHRASE_FILE = 10_000  # bytes


def new(folder: Path, workshop: str, ask: Ask, clock: Clock) -> list[Message]:
    """Make the workshop's seal. The passphrase is asked for when all else has been looked at."""
    keys.check_workshop(workshop)
    keys.check_vacant(folder)
    seal = keys.new(folder, workshop, ask(), clock)
    return [
        msg("The seal of “{workshop}” is made in {folder}.", workshop=seal.workshop, folder=str(folder)),
        msg("Its fingerprint is {fingerprint}.", fingerprint=spoken(seal.fingerprint)),
        _runs_out((seal.technician.certificate, seal.countersigning.certificate)),
        msg("Keep a copy of the folder and the passphrase apart; without both, nothing more can be sealed."),
    ]


def show(folder: Path) -> list[Message]:
    """Whose seal it is, its fingerprint, and which other seals are known here. Asks for no passphrase."""
    root = keys.own_root(folder)
    said = [
        msg("The seal of “{workshop}” is in {folder}.", workshop=name_on(root), folder=str(folder)),
        msg("Its fingerprint is {fingerprint}.", fingerprint=spoken(keys.fingerprint(root))),
        msg("Its root certificate can be used until {day}.", day=runs_out(root).date()),
    ]
    said.extend(_incomplete(folder))
    said.extend(_exposed(folder))
    said.extend(_other(file) for file in keys.trusted_files(folder))
    return said


def export_certificate(folder: Path, to: Path) -> list[Message]:
    """Write the seal's certificate into a new file, to be given to whoever wants to verify documents."""
    pem = keys.certificate(folder)
    try:
        with to.open("xb") as stream:
            try:
                stream.write(pem)
                stream.flush()
                os.fsync(stream.fileno())
            except BaseException:
                with contextlib.suppress(OSError):
                    to.unlink()
                raise
    except FileExistsError:
        raise SealError(msg("{file} is there already; choose another name.", file=str(to))) from None
    except OSError as error:
        raise SealError(
            msg(
                "{file} cannot be written ({reason}); choose another place.",
                file=str(to),
                reason=error.strerror or type(error).__name__,
            )
        ) from error
    root = keys.own_root(folder)
    return [
        msg("The certificate of the seal is in {file}; it holds no secret.", file=str(to)),
        msg(
            "Whoever takes it in should compare this fingerprint with you by telephone: {fingerprint}.",
            fingerprint=spoken(keys.fingerprint(root)),
        ),
    ]


def trust(folder: Path, pem: Path) -> list[Message]:
    """Take another workshop's certificate as known."""
    root = keys.trust(folder, pem)
    return [
        msg("Documents sealed by “{workshop}” are known here from now on.", workshop=name_on(root)),
        msg(
            "Compare this fingerprint with that workshop by telephone, and if it differs remove {file}: "
            "{fingerprint}.",
            fingerprint=spoken(keys.fingerprint(root)),
            file=str(folder / keys.TRUSTED / keys.trusted_name(root)),
        ),
    ]


def passphrase_in(file: Path) -> str:
    """The passphrase on the first line of a file; raises ``SealError``."""
    try:
        with file.open("rb") as stream:
            data = stream.read(LARGEST_PASSPHRASE_FILE + 1)
        text = data.decode("utf-8-sig")
    except (OSError, ValueError) as error:
        raise SealError(
            msg(
                "The passphrase cannot be read from {file} ({reason}); name a text file that holds it alone.",
                file=str(file),
                reason=getattr(error, "strerror", None) or type(error).__name__,
            )
        ) from error
    lines = text.splitlines()
    if len(data) > LARGEST_PASSPHRASE_FILE or not lines or not lines[0]:
        raise SealError(
            msg("There is no passphrase on the first line of {file}; write it there.", file=str(file))
        )
    return lines[0]


def _runs_out(certificates: Iterable[bytes]) -> Message:
    first = min(runs_out(certificate) for certificate in certificates)
    return msg("It can be used for sealing until {day}.", day=first.date())


def _incomplete(folder: Path) -> list[Message]:
    return [
        msg("{file} is missing; put back the copy that was kept.", file=str(folder / file))
        for file in (keys.KEY_FILES[TECHNICIAN], keys.KEY_FILES[COUNTERSIGNING])
        if not (folder / file).is_file()
    ]


def _exposed(folder: Path) -> list[Message]:
    """Key files that others may read, where the system has such rights."""
    if os.name != "posix":
        return []
    said = []
    for file in (folder / name for name in keys.KEY_FILES.values()):
        with contextlib.suppress(OSError):
            if file.stat().st_mode & 0o077:
                said.append(
                    msg("Others on this computer can open {file}; take that right away.", file=str(file))
                )
    return said


def _other(file: Path) -> Message:
    try:
        root = root_in(file.read_bytes()[: keys.LARGEST_KEY_FILE])
    except (OSError, NotASeal):
        return msg("{file} cannot be read as a certificate, so it is left out.", file=str(file))
    return msg(
        "Known here: “{workshop}”, {fingerprint}.",
        workshop=name_on(root),
        fingerprint=spoken(keys.fingerprint(root)),
    )
