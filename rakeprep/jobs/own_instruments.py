"""The instruments that are known on this computer: a small list in the data folder, never needed.

What a job rests on is in the job itself; this list only saves typing in the next one. A file that cannot
be read counts as empty.
"""

from __future__ import annotations

import datetime as dt
import json
import os
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from rakeprep.calculations.instruments import INSTRUMENTS
from rakeprep.jobs.reading import Refused, clean
from rakeprep.model.instrument import OwnInstrument, instrument_key
from rakeprep.text import msg

FILE = "instruments.json"
LONGEST_FILE = 200_000  # bytes
MOST = 200  # instruments; nobody picks from a longer list
LONGEST_NAME = 80
NEVER = "never"
# One and the same tape or rule may take any of these readings.
TAPES = frozenset({"tape", "driveline-tape", "width-tape", "hitch-tape", "steel-rule"})

Known = Mapping[str, OwnInstrument]


def registration(own: OwnInstrument) -> OwnInstrument:
    """An instrument as a job registers it; raises ``Refused``."""
    name = " ".join(clean(own.name[: 10 * LONGEST_NAME]).split())
    if not name or len(name) > LONGEST_NAME:
        raise Refused(
            msg("An instrument has a number or name of at most {most} characters.", most=LONGEST_NAME)
        )
    if own.kind not in INSTRUMENTS:
        raise Refused(
            msg(
                "There is no kind of instrument called “{kind}”; known are: {known}.",
                kind=clean(own.kind[:LONGEST_NAME]),
                known=", ".join(INSTRUMENTS),
            )
        )
    return OwnInstrument(name, own.kind, own.until)


def calibrated_until(text: str) -> dt.date | None:
    """The last day of a calibration as typed; None for “never”, where none is asked. Raises ``Refused``."""
    if text.strip().casefold() == NEVER:
        return None
    try:
        return dt.date.fromisoformat(text.strip())
    except ValueError as error:
        raise Refused(
            msg(
                "“{text}” is no calibration date; type year-month-day, or “never” where none is asked.",
                text=clean(text.strip()[:40]),
            )
        ) from error


def known_in(folder: Path) -> dict[str, OwnInstrument]:
    """The instruments known on this computer, by their key, those used last at the end."""
    try:
        with (folder / FILE).open("rb") as stream:
            text = stream.read(LONGEST_FILE + 1)
        rows = json.loads(text) if len(text) <= LONGEST_FILE else []
    except (OSError, ValueError, RecursionError):
        return {}
    found = [read_row(row) for row in rows[-MOST:]] if isinstance(rows, list) else []
    return {instrument_key(own.name): own for own in found if own is not None}


def read_row(row: object) -> OwnInstrument | None:
    """One instrument of the list; None if it is none."""
    if not isinstance(row, dict) or not all(isinstance(value, str) for value in row.values()):
        return None
    name, kind, until = (row.get(key, "") for key in ("name", "kind", "until"))
    try:
        day = dt.date.fromisoformat(until) if until else None
    except ValueError:
        return None
    if kind not in INSTRUMENTS or not 0 < len(name.strip()) <= LONGEST_NAME:
        return None
    return OwnInstrument(name, kind, day, row.get("unit", "")[:20])


def keep(folder: Path, known: Iterable[OwnInstrument]) -> None:
    """Write the list; where that cannot be done the next job has to be told again, no more."""
    rows = [
        {"name": own.name, "kind": own.kind, "until": own.until.isoformat() if own.until else ""}
        | ({"unit": own.unit} if own.unit else {})
        for own in list(known)[-MOST:]
    ]
    part = folder / f"{FILE}.part"
    with suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True)
        part.write_text(json.dumps(rows, ensure_ascii=False, indent=1), encoding="utf-8")
        os.replace(part, folder / FILE)


def used(known: dict[str, OwnInstrument], own: OwnInstrument, unit: str) -> dict[str, OwnInstrument]:
    """The list after an instrument was read in a unit: the one used last stands at the end."""
    key = instrument_key(own.name)
    before = known.get(key)
    kept = unit or (before.unit if before is not None else "")
    return {k: v for k, v in known.items() if k != key} | {key: replace(own, unit=kept)}


def together(on_computer: Known, in_job: Known) -> dict[str, OwnInstrument]:
    """All that can be offered; what the job says of an instrument goes before the computer's list."""
    merged = dict(on_computer)
    for key, own in in_job.items():
        before = merged.get(key)
        merged[key] = own if before is None else replace(own, unit=before.unit)
    return merged


def fitting(known: Known, kind: str) -> list[OwnInstrument]:
    """Those that can take the place of a kind of instrument: of that very kind first, the last used first."""
    alike = TAPES if kind in TAPES else {kind}
    found = [own for own in known.values() if own.kind in alike]
    found.reverse()  # the last used stands at the end
    return sorted(found, key=lambda own: own.kind != kind)
