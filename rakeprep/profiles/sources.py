"""The sources a data file names."""

from __future__ import annotations

from typing import Any

from rakeprep.model.source import Source, SourceKind
from rakeprep.profiles.document import clipped
from rakeprep.profiles.limits import MOST_TABLES
from rakeprep.profiles.plain import KEY, NOTHING, Place, Reader, missing_key, read_plain, unknown_key
from rakeprep.profiles.positions import Path
from rakeprep.text import msg


def read_sources(reader: Reader, raw: object) -> dict[str, Source | None]:
    """Every source by its id; None for one that is not in order, so that its id is known all the same."""
    if not isinstance(raw, dict):
        return {}
    if len(raw) > MOST_TABLES:
        reader.doc.wrong_key(
            ("sources",), msg("There are more than {most} sources; take some out.", most=MOST_TABLES)
        )
        return {}
    found: dict[str, Source | None] = {}
    for name, table in raw.items():
        path: Path = ("sources", name)
        good = bool(KEY.fullmatch(name))
        if not good:
            says = msg(
                "A source's id has at most 20 letters, digits, - or _; change “{key}”.", key=clipped(name)
            )
            reader.doc.wrong_key(path, says)
        found[name] = None
        values = read_source_table(reader, table, path)
        if good and values is not None:
            found[name] = Source(**values)
    return found


def read_source_table(reader: Reader, raw: object, path: Path) -> dict[str, Any] | None:
    """Kind, title and edition of one source."""
    if not isinstance(raw, dict):
        reader.doc.wrong_value(
            path,
            msg(
                "Write a source as a table: [sources.{name}], with kind and title.",
                name=clipped(str(path[-1])),
            ),
        )
        return None
    wanted = {"kind": SourceKind, "title": str, "edition": str}
    about = {
        "kind": "book, plate, standard, law, measured or rule of thumb",
        "title": "its title",
        "edition": "its edition",
    }
    extras = [extra for extra in raw if extra not in wanted]
    for extra in extras:
        unknown_key(reader, (*path, extra), list(wanted))
    values = {}
    for name, hint in wanted.items():
        place = Place((*path, name), f"sources.{path[-1]}.{name}", "Source", about[name])
        if name in raw:
            values[name] = read_plain(reader, hint, raw[name], place)
        elif name != "edition":
            missing_key(reader, Place(path, f"sources.{path[-1]}", "", ""), place, hint, None)
            values[name] = NOTHING
    return None if extras or any(value is NOTHING for value in values.values()) else values
