"""The pad to sign on: strokes in millimetres from mouse and pen, ended and wiped."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QEnterEvent, QInputDevice, QPointingDevice, QTabletEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from rakeprep.text import msg
from rakeprep.ui.session import Session
from rakeprep.ui.signature_pad import LONGEST, SignaturePad

INCH = 96  # pixels to the inch, as Qt and CSS count them: 25.4 mm


@pytest.fixture
def pad(qtbot: QtBot, session: Session) -> SignaturePad:
    made = SignaturePad(session, msg("Signature"))
    qtbot.addWidget(made)
    made.resize(3 * INCH, 2 * INCH)
    made.show()
    return made


def drag(qtbot: QtBot, pad: SignaturePad, *points: tuple[int, int], release: bool = True) -> None:
    left = Qt.MouseButton.LeftButton
    qtbot.mousePress(pad, left, pos=QPoint(*points[0]))
    for point in points[1:]:
        qtbot.mouseMove(pad, QPoint(*point))
    if release:
        qtbot.mouseRelease(pad, left, pos=QPoint(*points[-1]))


def pen(pad: SignaturePad, kind: QEvent.Type, x: float, y: float, pressure: float) -> bool:
    """Send what a graphics tablet sends; tells whether the pad took it."""
    stylus = QPointingDevice(
        "test pen",
        1,
        QInputDevice.DeviceType.Stylus,
        QPointingDevice.PointerType.Pen,
        QInputDevice.Capability.Position | QInputDevice.Capability.Pressure,
        1,
        1,
    )
    up = kind is QEvent.Type.TabletRelease
    event = QTabletEvent(
        kind,
        stylus,
        QPointF(x, y),
        QPointF(pad.mapToGlobal(QPointF(x, y))),
        pressure,
        0,
        0,
        0,
        0,
        0,
        Qt.KeyboardModifier.NoModifier,
        Qt.MouseButton.LeftButton,
        Qt.MouseButton.NoButton if up else Qt.MouseButton.LeftButton,
    )
    QApplication.sendEvent(pad, event)
    return event.isAccepted()


def test_that_a_stroke_of_the_mouse_is_kept_in_millimetres(qtbot: QtBot, pad: SignaturePad) -> None:
    with qtbot.waitSignal(pad.changed):
        drag(qtbot, pad, (INCH, INCH), (2 * INCH, INCH), (2 * INCH, 0))
    (stroke,) = pad.strokes
    # the pad is 2 in high, y counts upward from its lower edge: by hand, 1 in = 25.4 mm
    expected = [(25.4, 25.4), (50.8, 25.4), (50.8, 50.8)]
    assert [point[:2] for point in stroke.points] == [pytest.approx(p) for p in expected]
    assert {point[3] for point in stroke.points} == {0.5}


def test_that_a_pen_tells_its_pressure(qtbot: QtBot, pad: SignaturePad) -> None:
    assert pen(pad, QEvent.Type.TabletPress, 0, 2 * INCH, 0.25)
    assert pen(pad, QEvent.Type.TabletMove, INCH, INCH, 0.75)
    assert pen(pad, QEvent.Type.TabletRelease, INCH, INCH, 0)
    (stroke,) = pad.strokes
    assert [point[:2] for point in stroke.points] == [pytest.approx((0, 0)), pytest.approx((25.4, 25.4))]
    assert [point[3] for point in stroke.points] == [pytest.approx(p, abs=0.01) for p in (0.25, 0.75)]


def test_that_seconds_never_run_backwards(qtbot: QtBot, pad: SignaturePad) -> None:
    drag(qtbot, pad, (10, 10), (20, 20))
    drag(qtbot, pad, (30, 10), (40, 20), (50, 30))
    seconds = [point[2] for stroke in pad.strokes for point in stroke.points]
    assert seconds[0] >= 0
    assert seconds == sorted(seconds)


def test_that_a_dot_without_a_line_is_no_stroke(qtbot: QtBot, pad: SignaturePad) -> None:
    drag(qtbot, pad, (10, 10))
    assert pad.strokes == ()


def test_that_moving_without_pressing_draws_nothing(qtbot: QtBot, pad: SignaturePad) -> None:
    qtbot.mouseMove(pad, QPoint(10, 10))
    qtbot.mouseMove(pad, QPoint(50, 50))
    pen(pad, QEvent.Type.TabletMove, 60, 60, 0)
    assert pad.strokes == ()


def test_that_only_the_left_button_draws(qtbot: QtBot, pad: SignaturePad) -> None:
    qtbot.mousePress(pad, Qt.MouseButton.RightButton, pos=QPoint(10, 10))
    qtbot.mouseMove(pad, QPoint(50, 50))
    qtbot.mouseRelease(pad, Qt.MouseButton.RightButton, pos=QPoint(50, 50))
    assert pad.strokes == ()


def test_that_wiping_takes_everything_away(qtbot: QtBot, pad: SignaturePad) -> None:
    drag(qtbot, pad, (10, 10), (20, 20))
    drag(qtbot, pad, (30, 10), (40, 20), release=False)
    with qtbot.waitSignal(pad.changed):
        pad.wipe()
    qtbot.mouseMove(pad, QPoint(60, 60))
    assert pad.strokes == ()


@pytest.mark.parametrize("way", ["leave", "hide"])
def test_that_a_stroke_ends_where_the_pad_is_left(qtbot: QtBot, pad: SignaturePad, way: str) -> None:
    drag(qtbot, pad, (10, 10), (20, 20), release=False)
    if way == "leave":
        QApplication.sendEvent(pad, QEvent(QEvent.Type.Leave))
    else:
        pad.hide()
        pad.show()
    qtbot.mouseMove(pad, QPoint(90, 90))
    assert [len(stroke.points) for stroke in pad.strokes] == [2]


def test_that_coming_back_begins_nothing_by_itself(qtbot: QtBot, pad: SignaturePad) -> None:
    here = QPointF(5, 5)
    QApplication.sendEvent(pad, QEnterEvent(here, here, here))
    qtbot.mouseMove(pad, QPoint(90, 90))
    assert pad.strokes == ()


def test_that_an_endless_stroke_stops_growing(pad: SignaturePad) -> None:
    pad.begin(QPointF(0, 0))
    for number in range(LONGEST + 500):
        pad.draw_to(QPointF(number % 200, number % 100))
    pad.end()
    assert len(pad.strokes[0].points) == LONGEST


def test_that_what_is_drawn_is_seen(qtbot: QtBot, session: Session, pad: SignaturePad) -> None:
    def dark() -> int:
        picture = pad.grab().toImage()
        ink = QColor(session.theme.ink)
        return sum(picture.pixelColor(x, 50) == ink for x in range(20, 200))

    assert dark() == 0
    drag(qtbot, pad, (20, 50), (200, 50))
    assert dark() > 100


def test_that_the_pad_has_a_name(pad: SignaturePad) -> None:
    assert pad.accessibleName() == "Signature"
