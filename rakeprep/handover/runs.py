"""Words in one look after another as the layout library holds them: nothing in a text can act as markup.

Importing this loads the library: import it late.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus.paraparser import ParaFrag

from rakeprep.handover.fonts import BOLD, PLAIN, colour_of


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of text; what is left out is as in the style of its paragraph."""

    text: str
    size: float | None = None
    bold: bool | None = None
    colour: str = ""


NEW_LINE = Run("\n")


def fragments(runs: Iterable[Run], look: ParagraphStyle) -> list[Any]:
    """The runs with their looks; a line break in a text starts a new line."""
    made: list[Any] = []
    for run in runs:
        for number, part in enumerate(run.text.split("\n")):
            if number:
                made.append(fragment(run, look, "", lineBreak=True))
            if part:
                made.append(fragment(run, look, part))
    return made or [fragment(Run(""), look, "")]


def fragment(run: Run, look: ParagraphStyle, text: str, **more: Any) -> Any:
    """One piece on one line."""
    face = look.fontName if run.bold is None else BOLD if run.bold else PLAIN
    return ParaFrag(
        text=text,
        fontName=face,
        fontSize=run.size or look.fontSize,
        textColor=colour_of(run.colour) if run.colour else look.textColor,
        bold=0,
        italic=0,
        rise=0,
        greek=0,
        link=[],
        us_lines=[],
        **more,
    )
