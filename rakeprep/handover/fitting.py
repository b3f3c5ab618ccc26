"""Making any text fit a given place: smaller, then on more lines, then with an ellipsis."""

from __future__ import annotations

from dataclasses import dataclass

from rakeprep.handover.fonts import BOLD, PLAIN

ELLIPSIS = "…"
MOST = 600  # characters looked at; no place on page one holds more
STEP = 0.5
SPREAD = 1.22  # distance of two lines in sizes
SHORT = 0.5  # a line that ends so early is better ended within a word


@dataclass(frozen=True, slots=True)
class Fitted:
    """Lines in one size; ``whole`` is false where something was left out."""

    lines: tuple[str, ...]
    size: float
    bold: bool
    whole: bool = True
    spread: float = SPREAD

    @property
    def leading(self) -> float:
        """Distance of two lines."""
        return self.size * self.spread

    @property
    def height(self) -> float:
        """Height of all lines."""
        return self.leading * len(self.lines)

    @property
    def face(self) -> str:
        """The font's name."""
        return BOLD if self.bold else PLAIN


def width_of(text: str, size: float, bold: bool = False) -> float:
    """Width of a text in points."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    return float(stringWidth(text, BOLD if bold else PLAIN, size))


def fit(
    text: str,
    width: float,
    size: float,
    lines: int = 1,
    least: float | None = None,
    bold: bool = False,
    spread: float = SPREAD,
) -> Fitted:
    """``text`` in at most ``lines`` lines of ``width`` points, in the largest size from ``least`` on."""
    cut = text[:MOST]
    now = size
    while True:
        wrapped = wrap(cut, width, now, bold, lines + 1)
        if len(wrapped) <= lines and len(text) <= MOST:
            return Fitted(tuple(wrapped), now, bold, True, spread)
        if now - STEP < (size if least is None else least):
            break
        now -= STEP
    kept = wrapped[:lines]
    kept[-1] = ended(" ".join(wrapped[lines - 1 : lines + 1]), width, now, bold)
    return Fitted(tuple(kept), now, bold, False, spread)


def wrap(text: str, width: float, size: float, bold: bool, most: int) -> list[str]:
    """The first ``most`` lines of text broken at spaces; a word wider than the line is broken inside."""
    lines: list[str] = []
    line, used, space = "", 0.0, width_of(" ", size, bold)
    for word in text.split():
        own = width_of(word, size, bold)
        if line and used + space + own <= width:
            line, used = f"{line} {word}", used + space + own
            continue
        if line:
            lines.append(line)
        line, used = word, own
        while used > width and len(line) > 1 and len(lines) < most:
            count = broken_at(line, width, size, bold)
            lines.append(line[:count])
            line = line[count:]
            used = width_of(line, size, bold)
        if len(lines) >= most:
            return lines[:most]
    return [*lines, line] if line or not lines else lines


def broken_at(word: str, width: float, size: float, bold: bool) -> int:
    """How many characters of a word fit, at least one."""
    low, high = 1, len(word)
    while low < high:
        middle = (low + high + 1) // 2
        if width_of(word[:middle], size, bold) <= width:
            low = middle
        else:
            high = middle - 1
    return low


def ended(line: str, width: float, size: float, bold: bool) -> str:
    """A line with an ellipsis at its end, after a whole word where that leaves most of the line."""
    line = line[:MOST]
    room = width - width_of(ELLIPSIS, size, bold)
    kept = next(iter(wrap(line, room, size, bold, 1)), "")
    if width_of(kept, size, bold) < width * SHORT:
        kept = line[: broken_at(line, room, size, bold)]
    return kept.rstrip(" ,;:·(") + ELLIPSIS
