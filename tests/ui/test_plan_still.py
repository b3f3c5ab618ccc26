"""The drawing as a picture: painting over what a step changes gives what painting everything gives."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QImage, QPainter, QPixmap, QRegion
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from rakeprep.drawing.plan import known_part, plan
from rakeprep.jobs.open_job import OpenJob
from rakeprep.steps import all_steps
from rakeprep.text import ENGLISH
from rakeprep.ui.plan_layout import lay_out
from rakeprep.ui.plan_still import Canvas, Still
from rakeprep.ui.session import Session
from rakeprep.ui.theme import BRIGHT, DIM, Theme

WIDE, HIGH = 474, 467


def canvas_of(job: OpenJob, theme: Theme) -> Canvas:
    """The machine of a job with a word over the drawing."""
    drawn, font = plan(job.profile, job.tractor), QApplication.font()
    laid = lay_out(drawn, QRectF(0, 0, WIDE, HIGH), QFontMetricsF(font), ENGLISH.say, [])

    def finish(painter: QPainter) -> None:
        painter.setPen(QColor(theme.quiet))
        painter.drawText(laid.caption, "over it")

    return Canvas(drawn, laid.place, theme, font, ENGLISH.say, finish)


def whole(canvas: Canvas, current: frozenset[str], ratio: float) -> QImage:
    """The picture with everything painted anew, by another way than the one under test."""
    still = Still(canvas, WIDE, HIGH, ratio)
    picture = QPixmap(round(WIDE * ratio), round(HIGH * ratio))
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.magenta)
    still._paint(picture, current, QRegion(0, 0, WIDE, HIGH))
    return picture.toImage()


@pytest.mark.parametrize(("machine", "theme", "ratio"), [(0, BRIGHT, 1.0), (1, DIM, 2.0)])
def test_that_going_from_step_to_step_gives_the_picture_that_painting_anew_gives(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob], machine: int, theme: Theme, ratio: float
) -> None:
    job = start(machine)
    canvas = canvas_of(job, theme)
    still = Still(canvas, WIDE, HIGH, ratio)
    for step in all_steps():
        states = job.assessment.of_step(step.key)
        current = frozenset(known_part(canvas.plan, s.task.place.part) for s in states)
        assert still.picture(current).toImage() == whole(canvas, current, ratio), step.key
    assert still.picture(frozenset()).toImage() == whole(canvas, frozenset(), ratio)
