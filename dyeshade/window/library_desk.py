"""The one worker that owns the shade library, and how the window talks to it.

Questions and changes are functions of the open library; they run one after the other in the
worker's thread, and what comes of them is told in the main thread. Every change that can be undone
becomes a step of the window's undo.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from PySide6.QtCore import QObject, Qt, Signal, Slot
from PySide6.QtGui import QUndoCommand, QUndoStack

from dyeshade.errors import DyeshadeError
from dyeshade.library.changes import Changes
from dyeshade.library.library import Library, open_library, open_or_create
from dyeshade.library.store import FILE_NAME
from dyeshade.window.errands import Errand, Errands, Progress

T = TypeVar("T")


def _nothing(_told: object) -> None:
    pass


@dataclass(frozen=True)
class OpenLibrary:
    """What the window knows of the library that is open.

    Attributes
    ----------
    folder : Path
    read_only : bool
    backup : Path or None
        The copy made before this opening upgraded the file.
    """

    folder: Path
    read_only: bool
    backup: Path | None


class LibraryDesk(QObject):
    """Takes questions and changes for the library, in the main thread.

    Signals
    -------
    opened(OpenLibrary)
        Another library is open now; all that was shown of the one before is void.
    changed(Changes or None)
        Records were changed, here or (None) by another window or command.
    refused(DyeshadeError)
        The world said no, and whoever asked did not want to hear it.
    failed(Exception)
        A fault of ours.
    """

    opened = Signal(object)
    changed = Signal(object)
    refused = Signal(object)
    failed = Signal(object)
    _committed = Signal(object, str)

    def __init__(self, undo: QUndoStack, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.library: OpenLibrary | None = None
        self._undo = undo
        self._errands = Errands("library", 1, self)
        self._errands.failed.connect(self.failed)
        # Only ever touched in the worker's thread.
        self._open: Library | None = None
        self._words = ""
        self._age = 0
        self._committed.connect(self._take_changes, Qt.ConnectionType.QueuedConnection)

    @property
    def can_write(self) -> bool:
        """Whether a library is open that may be changed."""
        return self.library is not None and not self.library.read_only

    @property
    def busy(self) -> bool:
        """Whether something that was asked is not answered yet."""
        return self._errands.busy

    def open(
        self,
        path: Path,
        create: bool = False,
        otherwise: Callable[[DyeshadeError], None] | None = None,
    ) -> None:
        """Open a library in place of the one that is open; where that fails, that one stays.

        Parameters
        ----------
        path : Path
        create : bool
            Make it where there is nothing yet.
        otherwise : callable, optional
            Told the refusal in place of `refused`.
        """

        def work(known: Library | None) -> OpenLibrary:
            if known is not None and _same_place(path, known.folder):
                return OpenLibrary(known.folder, known.read_only, known.backup)
            library = open_or_create(path) if create else open_library(path)
            if self._open is not None:
                self._open.close()
            self._open = library
            library.on_commit = self._tell_commit
            return OpenLibrary(library.folder, library.read_only, library.backup)

        self._start(work, self._take_opened, otherwise or self.refused.emit)

    def ask(
        self,
        question: Callable[[Library], T],
        then: Callable[[T], None],
        otherwise: Callable[[DyeshadeError], None] | None = None,
    ) -> None:
        """Ask the library something.

        Parameters
        ----------
        question : callable
            Called with the library in its thread; must touch nothing of the window.
        then : callable
            Called with the answer in the main thread. Not called where no library is open.
        otherwise : callable, optional
            Told a refusal in place of `refused`.
        """

        def work(library: Library | None) -> object:
            return _NONE if library is None else question(library)

        def take(answer: Any) -> None:
            if answer is not _NONE:
                then(answer)

        self._start(work, take, otherwise or self.refused.emit)

    def change(
        self,
        words: str,
        job: Callable[[Library], T],
        then: Callable[[T], None] = _nothing,
        otherwise: Callable[[DyeshadeError], None] | None = None,
    ) -> None:
        """Change the library; each of the job's edits becomes a step of undo.

        Parameters
        ----------
        words : str
            What is done, for the menu, as "merge two pieces".
        job, then, otherwise
            As for `ask`; the job opens its edit itself.
        """

        def work(library: Library) -> T:
            self._words = words
            return job(library)

        self.ask(work, then, otherwise)

    def look_for_others(self) -> None:
        """Ask whether another window or command has changed the file; `changed` tells."""
        self.ask(
            lambda library: library.changed_elsewhere(),
            lambda others: self.changed.emit(None) if others else None,
        )

    def close(self) -> None:
        """Do all that was asked, and close the library."""
        self._errands.finish(self._close_library)

    def _close_library(self) -> None:
        if self._open is not None:
            self._open.close()
            self._open = None

    def _start(
        self,
        work: Callable[[Library | None], T],
        then: Callable[[T], None],
        otherwise: Callable[[DyeshadeError], None],
    ) -> None:
        def run(_progress: Progress) -> Iterator[tuple[Callable[[Any], None], Any]]:
            try:
                answer = work(self._open)
            except DyeshadeError as error:
                yield otherwise, error
            else:
                yield then, answer

        self._errands.start(run, Errand(lambda told: told[0](told[1])))

    def _tell_commit(self, changes: Changes, undoable: bool) -> None:
        self._committed.emit(changes, self._words if undoable else "")

    @Slot(object)
    def _take_opened(self, library: OpenLibrary) -> None:
        self.library = library
        self._age += 1
        self.opened.emit(library)

    @Slot(object, str)
    def _take_changes(self, changes: Changes, words: str) -> None:
        if words:
            self._undo.push(_Kept(words, self._age, self._go_back_or_on))
        if changes.kinds != {"draft"}:
            self.changed.emit(changes)

    def _go_back_or_on(self, command: _Kept, back: bool) -> None:
        if command.age != self._age:
            # Of a library that is closed, or whose records were changed by others meanwhile.
            command.setObsolete(True)
            return

        def lost(error: DyeshadeError) -> None:
            self._age += 1
            self.ask(lambda library: library.forget_undo(), _nothing)
            self.refused.emit(error)

        def take(changes: Changes | None) -> None:
            if changes is not None:
                self.changed.emit(changes)

        self.ask(lambda library: library.undo() if back else library.redo(), take, lost)


def _same_place(path: Path, folder: Path) -> bool:
    named, known = path.resolve(), folder.resolve()
    return named in (known, known / FILE_NAME)


class _Nothing:
    pass


_NONE = _Nothing()


class _Kept(QUndoCommand):
    """A change that the library has made already when it comes onto the stack."""

    def __init__(self, words: str, age: int, go: Callable[[_Kept, bool], None]) -> None:
        super().__init__(words)
        self.age = age
        self._go = go
        self._done = True

    def redo(self) -> None:
        """Do it again."""
        if self._done:
            self._done = False
            return
        self._go(self, False)

    def undo(self) -> None:
        """Take it back."""
        self._go(self, True)
