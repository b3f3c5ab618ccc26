"""Files attached inside a document, read with bounds."""

from __future__ import annotations

import io
import zlib
from collections.abc import Iterable
from typing import TYPE_CHECKING

from rakeprep.text import Message, msg

if TYPE_CHECKING:
    from pikepdf import Object, Pdf

ENTRIES = "entries.jsonl"
FINDINGS = "findings.json"
MACHINE = "machine.toml"
TRACTOR = "tractor.toml"
CALENDAR = "visits.ics"
ALL = (ENTRIES, FINDINGS, MACHINE, TRACTOR, CALENDAR)
LARGEST = 64_000_000  # bytes of one attached file once unpacked
MOST = 2_000  # attached files


class Unattached(ValueError):
    """A file that is not attached, or not readably; ``message`` says which and why."""

    def __init__(self, message: Message) -> None:
        super().__init__(str(message))
        self.message = message


def read_attached(pdf: bytes, names: Iterable[str]) -> dict[str, bytes]:
    """The attached files of these names; raises ``Unattached`` if one is missing, twice there or too large.

    Only files with the named ones are unpacked, and each to ``LARGEST`` at most.
    """
    import pikepdf

    try:
        with pikepdf.open(io.BytesIO(pdf), attempt_recovery=False, suppress_warnings=True) as opened:
            found = _specifications(opened)
            return {name: _unpacked(name, found) for name in names}
    except (pikepdf.PdfError, pikepdf.DataDecodingError, zlib.error, KeyError, TypeError) as error:
        raise Unattached(msg("The files attached to the document cannot be read.")) from error


def _specifications(opened: Pdf) -> dict[str, list[Object]]:
    found: dict[str, list[Object]] = {}
    for count, (key, specification) in enumerate(opened.attachments.items()):
        if count >= MOST:
            raise Unattached(msg("More than {most} files are attached to the document.", most=MOST))
        # One file must not go by two names, or a reader may show another one than the one checked here.
        for name in {str(key), specification.filename}:
            found.setdefault(name, []).append(specification.obj)
    return found


def _unpacked(name: str, found: dict[str, list[Object]]) -> bytes:
    specifications = found.get(name, [])
    if not specifications:
        raise Unattached(msg("The file {name} is not attached to the document.", name=name))
    if len(specifications) > 1:
        raise Unattached(msg("There is more than one attached file called {name}.", name=name))
    files = specifications[0].EF
    stream = files["/F"] if "/F" in files else files["/UF"]
    raw = stream.read_raw_bytes()
    packed = str(stream.get("/Filter", ""))
    if packed == "/FlateDecode" and "/DecodeParms" not in stream:
        raw = zlib.decompressobj().decompress(raw, LARGEST + 1)
    elif packed:
        raise Unattached(msg("The attached file {name} is packed in an unknown way.", name=name))
    if len(raw) > LARGEST:
        raise Unattached(msg("The attached file {name} is too large to be checked.", name=name))
    return bytes(raw)
