"""Keeps the photo in hand with a home test, from the strip beneath it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from PySide6.QtCore import QObject, Slot
from PySide6.QtWidgets import QWidget

from dyeshade.errors import DyeshadeError
from dyeshade.library.changes import Changes
from dyeshade.window.assign_panel import AssignPanel
from dyeshade.window.assigning import Assigning
from dyeshade.window.home_test_photo_form import PhotoForm, SpotsSaid
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.one_question import OneQuestion
from dyeshade.words.home_test_words import TESTS, due_words
from dyeshade.work.home_test_photo import PhotoKept
from dyeshade.work.home_tests_kept import KeptTest, running_tests


class HomeTestRecording(QObject):
    """Opens the form, and shows its button as long as a test goes on.

    Parameters
    ----------
    panel : AssignPanel
    assigning : Assigning
    desk : LibraryDesk
    above : QWidget
        What the form stands above.

    Attributes
    ----------
    form : PhotoForm or None
        The form that was opened last.
    """

    def __init__(
        self, panel: AssignPanel, assigning: Assigning, desk: LibraryDesk, above: QWidget
    ) -> None:
        super().__init__(above)
        self._panel, self._assigning, self._desk, self._above = panel, assigning, desk, above
        self.form: PhotoForm | None = None
        self._asked = OneQuestion(desk, self._take, self)
        panel.home_test.hide()
        panel.home_test.clicked.connect(self.open_form)
        desk.opened.connect(self._ask)
        desk.changed.connect(self._changed)

    @Slot()
    def open_form(self) -> None:
        """Ask which sample shows which part of a test."""
        self._desk.ask(running_tests, self._show)

    def _show(self, tests: tuple[KeptTest, ...]) -> None:
        page, _ = self._panel.chosen
        if not tests:
            self._panel.tell(self.tr("No home test is under way. Set one up at Compare."))
            return
        if page is None or page.measurement is None:
            self._panel.tell(self.tr("Measure a photo of both halves first."))
            return
        entries = [entry for entry in page.entries() if entry.sample is not None]

        def keep(
            said: SpotsSaid,
            done: Callable[[object], None],
            refused: Callable[[DyeshadeError], None],
        ) -> None:
            def take(kept: PhotoKept) -> None:
                self._panel.tell_kept(self._words(kept), kept.kept.reading_ids)
                done(kept)

            words = self.tr("keep a photo with the home test of {}").format(said.test.piece)
            self._assigning.keep_photo_of_test(
                page, said.test.record.id, said.spots, words, take, refused
            )

        told = [one.read for one in page.said.values() if one.read is not None]
        taken = page.measurement.taken or max(told, default=None)
        self.form = PhotoForm(tests, entries, page.said, taken, keep, self._above)
        self._desk.failed.connect(self.form.release)
        self.form.finished.connect(self.form.deleteLater)
        self.form.open()

    def _words(self, kept: PhotoKept) -> str:
        # Slow to import, and the window's start need not wait for it.
        from dyeshade.words.fastness_lines import result_words

        test = kept.test
        told = self.tr("Kept with the home test of {}, {}: {}. Then: {}.").format(
            test.piece,
            TESTS[test.record.kind],
            result_words(kept.result).partition(": ")[2],
            due_words(test, datetime.now()),
        )
        return str(told)

    @Slot()
    def _ask(self) -> None:
        self._asked.ask(running_tests)

    @Slot(object)
    def _changed(self, changes: Changes | None) -> None:
        if changes is None or changes.kinds & {"home_test", "home_test_pair", "piece"}:
            self._ask()

    def _take(self, tests: tuple[KeptTest, ...]) -> None:
        self._panel.home_test.setVisible(bool(tests))
