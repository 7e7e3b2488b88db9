"""Unsaved work of this sitting, kept in the library against a crash, and brought back from it.

Each window has a lock of its own, so that another window does not take its work for left over. No
timer waits for a pause in typing: one draft is written at a time, and what has changed meanwhile is
written next.
"""

from __future__ import annotations

import uuid
from pathlib import Path

from PySide6.QtCore import QDir, QLockFile, QObject, Signal, Slot

from dyeshade.errors import DyeshadeError
from dyeshade.library.drafts import drafts, drop_draft, keep_draft
from dyeshade.library.library import Library
from dyeshade.window.assigning import Assigning
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.measuring import Measuring
from dyeshade.window.photo_page import PhotoPage
from dyeshade.work.unsaved import UnsavedPhoto, payload_of, photo_of

_KIND = "measuring"


class KeepingDrafts(QObject):
    """Writes a draft of each photo with unsaved work, and drops it when that is saved.

    Signals
    -------
    brought_back(int)
        So many photos of an earlier sitting are here again.
    """

    brought_back = Signal(int)

    def __init__(
        self,
        measuring: Measuring,
        assigning: Assigning,
        desk: LibraryDesk,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._measuring, self._assigning, self._desk = measuring, assigning, desk
        self._session = uuid.uuid4().hex
        self._lock = QLockFile(_lock_path(self._session))
        self._lock.setStaleLockTime(0)
        self._lock.tryLock(0)
        self._names: dict[PhotoPage, str] = {}
        self._written: dict[str, object] = {}
        self._writing = False
        self._again = False
        self._told = False
        measuring.page_changed.connect(self.keep)
        measuring.came.connect(self.keep)
        measuring.removed.connect(self.keep)
        assigning.changed.connect(self.keep)
        assigning.known_changed.connect(self.keep)
        desk.opened.connect(self._library_opened)

    @Slot()
    def keep(self) -> None:
        """Write what has changed, and drop what is saved; soon, where something is being written.

        Called by signals of several kinds, whose arguments do not matter.
        """
        if not self._desk.can_write:
            return
        if self._writing:
            self._again = True
            return
        wanted = self._wanted()
        changed = {n: one for n, one in wanted.items() if self._written.get(n) != one}
        gone = [name for name in self._written if name not in wanted]
        if not changed and not gone:
            return
        self._writing = True

        def write(library: Library) -> None:
            for name, payload in changed.items():
                keep_draft(library, name, payload)
            for name in gone:
                drop_draft(library, name)

        def done(_nothing: None) -> None:
            self._writing = False
            self._told = False
            self._written = wanted
            self._go_on()

        def lost(error: DyeshadeError) -> None:
            self._writing = False
            if not self._told:
                self._told = True
                self._desk.refused.emit(error)

        self._desk.ask(write, done, lost)

    def leave(self) -> None:
        """Take this sitting's drafts out of the library that is being left for another."""
        names = list(self._written)
        self._written = {}

        def drop(library: Library) -> None:
            for name in names:
                drop_draft(library, name)

        self._desk.ask(drop, lambda _nothing: None, lambda _error: None)

    def close(self) -> None:
        """Write what is left, before the desk is closed; the work comes back with the next start.

        The lock is let go, so that the next window takes the drafts for left over.
        """
        self._writing = False
        self.keep()
        self._lock.unlock()

    def _go_on(self) -> None:
        if self._again:
            self._again = False
            self.keep()

    def _wanted(self) -> dict[str, object]:
        wanted: dict[str, object] = {}
        for page in self._measuring.photos.pages:
            if page.has_work:
                name = self._names.setdefault(
                    page, f"{_KIND}/{self._session}/{len(self._names):04d}"
                )
                codes = {one.bath for one in page.said.values()}
                codes |= {two.bath for one in page.said.values() for two in one.treatments}
                baths = tuple(b for code, b in self._assigning.baths.items() if code in codes)
                wanted[name] = payload_of(UnsavedPhoto(page.asked, page.said, baths))
        return wanted

    @Slot()
    def _library_opened(self) -> None:
        self._written = {}
        self._bring_back()
        self.keep()

    def _bring_back(self) -> None:
        """Take over what sittings that are no more have left unsaved."""
        ours = self._session

        def question(library: Library) -> list[tuple[str, object]]:
            left = [one for one in drafts(library) if one.name.startswith(f"{_KIND}/")]
            alive: dict[str, bool] = {ours: True}
            found = []
            for one in left:
                session = one.name.split("/")[1]
                if session not in alive:
                    alive[session] = _is_alive(session)
                if not alive[session]:
                    found.append((one.name, one.payload))
            return found

        def take(found: list[tuple[str, object]]) -> None:
            open_now = {page.asked.path for page in self._measuring.photos.pages}
            pages = []
            for name, payload in found:
                assert isinstance(payload, dict)
                photo = photo_of(payload)
                if photo is None:
                    continue
                # Dropped once it is written under this sitting's name, and not before.
                self._written[name] = None
                if photo.asked.path in open_now:
                    continue
                page = PhotoPage(photo.asked)
                page.said = dict(photo.said)
                for bath in photo.baths:
                    self._assigning.describe_bath(bath)
                pages.append(page)
            if pages:
                self._measuring.take_in(pages)
                self.brought_back.emit(len(pages))
            self.keep()

        self._desk.ask(question, take)


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
