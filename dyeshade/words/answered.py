"""The answer to a question of the library, ready to be shown: sentences, a figure, a table."""

from __future__ import annotations

from dataclasses import dataclass

from dyeshade.paper.plot import Figure

FIRST_OF_ALL = -1
"""Stands for "the first dry reading" among choices."""


@dataclass(frozen=True)
class Line:
    """A line of the table, and the reading that can be opened from it."""

    cells: tuple[str, ...]
    reading_id: int | None = None


@dataclass(frozen=True)
class Answered:
    """An answer.

    Attributes
    ----------
    sentences : tuple of str
        The first is the answer itself, the others go with it.
    figure : Figure or None
    heads : tuple of str
        Of the table's columns.
    lines : tuple of Line
    choices : tuple of (int, str)
        What can be chosen for the same question: ids or places, and their words.
    reading_ids : tuple of int
        The readings that it tells of, where they can go together onto a shade card.
    """

    sentences: tuple[str, ...]
    figure: Figure | None = None
    heads: tuple[str, ...] = ()
    lines: tuple[Line, ...] = ()
    choices: tuple[tuple[int, str], ...] = ()
    reading_ids: tuple[int, ...] = ()
