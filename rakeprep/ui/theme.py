"""Colours, sizes and the style sheet, for bright sun and for a dim workshop.

Every pair of text and ground has a contrast of at least 7 : 1 (WCAG 2.2, 1.4.6); a test measures it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from PySide6.QtGui import QColor, QFont, QFontDatabase, QPalette

from rakeprep.model.verdict import Verdict


@dataclass(frozen=True)
class Theme:
    """One set of colours; ``verdicts`` holds ink and ground of every verdict."""

    name: str
    ground: str
    panel: str
    ink: str
    quiet: str
    line: str
    accent: str
    on_accent: str
    bar: str
    on_bar: str
    chosen: str
    caution: str
    caution_ground: str
    verdicts: dict[Verdict, tuple[str, str]]


BRIGHT = Theme(
    name="bright",
    ground="#ffffff",
    panel="#f4f2ec",
    ink="#12161c",
    quiet="#3f4650",
    line="#8c95a0",
    accent="#0a4a75",
    on_accent="#ffffff",
    bar="#14202b",
    on_bar="#ffffff",
    chosen="#dcebf5",
    caution="#6b2c00",
    caution_ground="#fff1e2",
    verdicts={
        Verdict.IN_ORDER: ("#06512f", "#e6f3ec"),
        Verdict.ABSENT: ("#3f4650", "#f4f2ec"),
        Verdict.NOT_YET: ("#3f4650", "#f4f2ec"),
        Verdict.OUT_OF_DATE: ("#4b2f7a", "#f0eaf8"),
        Verdict.MEASURE_AGAIN: ("#523f00", "#fbf4d6"),
        Verdict.PUT_RIGHT: ("#7a2d00", "#fdece0"),
        Verdict.STOP: ("#85001a", "#fde6e9"),
    },
)

DIM = Theme(
    name="dim",
    ground="#11161c",
    panel="#1a212a",
    ink="#f3f1ea",
    quiet="#c6ccd4",
    line="#5d6875",
    accent="#9fd3f5",
    on_accent="#0b1015",
    bar="#070a0d",
    on_bar="#f3f1ea",
    chosen="#1f3648",
    caution="#ffd2a6",
    caution_ground="#33210f",
    verdicts={
        Verdict.IN_ORDER: ("#9be3bd", "#12291d"),
        Verdict.ABSENT: ("#c6ccd4", "#1a212a"),
        Verdict.NOT_YET: ("#c6ccd4", "#1a212a"),
        Verdict.OUT_OF_DATE: ("#d6c3fa", "#261d38"),
        Verdict.MEASURE_AGAIN: ("#f5dc84", "#2b2408"),
        Verdict.PUT_RIGHT: ("#ffbf94", "#331c0c"),
        Verdict.STOP: ("#ffb3bf", "#3a0d15"),
    },
)

THEMES = {theme.name: theme for theme in (BRIGHT, DIM)}


@dataclass(frozen=True)
class Size:
    """Heights in pixels: for gloves a target is at least 20 mm at 96 dots per inch, for a desk less."""

    name: str
    target: int
    key: int
    row: int
    text: int
    percent: int = 100  # of the usual letters

    @property
    def gloved(self) -> bool:
        """Whether keys are so large that room must be found for them."""
        return self.row > GLOVE_ROW

    def at(self, percent: int, dots: float = 96.0) -> Size:
        """The same with larger letters, on a screen with so many dots per inch."""
        finer = max(1.0, dots / 96.0)
        text = round(self.text * finer * percent / 100)
        target, key, row = (max(round(each * finer), round(2.1 * text)) for each in self._heights())
        return replace(self, target=target, key=key, row=row, text=text, percent=percent)

    def _heights(self) -> tuple[int, int, int]:
        return self.target, self.key, self.row


GLOVE_ROW = 60  # px
GLOVES = Size("gloves", target=76, key=76, row=76, text=16)
DESK = Size("desk", target=46, key=40, row=30, text=14)
SIZES = {size.name: size for size in (GLOVES, DESK)}
LETTERS = (100, 125, 150, 200)  # percent


def load_font(resources: Path, text: int) -> QFont:
    """The program's own font, so that every computer shows the same."""
    font = QFont(_family(resources))
    font.setPixelSize(text)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    return font


@cache
def _family(resources: Path) -> str:
    """The family of the shipped fonts; Qt keeps every copy that it is given, so each is given once."""
    family = "DejaVu Sans"
    for file in sorted((resources / "fonts").glob("*.ttf")):
        number = QFontDatabase.addApplicationFont(str(file))
        family = (QFontDatabase.applicationFontFamilies(number) or [family])[0]
    return family


def palette(theme: Theme) -> QPalette:
    """The Qt palette of a theme, for what the style sheet does not reach."""
    made = QPalette()
    roles = {
        QPalette.ColorRole.Window: theme.ground,
        QPalette.ColorRole.WindowText: theme.ink,
        QPalette.ColorRole.Base: theme.ground,
        QPalette.ColorRole.AlternateBase: theme.panel,
        QPalette.ColorRole.Text: theme.ink,
        QPalette.ColorRole.Button: theme.panel,
        QPalette.ColorRole.ButtonText: theme.ink,
        QPalette.ColorRole.Highlight: theme.accent,
        QPalette.ColorRole.HighlightedText: theme.on_accent,
        QPalette.ColorRole.PlaceholderText: theme.quiet,
        QPalette.ColorRole.ToolTipBase: theme.panel,
        QPalette.ColorRole.ToolTipText: theme.ink,
    }
    for role, colour in roles.items():
        made.setColor(role, QColor(colour))
    return made


def style_sheet(theme: Theme, size: Size) -> str:
    """The style sheet of a theme and size."""
    t = theme
    row, bar = size.row, 36 if size.gloved else 14
    return f"""
    * {{ color: {t.ink}; }}
    QMainWindow, QDialog {{ background: {t.ground}; }}
    QFrame#panel, QListView, QPlainTextEdit, QTextEdit {{
        background: {t.ground}; border: 1px solid {t.line}; border-radius: 6px; }}
    QFrame#bar {{ background: {t.bar}; }}
    QFrame#bar QLabel {{ color: {t.on_bar}; }}
    QFrame#foot {{ background: {t.panel}; border-top: 1px solid {t.line}; }}
    QFrame#caution {{ background: {t.caution_ground}; border: 2px solid {t.caution}; border-radius: 6px; }}
    QFrame#caution QLabel {{ color: {t.caution}; background: transparent; }}
    QFrame#welcome {{ background: {t.chosen}; border: 2px solid {t.accent}; border-radius: 6px; }}
    QFrame#welcome QLabel {{ color: {t.ink}; background: transparent; }}
    QLabel#title {{ font-size: {round(size.text * 1.7)}px; font-weight: bold; }}
    QLabel#heading {{ font-size: {round(size.text * 1.2)}px; font-weight: bold; }}
    QLabel#safe {{ font-size: {round(size.text * 1.14)}px; }}
    QLabel#question {{ font-size: {round(size.text * 1.28)}px; font-weight: bold; }}
    QLabel#quiet {{ color: {t.quiet}; }}
    QLabel#beside {{ font-size: {round(size.text * 0.93)}px; }}
    QLabel#verdict {{ font-size: {round(size.text * 1.07)}px; font-weight: bold; background: transparent; }}
    QLabel#refusal {{ color: {t.verdicts[Verdict.STOP][0]}; font-weight: bold; }}
    QPushButton {{
        background: {t.ground}; border: 1px solid {t.line}; border-radius: 6px;
        min-height: {size.target - 6}px; padding: 2px 14px; font-weight: bold; }}
    QPushButton:hover {{ background: {t.panel}; }}
    QPushButton:checked {{ background: {t.chosen}; border: 2px solid {t.accent}; }}
    QPushButton:disabled {{ color: {t.line}; }}
    QPushButton:focus, QToolButton:focus {{ border: 3px solid {t.accent}; }}
    QPushButton#forward {{ background: {t.accent}; color: {t.on_accent}; border-color: {t.accent}; }}
    QPushButton#forward:focus {{ border: 3px solid {t.ink}; }}
    QPushButton#forward:disabled {{ background: {t.panel}; color: {t.line}; border-color: {t.line}; }}
    QPushButton#key {{ min-height: {size.key - 2}px; min-width: {size.key - 2}px; padding: 0;
        font-size: {round(size.text * 1.28)}px; }}
    QPushButton#unit {{ min-height: {size.key - 2}px; min-width: {size.key - 18}px; padding: 0 8px;
        color: {t.accent}; }}
    QPushButton#store {{ min-height: {size.key - 4}px; border: 2px solid {t.accent}; color: {t.accent}; }}
    QPushButton#small {{ min-height: {row - 2}px; padding: 0 10px; font-weight: normal; }}
    QPushButton#sign {{ min-height: {row - 4}px; padding: 0 10px; font-weight: normal;
        border: 2px solid {t.accent}; color: {t.accent}; }}
    QPushButton#sign:disabled {{ border-color: {t.line}; color: {t.line}; }}
    QPushButton#option {{ text-align: left; }}
    QLineEdit, QComboBox, QDateEdit {{
        background: {t.ground}; border: 1px solid {t.line}; border-radius: 6px;
        padding: 4px 8px; min-height: {row - 10}px;
        placeholder-text-color: {t.quiet};
        selection-background-color: {t.accent}; selection-color: {t.on_accent}; }}
    QLineEdit:focus, QComboBox:focus, QPlainTextEdit:focus, QListView:focus {{
        border: 2px solid {t.accent}; }}
    QLineEdit#big {{ font-size: {round(size.text * 2.1)}px; font-weight: bold; border: 2px solid {t.accent};
        min-height: {max(size.target - 12, round(size.text * 2.6))}px; }}
    QComboBox::drop-down {{ border: none; width: 26px; }}
    QComboBox::down-arrow {{ image: none; }}
    QComboBox QAbstractItemView {{ background: {t.ground}; border: 1px solid {t.line}; }}
    QFrame#bar QComboBox {{ background: {t.bar}; color: {t.on_bar}; border: 1px solid {t.line}; }}
    QFrame#bar QPushButton {{ background: {t.bar}; color: {t.on_bar}; }}
    QListWidget {{ padding: 0 5px; }}
    QListWidget::item {{ padding: 6px 3px; min-height: {row - 10}px; }}
    QComboBox QAbstractItemView::item {{ padding: 0 6px; min-height: {row}px; }}
    QListView {{ outline: 0; }}
    QListView::item:selected {{ background: {t.chosen}; color: {t.ink}; border: none; }}
    QCheckBox {{ min-height: {size.row}px; spacing: 10px; }}
    QCheckBox::indicator {{ width: {round(size.text * 1.4)}px; height: {round(size.text * 1.4)}px; }}
    QMenu {{ background: {t.ground}; border: 1px solid {t.line}; }}
    QMenu::item {{ min-height: {size.target - 12}px; padding: 6px 22px; }}
    QMenu::item:selected {{ background: {t.chosen}; color: {t.ink}; }}
    QScrollBar:vertical {{ width: {bar}px; background: {t.panel}; border: none; }}
    QScrollBar::handle:vertical {{ background: {t.quiet}; border-radius: 4px; margin: 2px;
        min-height: {2 * bar + 12}px; }}
    QScrollBar::add-line:vertical, QScrollBar::sub-line:vertical {{ height: 0; }}
    QScrollArea {{ border: none; background: transparent; }}
    QToolTip {{ background: {t.panel}; color: {t.ink}; border: 1px solid {t.line}; }}
    QProgressBar {{ border: 1px solid {t.line}; border-radius: 6px; background: {t.panel}; }}
    QProgressBar::chunk {{ background: {t.accent}; }}
    """ + "".join(finding_style(verdict, *colours) for verdict, colours in t.verdicts.items())


def finding_name(verdict: Verdict) -> str:
    """The name under which the style sheet knows what a check says."""
    return f"finding-{verdict.name.lower()}"


def finding_style(verdict: Verdict, ink: str, ground: str) -> str:
    """The part of the style sheet for one verdict: one sheet for all is faster than one for each card."""
    card = f"QFrame#{finding_name(verdict)}"
    return f"""
    {card} {{ background: {ground}; border: 2px solid {ink}; border-radius: 6px; }}
    {card} QLabel {{ background: transparent; }}
    {card} QLabel#verdict {{ color: {ink}; }}
    """
