"""Every question that needs a window of its own, behind one object that tests can replace."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from rakeprep.text import Language, Message, msg

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget  # the dialogs of Qt load slowly: each when it is asked

NARROWEST = 26  # heights of a line; a question is not narrower
OK = msg("OK")
CANCEL = msg("Cancel")


class Dialogs(Protocol):
    """What a page may ask."""

    def tell(self, message: Message) -> None:
        """Say one thing that the user has to read."""

    def sure(self, question: Message, yes: Message, no: Message) -> bool:
        """Ask before something that cannot be undone."""

    def reason(self, title: Message, question: Message) -> str | None:
        """Ask for a few words; None when the user turned back."""

    def name(self, title: Message, question: Message, known: list[str]) -> str | None:
        """Ask for a person's name; None when the user turned back."""

    def instrument(self, name: str, kind: str, until: str) -> tuple[str, str, str] | None:
        """Ask for an instrument: name, kind, last day of its calibration; None when the user turned back."""

    def names(self, now: Mapping[str, str]) -> tuple[dict[str, str], str] | None:
        """Ask for the right names of a job, and why; None when the user turned back."""

    def passphrase(self, question: Message) -> str | None:
        """Ask for a passphrase; None when the user turned back."""

    def open_file(self, title: Message, folder: Path, kinds: str) -> Path | None:
        """Ask for a file."""

    def folder(self, title: Message, folder: Path) -> Path | None:
        """Ask for a folder."""


@dataclass
class WindowDialogs:
    """The real dialogs, above the window that ``parent`` gives."""

    parent: Callable[[], QWidget | None]
    language: Callable[[], Language]

    def tell(self, message: Message) -> None:
        from PySide6.QtWidgets import QMessageBox

        say = self.language().say
        box = QMessageBox(self.parent())
        box.setText(say(message))
        box.addButton(say(OK), QMessageBox.ButtonRole.AcceptRole)
        box.exec()

    def sure(self, question: Message, yes: Message, no: Message) -> bool:
        from PySide6.QtWidgets import QMessageBox

        say = self.language().say
        box = QMessageBox(self.parent())
        box.setText(say(question))
        agree = box.addButton(say(yes), QMessageBox.ButtonRole.AcceptRole)
        refuse = box.addButton(say(no), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(refuse)
        box.exec()
        return box.clickedButton() is agree

    def reason(self, title: Message, question: Message) -> str | None:
        from PySide6.QtWidgets import QPlainTextEdit

        edit = QPlainTextEdit()
        edit.setTabChangesFocus(True)
        edit.setMinimumSize(420, 110)
        return edit.toPlainText() if self._asked(title, question, edit) else None

    def name(self, title: Message, question: Message, known: list[str]) -> str | None:
        from PySide6.QtWidgets import QComboBox

        box = QComboBox()
        box.setEditable(True)
        box.addItems(known)
        box.setCurrentText("")
        return box.currentText() if self._asked(title, question, box) else None

    def instrument(self, name: str, kind: str, until: str) -> tuple[str, str, str] | None:
        from rakeprep.ui.instrument_dialog import ABOUT, INSTRUMENT, InstrumentForm

        form = InstrumentForm(self.language(), name, kind, until)
        return form.given() if self._asked(INSTRUMENT, ABOUT, form) else None

    def names(self, now: Mapping[str, str]) -> tuple[dict[str, str], str] | None:
        from rakeprep.ui.right_names import ABOUT, CORRECT_NAMES, NamesForm

        form = NamesForm(self.language(), now)
        return form.given() if self._asked(CORRECT_NAMES, ABOUT, form) else None

    def passphrase(self, question: Message) -> str | None:
        from PySide6.QtWidgets import QLineEdit

        edit = QLineEdit()
        edit.setEchoMode(QLineEdit.EchoMode.Password)
        return edit.text() if self._asked(question, question, edit) else None

    def _asked(self, title: Message, question: Message, field: QWidget) -> bool:
        from PySide6.QtCore import Qt
        from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QVBoxLayout

        say = self.language().say
        dialog = QDialog(self.parent())
        dialog.setWindowTitle(say(title))
        label = QLabel(say(question))
        label.setWordWrap(True)
        label.setBuddy(field)
        field.setAccessibleName(say(question))
        buttons = QDialogButtonBox()
        ok = buttons.addButton(say(OK), QDialogButtonBox.ButtonRole.AcceptRole)
        ok.setDefault(True)
        ok.setObjectName("forward")
        buttons.addButton(say(CANCEL), QDialogButtonBox.ButtonRole.RejectRole)
        buttons.accepted.connect(dialog.accept)
        buttons.rejected.connect(dialog.reject)
        wide = max(NARROWEST * label.fontMetrics().height(), field.minimumSizeHint().width())
        label.setMinimumSize(wide, label.heightForWidth(wide))
        layout = QVBoxLayout(dialog)
        layout.setContentsMargins(14, 12, 14, 12)
        layout.setSpacing(10)
        for widget in (label, field, buttons):
            layout.addWidget(widget)
        field.setFocus(Qt.FocusReason.OtherFocusReason)
        answer = dialog.exec() == QDialog.DialogCode.Accepted
        dialog.deleteLater()
        return answer

    def open_file(self, title: Message, folder: Path, kinds: str) -> Path | None:
        from PySide6.QtWidgets import QFileDialog

        name, _ = QFileDialog.getOpenFileName(self.parent(), self.language().say(title), str(folder), kinds)
        return Path(name) if name else None

    def folder(self, title: Message, folder: Path) -> Path | None:
        from PySide6.QtWidgets import QFileDialog

        name = QFileDialog.getExistingDirectory(self.parent(), self.language().say(title), str(folder))
        return Path(name) if name else None
