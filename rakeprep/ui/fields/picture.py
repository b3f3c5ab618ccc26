"""The editor for a picture: from a file, or from the folder that a camera fills, newest first."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QFileSystemWatcher, QIODevice, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QIcon, QImageReader, QPixmap
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout

from rakeprep.jobs.assess import Task
from rakeprep.jobs.camera import camera_folder, choose_camera_folder, newest_pictures
from rakeprep.model.entry import Entry
from rakeprep.text import msg
from rakeprep.ui.fields.editor import Editor, key
from rakeprep.ui.labels import wrapped
from rakeprep.ui.session import Session

CHOOSE_PICTURE = msg("choose a picture…")
CAMERA_FOLDER = msg("the camera's folder…")
OFFERED, ACROSS = 6, 2
SMALL = QSize(128, 96)
STORED = QSize(320, 240)
LARGEST_SHOWN = 40_000_000  # bytes; a larger file is offered by its name


class Picture(Editor):
    """A picture; its original goes into the job as it is, the paper makes its own small copy."""

    picture = Signal(object)

    def __init__(self, session: Session, task: Task, entry: Entry | None) -> None:
        super().__init__(session, task, entry)
        self.offered: dict[Path, QPushButton] = {}
        self._waiting: list[Path] = []
        self._shown = QLabel()
        self._shown.hide()
        self._watcher = QFileSystemWatcher(self)
        self._watcher.directoryChanged.connect(self._look)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.timeout.connect(self._draw_one)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        if entry is not None:
            self._column.addWidget(wrapped(entry.reason))
        self._column.addWidget(self._shown)
        self._column.addLayout(self._keys())
        self._from = wrapped("", "quiet")
        self._column.addWidget(self._from)
        self._grid = QGridLayout()
        self._column.addLayout(self._grid)
        self._column.addStretch()
        self._watch(session.camera or camera_folder(session.data))

    def _keys(self) -> QHBoxLayout:
        row = QHBoxLayout()
        for words, action in ((CHOOSE_PICTURE, self._choose), (CAMERA_FOLDER, self._choose_folder)):
            made = key(self.session.say(words))
            made.setAccessibleName(f"{self.title}: {made.text()}")
            made.clicked.connect(action)
            row.addWidget(made)
            self.first = self.first or made
        row.addStretch()
        return row

    def show_stored(self, data: bytes) -> None:
        """Show the picture that is kept, small."""
        buffer = QBuffer(self)
        buffer.setData(QByteArray(data))
        buffer.open(QIODevice.OpenModeFlag.ReadOnly)
        small = drawn(QImageReader(buffer), STORED)
        buffer.close()
        self._shown.setVisible(not small.isNull())
        self._shown.setPixmap(small)
        self._shown.setAccessibleName("" if self.entry is None else self.entry.reason)

    # ------------------------------------------------------------------ the camera's folder

    def _choose(self) -> None:
        pictures = self.session.say(msg("Pictures"))
        found = self.session.dialogs.open_file(
            self.task.field.label, self.session.camera or Path.home(), f"{pictures} (*.jpg *.jpeg *.png)"
        )
        if found is not None:
            self.picture.emit(found)

    def _choose_folder(self) -> None:
        found = self.session.dialogs.folder(CAMERA_FOLDER, self.session.camera or Path.home())
        if found is not None:
            choose_camera_folder(self.session.data, found)
            self._watch(found)

    def _watch(self, folder: Path | None) -> None:
        self.session.camera = folder
        if self._watcher.directories():
            self._watcher.removePaths(self._watcher.directories())
        if folder is not None:
            self._watcher.addPath(str(folder))
        self._look()

    def _look(self) -> None:
        """Offer the newest pictures of the folder as they are now."""
        folder = self.session.camera
        found = [] if folder is None else newest_pictures(folder, OFFERED)
        for made in self.offered.values():
            made.hide()
            made.deleteLater()
        self.offered = {}
        for number, file in enumerate(found):
            self.offered[file] = self._offer(file)
            self._grid.addWidget(self.offered[file], number // ACROSS, number % ACROSS)
        self._from.setVisible(folder is not None)
        self._from.setText(self._said(folder, bool(found)))
        self._waiting = found
        self._soon.start(0)

    def _said(self, folder: Path | None, some: bool) -> str:
        if folder is None:
            return ""
        if some:
            return self.session.say(msg("The newest in {folder}:", folder=str(folder)))
        return self.session.say(
            msg("No picture in {folder} yet; a new one appears here by itself.", folder=str(folder))
        )

    def _offer(self, file: Path) -> QPushButton:
        made = key(taken_at(file))
        made.setAccessibleName(f"{self.title}: {file.name}")
        made.setToolTip(file.name)
        made.setIconSize(SMALL)
        made.setMinimumHeight(SMALL.height() + 12)
        made.clicked.connect(lambda: self.picture.emit(file))
        return made

    def _draw_one(self) -> None:
        """Draw one small picture, then let the window answer before the next."""
        if not self._waiting:
            return
        file = self._waiting.pop(0)
        made = self.offered.get(file)
        if made is not None and size_of(file) <= LARGEST_SHOWN:
            made.setIcon(QIcon(drawn(QImageReader(str(file)), SMALL)))
        self._soon.start(0)


def drawn(reader: QImageReader, within: QSize) -> QPixmap:
    """A picture made small while it is read; an empty one if it cannot be read."""
    reader.setAutoTransform(True)
    size = reader.size()
    if size.isValid():
        reader.setScaledSize(size.scaled(within, Qt.AspectRatioMode.KeepAspectRatio))
    return QPixmap.fromImage(reader.read())


def taken_at(file: Path) -> str:
    """When a file was written, by the clock; its name where that is not known."""
    try:
        return f"{dt.datetime.fromtimestamp(file.stat().st_mtime).astimezone():%H:%M}"
    except (OSError, ValueError, OverflowError):
        return file.name


def size_of(file: Path) -> int:
    """Bytes of a file; 0 where it is gone."""
    try:
        return file.stat().st_size
    except OSError:
        return 0
