"""The two faces of the paper, and which characters they have."""

from __future__ import annotations

import struct
from functools import cache
from pathlib import Path
from typing import Any

from rakeprep.paths import resources

PLAIN = "DejaVuSansCondensed"
BOLD = "DejaVuSansCondensed-Bold"


def file_of(face: str) -> Path:
    """Where a face of the paper lies."""
    return resources() / "fonts" / "paper" / f"{face}.ttf"


@cache
def characters() -> frozenset[int]:
    """Code points that both faces can show, read from their character maps (OpenType, table cmap)."""
    faces = [mapped(file_of(face).read_bytes()) for face in (PLAIN, BOLD)]
    return faces[0] & faces[1]


def mapped(font: bytes) -> frozenset[int]:
    """Code points of a font's character map; sub-tables of format 4 and 12."""
    tables = struct.unpack_from(">H", font, 4)[0]
    places = {font[12 + 16 * i : 16 + 16 * i]: 12 + 16 * i for i in range(tables)}
    start = struct.unpack_from(">I", font, places[b"cmap"] + 8)[0]
    found: set[int] = set()
    for i in range(struct.unpack_from(">H", font, start + 2)[0]):
        at = start + struct.unpack_from(">I", font, start + 4 + 8 * i + 4)[0]
        match struct.unpack_from(">H", font, at)[0]:
            case 4:
                found |= segments(font, at)
            case 12:
                found |= groups(font, at)
    return frozenset(found)


def segments(font: bytes, at: int) -> set[int]:
    """Format 4: segments of the basic plane; a character mapped to glyph 0 is not there."""
    count = struct.unpack_from(">H", font, at + 6)[0] // 2
    ends = struct.unpack_from(f">{count}H", font, at + 14)
    starts = struct.unpack_from(f">{count}H", font, at + 16 + 2 * count)
    deltas = struct.unpack_from(f">{count}H", font, at + 16 + 4 * count)
    offsets_at = at + 16 + 6 * count
    offsets = struct.unpack_from(f">{count}H", font, offsets_at)
    found = set()
    for i, (first, last) in enumerate(zip(starts, ends, strict=True)):
        for code in range(first, min(last, 0xFFFE) + 1):
            glyph = code
            if offsets[i]:
                place = offsets_at + 2 * i + offsets[i] + 2 * (code - first)
                glyph = struct.unpack_from(">H", font, place)[0]
                if not glyph:
                    continue
            if (glyph + deltas[i]) % 65536:
                found.add(code)
    return found


def groups(font: bytes, at: int) -> set[int]:
    """Format 12: groups of any plane."""
    found: set[int] = set()
    for i in range(struct.unpack_from(">I", font, at + 12)[0]):
        first, last, glyph = struct.unpack_from(">III", font, at + 16 + 12 * i)
        found.update(range(first + (0 if glyph else 1), last + 1))
    return found


@cache
def colour_of(code: str) -> Any:
    """A colour such as ``#12161c`` as the layout wants it."""
    from reportlab.lib.colors import HexColor

    return HexColor(code)


def register() -> None:
    """Make both faces known to the layout; does nothing the second time."""
    from reportlab.graphics import shapes
    from reportlab.lib.fonts import addMapping
    from reportlab.pdfbase import pdfmetrics

    from rakeprep.handover.face import Face

    known = set(pdfmetrics.getRegisteredFontNames())
    for face in (PLAIN, BOLD):
        if face not in known:
            pdfmetrics.registerFont(Face(face, str(file_of(face))))
    for bold in (0, 1):
        for italic in (0, 1):
            addMapping(PLAIN, bold, italic, BOLD if bold else PLAIN)
    # Otherwise every drawing names a face that is not embedded, which an archival file must not.
    shapes.STATE_DEFAULTS["fontName"] = PLAIN
