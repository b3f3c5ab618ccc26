"""The window: one page at a time."""

from __future__ import annotations

import linecache
from collections.abc import Iterator
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtGui import QAction, QCloseEvent, QKeySequence
from PySide6.QtWidgets import QApplication, QMainWindow

from rakeprep.store.errors import StoreError
from rakeprep.text import Message, joined, msg
from rakeprep.ui.flow import Roomy
from rakeprep.ui.session import Session
from rakeprep.ui.start_page import FROM_DOCUMENT, StartPage
from rakeprep.ui.theme import LETTERS, SIZES, THEMES, load_font, palette, style_sheet

# The first window shows the jobs; what works on one is imported when it is needed, or after the first paint.
if TYPE_CHECKING:
    from rakeprep.jobs.open_job import OpenJob
    from rakeprep.ui.job_page import JobPage
    from rakeprep.ui.new_job_page import NewJobPage
    from rakeprep.ui.sums_page import SumsPage

    Page = StartPage | NewJobPage | JobPage | SumsPage
COMES_NEXT = (  # in small pieces, those below first: what is read of the sources is let go of after each
    "rakeprep.model.profile",
    "rakeprep.units",
    "rakeprep.profiles",
    "rakeprep.store.job_file",
    "rakeprep.jobs.open_job",
    "rakeprep.steps",
    "rakeprep.drawing.plan",
    "rakeprep.drawing.help",
    "rakeprep.ui.step_page",
    "rakeprep.ui.job_page",
    "rakeprep.ui.new_job_page",
)
NAME = msg("rakeprep: preparing a rotary rake for its first day")


class Window(QMainWindow):
    """The program's only window."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.job: OpenJob | None = None
        self.page: Page | None = None
        self._loading: Iterator[None] | None = None
        self._fit_screen(session.size.name, session.size.percent)
        self.setWindowTitle(session.say(NAME))
        self.resize(1366, 768)
        self._add_keys()
        self.dress()

    # ------------------------------------------------------------------ looks

    def dress(self) -> None:
        """Put on the session's theme and size."""
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        application.setFont(load_font(self.session.resources, self.session.size.text))
        application.setPalette(palette(self.session.theme))
        application.setStyleSheet(style_sheet(self.session.theme, self.session.size))

    def _add_keys(self) -> None:
        for keys, text, action in (
            ("Ctrl+D", msg("bright or dim"), self.other_theme),
            ("Ctrl+G", msg("for gloves or for a desk"), self.other_size),
            ("Ctrl++", msg("larger letters"), self.larger),
            ("Ctrl+-", msg("smaller letters"), self.smaller),
        ):
            done = QAction(self.session.say(text), self)
            done.setShortcut(QKeySequence(keys))
            done.triggered.connect(action)
            self.addAction(done)

    def other_theme(self) -> None:
        """Change between bright and dim."""
        names = list(THEMES)
        self.session.theme = THEMES[names[(names.index(self.session.theme.name) + 1) % len(names)]]
        self._redress()
        self._keep_look()

    def other_size(self) -> None:
        """Change between the size for gloves and the size for a desk."""
        names = list(SIZES)
        self._wear(names[(names.index(self.session.size.name) + 1) % len(names)], self.session.size.percent)

    def larger(self) -> None:
        """Larger letters, up to twice the usual."""
        self._change_letters(1)

    def smaller(self) -> None:
        """Smaller letters, down to the usual."""
        self._change_letters(-1)

    def _change_letters(self, by: int) -> None:
        at = LETTERS.index(self.session.size.percent) + by
        if 0 <= at < len(LETTERS):
            self._wear(self.session.size.name, LETTERS[at])

    def _wear(self, size: str, percent: int) -> None:
        self._fit_screen(size, percent)
        self._redress()
        self._keep_look()

    def _fit_screen(self, size: str, percent: int) -> None:
        """Take on a size, in the dots of this screen."""
        self.session.size = SIZES[size].at(percent, self.logicalDpiY())

    def _keep_look(self) -> None:
        """Look like this the next time too."""
        from rakeprep.ui import look

        look.keep(self.session.data, self.session.theme, self.session.size)

    def _redress(self) -> None:
        """Build the page anew in its new clothes; what stood in it stays."""
        from rakeprep.ui.job_page import JobPage
        from rakeprep.ui.new_job_page import NewJobPage

        self.dress()
        page = self.page
        if isinstance(page, JobPage) and self.job is not None:
            self._show_job(self.job, page)
        elif isinstance(page, NewJobPage):
            self.show_new_job(page)
        elif isinstance(page, StartPage):
            self.show_start()
        else:
            self.show_sums()

    # ------------------------------------------------------------------ pages

    def _show(self, page: Page) -> None:
        old, self.page = self.page, page
        self.setCentralWidget(Roomy(page))
        let_go_of_sources()
        page.focus_first()
        if old is not None:
            old.deleteLater()

    def show_start(self) -> None:
        """Show the jobs on this computer."""
        page = StartPage(self.session)
        page.open_job.connect(self.open_job)
        page.new_job.connect(self.show_new_job)
        page.work_out.connect(self.show_sums)
        page.from_document.connect(self.bring_back)
        self._show(page)

    def show_sums(self) -> None:
        """Show the page on which any sum can be worked out."""
        from rakeprep.ui.sums_page import SumsPage

        page = SumsPage(self.session)
        page.closed.connect(self.show_start)
        self._show(page)

    def show_new_job(self, before: object = None) -> None:
        """Show the form for a new job, with what stood in the one ``before``."""
        from rakeprep.ui.new_job_page import NewJobPage

        page = NewJobPage(self.session)
        if isinstance(before, NewJobPage):
            page.take_over(before)
        page.opened.connect(self.take_job)
        page.given_up.connect(self.show_start)
        self._show(page)

    def open_job(self, path: Path) -> None:
        """Open a job; another window that holds it is named."""
        from rakeprep.jobs.open_job import OpenJob, UnreadableData

        try:
            job = OpenJob.resume(path, self.session.clock)
        except (StoreError, UnreadableData) as error:
            self.session.dialogs.tell(error.message)
            return
        self.take_job(job)

    def bring_back(self) -> None:
        """Show the job of a handover document, to be read."""
        from rakeprep.handover import keys
        from rakeprep.handover.reopen import bring_back, brought
        from rakeprep.jobs.reading import Refused

        data = self.session.data
        file = self.session.dialogs.open_file(FROM_DOCUMENT, data / "documents", "PDF (*.pdf)")
        if file is None:
            return
        try:
            roots = list(keys.trusted(data / "seal"))
            path, report = bring_back(file, data / "brought-back", roots, self.session.clock)
        except (Refused, StoreError) as error:
            self.session.dialogs.tell(error.message)
            return
        self.session.dialogs.tell(joined(brought(path, report), " "))
        self.open_job(path)

    def take_job(self, job: OpenJob) -> None:
        """Work on this job from now on."""
        self.job = job
        opening = job.record.opening
        people = dict.fromkeys([opening.technician, *(e.who for e in job.record.entries.values())])
        self.session.people = list(people)
        self.session.who = self.session.who or opening.technician
        self.session.works(self.session.who)
        self.session.language = self.session.languages.get(opening.screen_language, self.session.language)
        self._show_job(job)

    def _show_job(self, job: OpenJob, before: JobPage | None = None) -> None:
        """Show a job where it was left, or where the page ``before`` stands."""
        from rakeprep.ui.job_page import JobPage

        if before is not None and before.page is not None:
            before.page.put_away()
        page = JobPage(self.session, job, None if before is None else before.at)
        if before is not None:
            page.sign_on(before)
        page.closed.connect(self.close_job)
        page.anew.connect(lambda: self._show_job(job, page))
        self._show(page)

    def read_again(self) -> None:
        """Read the job from disk and build its page anew; a job that cannot be read is let go."""
        from rakeprep.jobs.open_job import UnreadableData
        from rakeprep.ui.job_page import JobPage

        if self.job is None:
            return
        try:
            self.job.refresh()
        except (StoreError, UnreadableData) as error:
            self.close_job()
            self.say(error.message)
            return
        at = self.page.at if isinstance(self.page, JobPage) else None
        job_page = JobPage(self.session, self.job, at)
        job_page.closed.connect(self.close_job)
        job_page.anew.connect(lambda: self._show_job(job_page.job, job_page))
        self._show(job_page)

    def close_job(self) -> None:
        """Let the job go, back to the list."""
        if self.job is not None:
            self.job.close()
            self.job = None
        self.session.who = ""
        self.show_start()

    def say(self, message: Message) -> None:
        """Say something above the window."""
        self.session.dialogs.tell(message)

    def closeEvent(self, event: QCloseEvent) -> None:
        if self.job is not None and self._left_open():
            event.ignore()
        else:
            event.accept()

    def _left_open(self) -> bool:
        """Leave the job's page; whether somebody would rather stay there."""
        from rakeprep.ui.job_page import JobPage

        if isinstance(self.page, JobPage):
            self.page.leave()
            return self.job is not None
        return False

    def soon(self) -> None:
        """After the first paint: load what comes next, while nobody waits for it."""
        self._loading = pieces()
        if self.page is not None:
            self.page.installEventFilter(self)  # the window itself is never painted: its page covers it

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if self._loading is not None and event.type() is QEvent.Type.Paint:
            QTimer.singleShot(0, partial(load, self._loading))
            self._loading = None
            watched.removeEventFilter(self)
        return super().eventFilter(watched, event)


def pieces() -> Iterator[None]:
    """Load what comes next, piece by piece."""
    for name in COMES_NEXT:
        import_module(name)
        yield
    from rakeprep import steps, units

    for name in steps.modules():  # the first job that is opened needs them all
        import_module(name)
        yield
    units.warm_up()
    yield


def load(coming: Iterator[None]) -> None:
    """Load one piece after the other; between them the window answers."""
    for _ in coming:
        let_go_of_sources()
        QTimer.singleShot(0, partial(load, coming))
        return


def let_go_of_sources() -> None:
    """Forget the sources that Qt's import hook has read of everything imported: 10 MB in the end."""
    linecache.clearcache()
