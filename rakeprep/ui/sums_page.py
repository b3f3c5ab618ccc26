"""“Work it out”: every sum of the trade, without a job."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListView,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from rakeprep.model.entry import Slot
from rakeprep.model.finding import Finding
from rakeprep.sums import Refused, Sum, Worked, all_sums, work_out
from rakeprep.sums.reading import how_to_type
from rakeprep.sums.showing import in_columns, shown
from rakeprep.text import Message, msg
from rakeprep.ui.fields.editor import key
from rakeprep.ui.findings_panel import FindingCard
from rakeprep.ui.flow import Upright
from rakeprep.ui.labels import beside, wrapped
from rakeprep.ui.session import Session

NOWHERE = (Slot("sums", "answer"),)


class SumsPage(QWidget):
    """Choose a sum, fill it in, read the answer. ``closed`` goes back to where one came from."""

    closed = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.sum: Sum | None = None
        self.lines: dict[str, QLineEdit] = {}
        say = session.say
        title = QLabel(say(msg("Work it out")))
        title.setObjectName("title")
        self.search = QLineEdit()
        self.search.setPlaceholderText(say(msg("search")))
        self.search.setAccessibleName(say(msg("search among the sums")))
        self.search.textChanged.connect(self._fill)
        self.list = QListWidget()
        self.list.setAccessibleName(say(msg("sums")))
        self.list.setWordWrap(True)
        self.list.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setResizeMode(QListView.ResizeMode.Adjust)
        self.list.currentItemChanged.connect(self._chosen)
        back = key(say(msg("◂ back")))
        back.clicked.connect(self.closed)
        left = QVBoxLayout()
        left.setSpacing(8)
        for widget in (title, self.search, self.list, back):
            left.addWidget(widget)
        self._right = Upright(QWidget())
        row = QHBoxLayout(self)
        row.setContentsMargins(24, 18, 24, 18)
        row.setSpacing(18)
        row.addLayout(left, 4)
        row.addWidget(self._right, 7)
        self._fill("")
        self.list.setCurrentRow(0)
        self.setFocusProxy(self.search)

    def put_away(self) -> None:
        """Nothing to keep: sums are worked out anew."""

    def focus_first(self) -> None:
        """Begin with the search."""
        self.search.setFocus()

    # ------------------------------------------------------------------ choosing

    def _fill(self, wanted: str) -> None:
        say = self.session.say
        words = wanted.casefold().split()
        self.list.clear()
        for each in all_sums():
            text = say(each.title)
            found = f"{text} {each.key} {say(each.about)}".casefold()
            if all(word in found for word in words):
                item = QListWidgetItem(text[:1].upper() + text[1:])
                item.setData(Qt.ItemDataRole.UserRole, each.key)
                self.list.addItem(item)

    def _chosen(self, item: QListWidgetItem | None) -> None:
        if item is None:
            return
        wanted = item.data(Qt.ItemDataRole.UserRole)
        self.sum = next(each for each in all_sums() if each.key == wanted)
        self._right.setWidget(self._form(self.sum))

    # ------------------------------------------------------------------ filling in

    def _form(self, of: Sum) -> QWidget:
        say = self.session.say
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setSpacing(10)
        column.addWidget(wrapped(self.list.currentItem().text(), "question"))
        column.addWidget(wrapped(say(of.about)))
        form = QFormLayout()
        form.setVerticalSpacing(6)
        form.setHorizontalSpacing(14)
        self.lines = {}
        for each in of.inputs:
            line = QLineEdit()
            line.setAccessibleName(say(each.label))
            hint = self._hint(of, each.key)
            line.setAccessibleDescription(hint)
            line.returnPressed.connect(self.work)
            self.lines[each.key] = line
            field = QVBoxLayout()
            field.setSpacing(2)
            field.addWidget(line)
            field.addWidget(wrapped(hint, "quiet"))
            form.addRow(beside(say(each.label), self.session.size), field)
        column.addLayout(form)
        buttons = QHBoxLayout()
        example = key(say(msg("fill in the example")), "small")
        example.clicked.connect(self.show_example)
        work = key(say(msg("work it out")), "forward")
        work.clicked.connect(self.work)
        buttons.addWidget(example)
        buttons.addStretch()
        buttons.addWidget(work)
        column.addLayout(buttons)
        self._answer = QVBoxLayout()
        column.addLayout(self._answer)
        column.addStretch()
        about = msg("Holds: {range} Source: {source}", range=of.range, source=of.source)
        column.addWidget(wrapped(say(about), "quiet"))
        return inside

    def _hint(self, of: Sum, name: str) -> str:
        each = of.input(name)
        assert each is not None
        how: Message = how_to_type(each)
        if each.default:
            how = msg("{how}; without it {default}", how=how, default=each.default)
        elif each.optional:
            how = msg("{how}; may be left out", how=how)
        return self.session.say(how)

    def show_example(self) -> None:
        """Fill in the example of the invented practice machine."""
        if self.sum is None:
            return
        for name, line in self.lines.items():
            line.setText(self.sum.example.get(name, ""))
        self.work()

    # ------------------------------------------------------------------ answering

    def work(self) -> None:
        """Work it out from what stands there."""
        if self.sum is None:
            return
        typed = {name: line.text().strip() for name, line in self.lines.items() if line.text().strip()}
        worked = work_out(self.sum, typed)
        self._clear()
        if isinstance(worked, Refused):
            for reason in worked.reasons:
                self._answer.addWidget(wrapped(self.session.say(reason), "refusal"))
            return
        self._show(worked)

    def _clear(self) -> None:
        while (item := self._answer.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()

    def _show(self, worked: Worked) -> None:
        say, answer = self.session.say, worked.answer
        if answer.verdict is not None:
            card = Finding(answer.verdict, NOWHERE, answer.says, working=answer.working)
            self._answer.addWidget(FindingCard(self.session, card))
        else:
            self._answer.addWidget(wrapped(say(answer.says), "heading"))
        lines = [say(msg("{label}: {value}", label=r.label, value=shown(r))) for r in answer.results]
        lines += [say(in_columns(cells)).strip() for cells in answer.rows]
        if answer.verdict is None:
            lines += [say(line) for line in answer.working]
        if lines:
            label = wrapped("\n".join(lines))
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            self._answer.addWidget(label)
