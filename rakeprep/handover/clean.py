"""Text on its way to the paper: only characters the faces have."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from functools import lru_cache

from rakeprep.handover.fonts import characters
from rakeprep.text import Message, plural

LONGEST = 2000
REMEMBERED = 1000  # texts: the same names and words come again in every table
SPACES = {0x09, 0x2028, 0x2029, 0x85, 0x0B, 0x0C}
# Controls, format characters (byte order marks, marks that turn the writing direction), surrogates.
DROPPED = frozenset({"Cc", "Cf", "Cs"})


@lru_cache(REMEMBERED)
def clean(text: str) -> str:
    """``text`` in NFC; what cannot be shown stands as ``[U+1F600]``, what is invisible is dropped."""
    if text.isascii() and text.isprintable():  # both faces have all of ASCII
        return text.strip()
    return unicodedata.normalize("NFC", "".join(pieces(unicodedata.normalize("NFC", text)))).strip()


def pieces(text: str) -> Iterator[str]:
    """The characters of ``text`` as they will stand on the paper."""
    shown = characters()
    for char in text.replace("\r\n", "\n").replace("\r", "\n"):
        code = ord(char)
        if char == "\n":
            yield char
        elif code in SPACES:
            yield " "
        elif unicodedata.category(char) in DROPPED:
            continue
        elif code in shown:
            yield char
        else:
            yield f"[U+{code:04X}]"


def one_line(text: str) -> str:
    """Clean text without line breaks and without runs of spaces."""
    return " ".join(clean(text).split())


def shortened(text: str, longest: int = LONGEST) -> tuple[str, Message | None]:
    """Clean text of at most ``longest`` characters, and a remark on what is left out, if anything."""
    whole = clean(text[: 4 * longest])
    over = max(len(text) - longest, 0)
    if len(whole) <= longest and not over:
        return whole, None
    remark = plural(
        "… one more character; the attached entries have the whole text.",
        "… {count} more characters; the attached entries have the whole text.",
        max(over, len(whole) - longest),
    )
    return whole[:longest], remark


def ended(text: str, longest: int) -> str:
    """Text that ends in an ellipsis where it is too long."""
    return text if len(text) <= longest else f"{text[: longest - 1].rstrip()}…"
