"""Dyeings judged by a commission: how far from the agreed shade, and within it how likely."""

from __future__ import annotations

from datetime import datetime

import numpy as np

from dyeshade.errors import DyeshadeError
from dyeshade.insight.difference import measured
from dyeshade.insight.interval import DifferenceInterval, chance_below, difference_interval
from dyeshade.insight.solved_together import SolvedTogether
from dyeshade.library.dye_records import Piece, wall_time
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.shade_records import Reading, matrix_of
from dyeshade.library.trial_records import Commission, CommissionResult
from dyeshade.library.trials import find_commission, readings_of_whole
from dyeshade.work.commissions import Judged, agreed_reading


def compare(
    library: Library, commission: Commission, reading: Reading
) -> tuple[DifferenceInterval, float]:
    """How far a reading lies from the agreed shade, and the chance that it is within the tolerance.

    Where the agreed shade is that of a reading, what both err alike leaves the difference; both are
    taken as the newest way of measuring has read them.
    """
    (taken,) = measured(library, [reading])
    agreed = agreed_reading(library, commission)
    if agreed is None:
        lab, covariance = np.array(commission.lab), matrix_of(commission.covariance)
        ends = (lab, taken.lab, covariance + reading.shade.covariance)
    else:
        told = SolvedTogether(library)(agreed, taken)
        ends = (told.lab_from, told.lab_to, told.covariance)
    return difference_interval(*ends), chance_below(*ends, commission.tolerance)


def judge(
    library: Library,
    code: str,
    piece: str,
    reading_id: int | None = None,
    now: datetime | None = None,
) -> Judged:
    """Judge a dyeing by a commission, and keep the result, in one step of undo.

    Parameters
    ----------
    library : Library
    code : str
        The commission's.
    piece : str
        The piece's code.
    reading_id : int, optional
        Which of its readings; the latest dry one unless told.
    now : datetime, optional

    Returns
    -------
    Judged

    Raises
    ------
    DyeshadeError
        ``commission_unknown``, ``piece_unknown``, ``piece_not_read``, ``reading_of_another``; as
        `Library.edit`.
    """
    commission = find_commission(library, code)
    found = find_piece(library, piece)
    reading = _reading_of(library, found, reading_id)
    size, chance = compare(library, commission, reading)
    result = CommissionResult(
        commission.id,
        reading.id,
        size.value,
        size.low,
        max(size.low, size.high),
        chance,
        wall_time(now or datetime.now()),
    )
    with library.edit("judge_commission") as edit:
        result_id = edit.add(result)
    kept = library.the(CommissionResult, result_id)
    return Judged(found.code, reading, kept, commission.tolerance)


def _reading_of(library: Library, piece: Piece, reading_id: int | None) -> Reading:
    if reading_id is not None:
        reading = library.get(Reading, reading_id)
        if reading is None or reading.piece_id != piece.id:
            raise DyeshadeError("reading_of_another", piece=piece.code, reading=reading_id)
        return reading
    dry = [one for one in readings_of_whole(library, piece.id) if one.state != "wet"]
    if not dry:
        raise DyeshadeError("piece_not_read", piece=piece.code)
    return dry[-1]
