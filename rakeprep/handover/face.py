"""A face of the paper for the layout. Importing this loads the layout library: import it late."""

from __future__ import annotations

from typing import Any

from reportlab.pdfbase.ttfonts import TTFont

MOST = 20_000  # words remembered
LONGEST = 40  # characters of a word that may come again


class Face(TTFont):  # type: ignore[misc]
    """A face that measures each word once: the same words come again in every table."""

    def __init__(self, *given: Any, **more: Any) -> None:
        super().__init__(*given, **more)
        self.measured: dict[str, float] = {}

    def stringWidth(self, text: str, size: float, encoding: str = "utf8") -> float:  # noqa: N802 - theirs
        """Width of a text in points."""
        wide = self.measured.get(text)
        if wide is None:
            if len(self.measured) >= MOST:
                self.measured.clear()
            known, unknown = self.face.charWidths.get, self.face.defaultWidth
            wide = float(sum(known(ord(char), unknown) for char in text))
            if len(text) <= LONGEST:
                self.measured[text] = wide
        return 0.001 * size * wide
