"""Home fastness tests that are begun, and those that wait for their next photo."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from dyeshade.library.dye_records import Piece, Treatment
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import readings_of
from dyeshade.library.shade_records import Reading
from dyeshade.library.treatments import add_treatment

KINDS = {"light": "light", "wash": "wash", "acid_dip": "dip", "alkaline_dip": "dip"}
"""The treatment that each home test is; rubbing is none."""

NOTE = "home fastness test"


@dataclass(frozen=True)
class RunningTest:
    """A piece in the light: since when, and when its next photo is due."""

    piece: str
    begun: datetime
    due: datetime


def begin_home_test(
    library: Library, piece: str, kind: str, begun: datetime, ph: float | None = None
) -> None:
    """Write down that a piece goes into a home test, as a treatment of it.

    Parameters
    ----------
    library : Library
    piece : str
        Its code.
    kind : str
        A key of `KINDS`.
    begun : datetime
    ph : float, optional
        Of a dip.

    Raises
    ------
    DyeshadeError
        ``piece_unknown``
    """
    found = find_piece(library, piece)
    treatment = Treatment(found.id, KINDS[kind], started=begun, note=NOTE)
    with library.edit("begin a home fastness test") as edit:
        add_treatment(edit, treatment, ph=ph)


def readings_of_piece(library: Library, piece: str) -> tuple[Reading, ...]:
    """Readings of a piece in the order of time, to be named for a test.

    Raises
    ------
    DyeshadeError
        ``piece_unknown``
    """
    return tuple(readings_of(library, find_piece(library, piece).id))


def running_light_tests(library: Library) -> tuple[RunningTest, ...]:
    """Pieces that are in the light as a home test, the one that waits longest first."""
    # Slow to import, and the window begins with this module.
    from dyeshade.insight.fastness import next_photo_due

    running = []
    begun_by_piece: dict[int, datetime] = {}
    for one in library.where(Treatment, "kind = ? AND note = ?", ("light", NOTE)):
        if one.started is not None:
            latest = begun_by_piece.get(one.piece_id, one.started)
            begun_by_piece[one.piece_id] = max(latest, one.started)
    for piece in library.among(Piece, "id", sorted(begun_by_piece)):
        begun = begun_by_piece[piece.id]
        read = [one.read for one in readings_of(library, piece.id) if one.read > begun]
        due = next_photo_due(begun, max(read, default=None))
        if due is not None:
            running.append(RunningTest(piece.code, begun, due))
    return tuple(sorted(running, key=lambda one: (one.due, one.piece)))
