"""Drafts of one window's sitting, held in the library against a crash, and those left by others.

Each window has a lock of its own, so that another window does not take its work for left over. No
timer waits for a pause in typing: one round of drafts is written at a time, and what has changed
meanwhile is written next.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from PySide6.QtCore import QDir, QLockFile, QObject, Signal

from dyeshade.errors import DyeshadeError
from dyeshade.library.drafts import drafts, drop_draft, keep_draft
from dyeshade.library.library import Library
from dyeshade.window.library_desk import LibraryDesk

LeftOver = Sequence[tuple[str, object]]


class SittingDrafts(QObject):
    """Keeps the library's drafts of one kind as this sitting wants them.

    Parameters
    ----------
    desk : LibraryDesk
    kind : str
        Begins the names of the drafts.

    Attributes
    ----------
    written : dict of str to object
        What the library holds of them, by name.

    Signals
    -------
    held(DyeshadeError or None)
        Why drafts cannot be written; None once they can again.
    """

    held = Signal(object)

    def __init__(self, desk: LibraryDesk, kind: str, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk, self._kind = desk, kind
        self._session = uuid.uuid4().hex
        self._lock = QLockFile(_lock_path(self._session))
        self._lock.setStaleLockTime(0)
        self._lock.tryLock(0)
        self.written: dict[str, object] = {}
        self._wanted: Mapping[str, object] = {}
        self._writing = False
        self._told = False

    @property
    def homeless(self) -> bool:
        """Whether there is work that the library cannot take: read only, or its disk full."""
        shut = self._desk.library is not None and not self._desk.can_write
        return (shut or self._told) and any(
            self.written.get(name) != one for name, one in self._wanted.items()
        )

    def name(self, key: object) -> str:
        """The name of a draft of this sitting."""
        return f"{self._kind}/{self._session}/{key}"

    def put(self, wanted: Mapping[str, object]) -> None:
        """Have the library hold these, by name; soon, where something is being written."""
        self._wanted = wanted
        if not self._writing:
            self.flush()

    def flush(self) -> None:
        """Write all at once that is not written yet, as before the program ends.

        A library that is still being opened is written to once it is open: a window that is
        closed before that loses nothing either.
        """
        if self._desk.library is not None and not self._desk.can_write:
            return
        wanted = dict(self._wanted)
        changed = {n: one for n, one in wanted.items() if self.written.get(n) != one}
        gone = [name for name in self.written if name not in wanted]
        if not changed and not gone:
            return
        self._writing = True

        def write(library: Library) -> bool:
            if library.read_only:
                return False
            for name, payload in changed.items():
                keep_draft(library, name, payload)
            for name in gone:
                drop_draft(library, name)
            return True

        def done(held: bool) -> None:
            self._writing = False
            if self._told:
                self._told = False
                self.held.emit(None)
            if held:
                # Name by name: what was taken over meanwhile is still to be dropped.
                self.written.update(changed)
                for name in gone:
                    self.written.pop(name, None)
            self.flush()

        def lost(error: DyeshadeError) -> None:
            self._writing = False
            if not self._told:
                self._told = True
                self.held.emit(error)

        self._desk.ask(write, done, lost)

    def let_go(self) -> None:
        """Write what is left, and let the next window take the drafts for left over."""
        self.flush()
        self._lock.unlock()

    def leave(self) -> None:
        """Take this sitting's drafts out of the library that is being left for another."""
        names = list(self.written)
        self.written = {}

        def drop(library: Library) -> None:
            for name in names:
                drop_draft(library, name)

        self._desk.ask(drop, lambda _nothing: None, lambda _error: None)

    def begin_anew(self) -> None:
        """Another library is open: nothing is written there yet."""
        self.written, self._wanted, self._writing = {}, {}, False
        if self._told:
            self._told = False
            self.held.emit(None)

    def find_left_over(self, then: Callable[[LeftOver], None], own: bool = False) -> None:
        """Find the drafts of sittings that are no more.

        Parameters
        ----------
        then : callable
            Called with name and payload of each.
        own : bool
            Whether this sitting's own are told too.
        """
        alive = {self._session: not own}

        def question(library: Library) -> list[tuple[str, object]]:
            found = []
            for one in drafts(library):
                parts = one.name.split("/")
                if len(parts) != 3 or parts[0] != self._kind:
                    continue
                if parts[1] not in alive:
                    alive[parts[1]] = _is_alive(parts[1])
                if not alive[parts[1]]:
                    found.append((one.name, one.payload))
            return found

        self._desk.ask(question, then)

    def take_over(self, name: str) -> None:
        """Drop a draft once it is written under this sitting's name, and not before."""
        self.written[name] = None


def _lock_path(session: str) -> str:
    return str(Path(QDir.tempPath()) / f"dyeshade-{session}.lock")


def _is_alive(session: str) -> bool:
    """Whether the window that wrote drafts is still open; a lock of a dead one is no lock."""
    path = _lock_path(session)
    if not Path(path).exists():
        return False
    lock = QLockFile(path)
    lock.setStaleLockTime(0)
    if not lock.tryLock(0):
        return True
    lock.unlock()
    return False
