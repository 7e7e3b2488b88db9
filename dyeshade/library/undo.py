"""Undo and redo, made of inverse changes."""

from __future__ import annotations

from collections.abc import Callable

from dyeshade.library.changes import Changes

MOST_STEPS = 500


class UndoStack:
    """What can be taken back and what can be done again, the latest last.

    It holds changes and applies none: `apply` is given by whoever owns the library.
    """

    def __init__(self) -> None:
        self._done: list[Changes] = []
        self._undone: list[Changes] = []

    @property
    def undo_job(self) -> str | None:
        """The job that `undo` would take back."""
        return self._done[-1].job if self._done else None

    @property
    def redo_job(self) -> str | None:
        """The job that `redo` would do again."""
        return self._undone[-1].job if self._undone else None

    def push(self, changes: Changes) -> None:
        """Remember changes that were made; what was undone before them can't be done again."""
        if changes:
            self._done.append(changes)
            del self._done[:-MOST_STEPS]
            self._undone.clear()

    def undo(self, apply: Callable[[Changes], Changes]) -> Changes | None:
        """Take the latest changes back; both lists stay as they are where `apply` fails."""
        if not self._done:
            return None
        made = apply(self._done[-1].inverse())
        self._undone.append(self._done.pop())
        return made

    def take_back(self, apply: Callable[[Changes], Changes]) -> Changes | None:
        """As `undo`, but what was taken back cannot be done again."""
        made = self.undo(apply)
        if made is not None:
            self._undone.pop()
        return made

    def redo(self, apply: Callable[[Changes], Changes]) -> Changes | None:
        """Make the latest changes that were taken back again."""
        if not self._undone:
            return None
        made = apply(self._undone[-1])
        self._done.append(self._undone.pop())
        return made

    def clear(self) -> None:
        """Forget all: what lies under the changes is no longer there."""
        self._done.clear()
        self._undone.clear()
