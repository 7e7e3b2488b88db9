"""What is typed of baths and not kept, held in the library against a crash, and brought back.

Each window has a lock of its own, so that another window does not take its work for left over.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable, Mapping
from pathlib import Path

from PySide6.QtCore import QDir, QLockFile, QObject

from dyeshade.errors import DyeshadeError
from dyeshade.library.drafts import drafts, drop_draft, keep_draft
from dyeshade.library.library import Library
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.work.bath_typed import TypedBath
from dyeshade.work.unsaved import of_plain, plain

_KIND = "bath"
_FORMAT = 1


class BathDrafts(QObject):
    """Writes a draft of each bath with something unkept; one is written at a time."""

    def __init__(self, desk: LibraryDesk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._session = uuid.uuid4().hex
        self._lock = QLockFile(_lock_path(self._session))
        self._lock.setStaleLockTime(0)
        self._lock.tryLock(0)
        self._written: dict[str, object] = {}
        self._wanted: dict[str, object] = {}
        self._writing = False
        self._told = False

    def keep(self, unkept: Mapping[int, TypedBath]) -> None:
        """Write what has changed, and drop what is kept; soon, where something is being written."""
        self._wanted = {
            self._name(key): {"format": _FORMAT, "key": key, "typed": plain(typed)}
            for key, typed in unkept.items()
        }
        if not self._writing:
            self._write()

    def flush(self) -> None:
        """Write all at once that is not written yet, as before the program ends."""
        self._write()

    def let_go(self) -> None:
        """Write what is left, and let the next window take the drafts for left over."""
        self._write()
        self._lock.unlock()

    def bring_back(self, then: Callable[[dict[int, TypedBath]], None]) -> None:
        """Find what this sitting, and sittings that are no more, have left unkept.

        Parameters
        ----------
        then : callable
            Called with what was typed, by key. Where two sittings typed at one bath, the later.
        """
        self._written, self._wanted, self._writing = {}, {}, False
        session = self._session

        def question(library: Library) -> list[tuple[str, object]]:
            alive = {session: False}
            found = []
            for one in drafts(library):
                parts = one.name.split("/")
                if len(parts) != 3 or parts[0] != _KIND:
                    continue
                if parts[1] not in alive:
                    alive[parts[1]] = _is_alive(parts[1])
                if not alive[parts[1]]:
                    found.append((one.name, one.payload))
            return found

        def take(found: list[tuple[str, object]]) -> None:
            typed: dict[int, TypedBath] = {}
            for name, payload in found:
                if not isinstance(payload, dict) or payload.get("format") != _FORMAT:
                    continue
                key = int(payload["key"])
                if key < 0 and key in typed:
                    key = min(typed) - 1
                typed[key] = of_plain(TypedBath, payload["typed"])
                # Dropped once it is written under this sitting's name, and not before.
                self._written[name] = None
            then(typed)
            self.keep(typed)

        self._desk.ask(question, take)

    def _write(self) -> None:
        if not self._desk.can_write:
            return
        wanted = dict(self._wanted)
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
            self._writing = self._told = False
            self._written = wanted
            self._write()

        def lost(error: DyeshadeError) -> None:
            self._writing = False
            if not self._told:
                self._told = True
                self._desk.refused.emit(error)

        self._desk.ask(write, done, lost)

    def _name(self, key: int) -> str:
        return f"{_KIND}/{self._session}/{key}"


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
