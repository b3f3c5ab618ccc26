"""The caution before the hazard: a band on the page, and a gate in the place of the first question."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from rakeprep.drawing import signs
from rakeprep.drawing.strokes import Tone
from rakeprep.jobs.assess import State
from rakeprep.model.step import Caution, Step
from rakeprep.text import msg
from rakeprep.ui.bars import Bars, Words
from rakeprep.ui.fields.editor import Editor, key
from rakeprep.ui.labels import wrapped
from rakeprep.ui.plan_picture import fit
from rakeprep.ui.session import Session
from rakeprep.ui.small_drawing import paint
from rakeprep.ui.stamp import stamp

CAUTION_READ = msg("I have read this, and it is so")
BESIDE = 44  # px; width of a sign in the band
LARGE = 84  # px; width of a sign in the gate
PLAIN, BOLD = 0.55, 0.63  # width of a letter as against its height in our own font, on average
LINE = 1.2  # height of a line as against that of its letters
# ISO 3864-4 in every theme; from memory
SAFETY_YELLOW, SAFETY_BLACK = QColor("#f9a800"), QColor("#000000")
SAFETY_BLUE, SAFETY_WHITE = QColor("#005387"), QColor("#ffffff")
PLAINLY = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;"})  # html.escape comes with half a megabyte


class CautionGate(Editor):
    """Stands in the place of the editor until the cautions of the step were read."""

    def __init__(self, session: Session, state: State, step: Step) -> None:
        super().__init__(session, state.task, None)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(10)
        cards = Bars(10)
        for caution in step.cautions:
            cards.add(CautionCard(session, caution), card_words(session, caution))
        column.addLayout(cards)
        agree = key(session.say(CAUTION_READ), "forward")
        agree.clicked.connect(lambda: self.given.emit("read", ""))
        column.addWidget(agree)
        self.first = agree


class CautionCard(QFrame):
    """One hazard in large letters: its sign, what it is, and the safe state that is asked for."""

    def __init__(self, session: Session, caution: Caution) -> None:
        super().__init__()
        self.setObjectName("caution")
        words = QVBoxLayout()
        words.setSpacing(4)
        words.addStretch()
        words.addWidget(wrapped(session.say(caution.hazard), "question"))
        words.addWidget(wrapped(session.say(caution.safe_state), "safe"))
        words.addStretch()
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 8, 12, 8)
        row.setSpacing(14)
        row.addWidget(CautionSign(session, caution.sign, LARGE), 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(words, 1)
        self.setAccessibleName(spoken(session, caution))


def card_words(session: Session, caution: Caution) -> Words:
    """How much is written on a card, in the sizes of the style sheet."""
    text = session.size.text
    hazard = (len(session.say(caution.hazard)) * text * 1.28 * BOLD, text * 1.28 * LINE)
    safe = (len(session.say(caution.safe_state)) * text * 1.14 * PLAIN, text * 1.14 * LINE)
    return Words((hazard, safe), beside=LARGE + 42, least=round(LARGE * 0.9))


class CautionBand(QWidget):
    """The hazards of a step with their safe states; it stays as long as the page."""

    def __init__(self, session: Session, step: Step) -> None:
        super().__init__()
        bars = Bars()
        for caution in step.cautions:
            bars.add(caution_bar(session, caution), bar_words(session, caution))
        self.setLayout(bars)
        if not step.cautions:
            self.hide()  # showing it without a parent would open a window


def bar_words(session: Session, caution: Caution) -> Words:
    """How much is written on a bar."""
    text = session.size.text * 0.93
    letters = len(session.say(caution.hazard)) * BOLD + len(session.say(caution.safe_state)) * PLAIN
    return Words(((letters * text, text * LINE),), beside=BESIDE + 28, least=round(BESIDE * 0.9))


def caution_bar(session: Session, caution: Caution) -> QFrame:
    """A hazard with its safe state."""
    bar = QFrame()
    bar.setObjectName("caution")
    hazard, safe = session.say(caution.hazard), session.say(caution.safe_state)
    words = QLabel(f"<b>{hazard.translate(PLAINLY)}</b> {safe.translate(PLAINLY)}")
    words.setObjectName("beside")
    words.setTextFormat(Qt.TextFormat.RichText)
    words.setWordWrap(True)
    row = QHBoxLayout(bar)
    row.setContentsMargins(8, 4, 8, 4)
    row.setSpacing(8)
    row.addWidget(CautionSign(session, caution.sign, BESIDE))
    row.addWidget(words, 1)
    bar.setAccessibleName(spoken(session, caution))
    return bar


def spoken(session: Session, caution: Caution) -> str:
    """What a screen reader says."""
    return session.say(msg("Caution: {hazard} {safe}", hazard=caution.hazard, safe=caution.safe_state))


class CautionSign(QWidget):
    """The sign of a hazard."""

    def __init__(self, session: Session, sign: str, wide: int) -> None:
        super().__init__()
        self.sign = sign
        self.setFixedSize(QSize(wide, round(wide * signs.SHEET.height / signs.SHEET.width)))
        self.setAccessibleName(session.say(msg("Caution")))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        stamp(painter, QRectF(self.rect()), self.sign, lambda once, area: paint_sign(once, area, self.sign))


def paint_sign(painter: QPainter, area: QRectF, sign: str) -> None:
    """Paint a sign as large as the area allows: a warning, or what must be worn."""
    place = fit(signs.SHEET, area)
    if sign in signs.MUST_BE_WORN:
        painter.setPen(QPen(SAFETY_WHITE, 2.0 * place.scale))
        painter.setBrush(SAFETY_BLUE)
        radius = signs.DISC * place.scale
        painter.drawEllipse(place.point(signs.MIDDLE), radius, radius)
        paint(painter, signs.sign(sign), signs.SHEET, area, dict.fromkeys(Tone, SAFETY_WHITE))
        return
    corners = [place.point(corner) for corner in signs.CORNERS]
    painter.setBrush(SAFETY_YELLOW)
    for colour, wide in ((SAFETY_YELLOW, signs.RIM + 3.0), (SAFETY_BLACK, signs.RIM - 2.0)):
        pen = QPen(colour, wide * place.scale)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        painter.setPen(pen)
        painter.drawPolygon(QPolygonF(corners))
    inks = dict.fromkeys(Tone, SAFETY_BLACK) | {Tone.GROUND: SAFETY_YELLOW}
    paint(painter, signs.sign(sign), signs.SHEET, area, inks)
