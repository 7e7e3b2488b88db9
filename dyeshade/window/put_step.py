"""A step of undo that puts one value in the place of another."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from PySide6.QtGui import QUndoCommand

Owner = TypeVar("Owner")
Value = TypeVar("Value")


class PutStep(QUndoCommand, Generic[Owner, Value]):
    """Puts a value, and the one before it back.

    Parameters
    ----------
    words : str
        What is done, for the menu.
    owner : object
        Whose value it is.
    before, after : object
    put : callable
        Called with the owner and the value.
    key : object, optional
        Steps with the same key that follow each other, of one owner, are undone as one.
    """

    def __init__(
        self,
        words: str,
        owner: Owner,
        before: Value,
        after: Value,
        put: Callable[[Owner, Value], None],
        key: object = None,
    ) -> None:
        super().__init__(words)
        self._owner, self._before, self._after = owner, before, after
        self._put, self._key = put, key

    def redo(self) -> None:
        """Do it."""
        self._put(self._owner, self._after)

    def undo(self) -> None:
        """Undo it."""
        self._put(self._owner, self._before)

    def id(self) -> int:
        """Steps that may become one share a number."""
        return -1 if self._key is None else 1

    def mergeWith(self, other: QUndoCommand) -> bool:  # noqa: N802
        """Become one with the next, where it goes on with the same."""
        if not isinstance(other, PutStep) or (other._owner, other._key, other._put) != (
            self._owner,
            self._key,
            self._put,
        ):
            return False
        self._after = other._after
        return True
