"""Two readings of a piece that was turned between the photos, as one."""

from __future__ import annotations

from dyeshade.errors import DyeshadeError
from dyeshade.insight.difference import measured
from dyeshade.insight.solved_together import SolvedTogether
from dyeshade.library.dye_records import Piece
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Reading
from dyeshade.measure.sheen import TurnedShade, turned_shade


def turned_reading(library: Library, first_id: int, second_id: int) -> TurnedShade:
    """The shade of two readings of one piece, turned by 90 degrees between them, and its sheen.

    Parameters
    ----------
    library : Library
    first_id, second_id : int

    Returns
    -------
    TurnedShade

    Raises
    ------
    DyeshadeError
        ``record_gone``; ``reading_of_another`` (piece, reading) where the second is of another
        piece.
    """
    first, second = (library.the(Reading, one) for one in (first_id, second_id))
    if first.piece_id != second.piece_id:
        piece = library.the(Piece, first.piece_id).code
        raise DyeshadeError("reading_of_another", piece=piece, reading=second_id)
    told = SolvedTogether(library)(*measured(library, [first, second]))
    return turned_shade(first.shade, second.shade, told.lab_to - told.lab_from)
