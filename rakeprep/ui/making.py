"""A paper being made on another thread, so that the window never stops."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal

from rakeprep.jobs.reading import Refused
from rakeprep.jobs.starting import DataRefused
from rakeprep.text import msg

BEING_WRITTEN = msg("The paper is being written …")


class Making(QObject):
    """One paper being made by ``work``, which may not touch an open job. ``ended`` tells where the paper is,
    or why there is none."""

    ended = Signal(object)

    def __init__(self, work: Callable[[], Path]) -> None:
        super().__init__()
        self.work = work

    def start(self) -> None:
        """Begin on another thread."""
        QThreadPool.globalInstance().start(_Work(self))


class _Work(QRunnable):
    """Layout and file of one paper."""

    def __init__(self, making: Making) -> None:
        super().__init__()
        self._making = making

    def run(self) -> None:
        making = self._making
        try:
            path = making.work()
        except (Refused, DataRefused) as error:
            making.ended.emit(error.message)
        except Exception as error:
            making.ended.emit(msg("The paper could not be made: {reason}", reason=repr(error)))
        else:
            making.ended.emit(msg("Written: {file}", file=str(path)))
