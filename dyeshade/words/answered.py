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


@dataclass(frozen=True)
class BathAt:
    """A bath of a series that is to be dyed at another pH.

    Attributes
    ----------
    reading_id : int
        The reading of the series that lies nearest to that pH: its bath is taken.
    ph : float
    """

    reading_id: int
    ph: float


@dataclass(frozen=True)
class PhAnswered(Answered):
    """A pH series, and the baths that it leads to.

    Attributes
    ----------
    wanted_bath, next_bath : BathAt or None
        For the wanted shade, and the one from which most would be learnt; None where there is none,
        or where the pH is not that of the bath itself.
    """

    wanted_bath: BathAt | None = None
    next_bath: BathAt | None = None
