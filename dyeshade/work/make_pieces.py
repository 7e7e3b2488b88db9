"""Makes new pieces by the dozen, each with a code of its own, as for a class."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from dyeshade.errors import DyeshadeError
from dyeshade.library.changes import Changes
from dyeshade.library.library import Library
from dyeshade.library.pieces import next_piece_code
from dyeshade.work.keep_pieces import keep_piece
from dyeshade.work.said import Said

Made = TypeVar("Made")

MOST_AT_ONCE = 500
"""More than a school weighs out in a year; a slip of a finger makes no thousand pieces."""


@dataclass(frozen=True)
class MadePieces:
    """Pieces that were made, in one step of undo.

    Attributes
    ----------
    codes : tuple of str
        In the order of their numbers.
    changes : Changes
    """

    codes: tuple[str, ...]
    changes: Changes


def make_pieces(
    library: Library, count: int, said: Said | None = None, names: Sequence[str] = ()
) -> MadePieces:
    """Make pieces with the next free codes: all of them or none.

    Parameters
    ----------
    library : Library
    count : int
        1 to `MOST_AT_ONCE`.
    said : Said, optional
        What holds for all of them: fibre, its make, mordant, weight. Its code and name are not
        taken.
    names : sequence of str
        A name for each, as of the students of a class; fewer leave the last pieces without.

    Returns
    -------
    MadePieces

    Raises
    ------
    DyeshadeError
        As `dyeshade.library.faults.told`.
    """
    if not 1 <= count <= MOST_AT_ONCE or len(names) > count:
        raise ValueError(f"{count} pieces, {len(names)} names")
    alike = said or Said()
    codes: list[str] = []
    with library.edit("make_pieces") as edit:
        for number in range(count):
            name = names[number] if number < len(names) else ""
            code = next_piece_code(edit, alike.fibre)
            piece, _ = keep_piece(edit, code, replace(alike, piece=code, name=name))
            codes.append(piece.code)
    return MadePieces(tuple(codes), edit.changes)


def make_pieces_with(
    library: Library,
    count: int,
    said: Said | None,
    names: Sequence[str],
    make: Callable[[Sequence[str]], Made],
) -> tuple[MadePieces, Made]:
    """Make pieces and what goes with them, as their tags: both or neither.

    Parameters
    ----------
    library, count, said, names
        As `make_pieces`.
    make : callable
        Is given the codes; what it raises takes the pieces back.

    Returns
    -------
    MadePieces, and what `make` gave
    """
    pieces = make_pieces(library, count, said, names)
    try:
        return pieces, make(pieces.codes)
    except DyeshadeError:
        library.take_back()
        raise
