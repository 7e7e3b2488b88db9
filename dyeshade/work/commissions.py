"""Commissions: a shade is agreed on with a tolerance, and dyeings are judged by it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

import numpy as np

from dyeshade.errors import DyeshadeError
from dyeshade.insight.difference import Measured, measured
from dyeshade.insight.interval import DifferenceInterval, chance_below, difference_interval
from dyeshade.insight.nearest import TOLERANCE
from dyeshade.insight.solved_together import SolvedTogether
from dyeshade.library.dye_records import Piece, wall_time
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import readings_in, readings_of
from dyeshade.library.shade_records import Reading, matrix_of, six_of
from dyeshade.library.trial_records import Commission, CommissionResult
from dyeshade.library.trials import find_commission, next_commission_code
from dyeshade.work.wanted_colour import Wanted, wanted_colour

VERDICTS = ("met", "likely_met", "likely_not_met", "not_met")
"""What can be said of a dyeing, by the chance that it is within the tolerance."""

SURE = 0.95
"""Met for sure from this chance on, not met below the rest (as 95 % stands everywhere here)."""


def verdict_of(chance: float) -> str:
    """One of `VERDICTS`.

    References
    ----------
    JCGM 106:2012, 7 and 8 (conformity decided by its probability).
    """
    if chance >= SURE:
        return "met"
    if chance <= 1 - SURE:
        return "not_met"
    return "likely_met" if chance >= 0.5 else "likely_not_met"


@dataclass(frozen=True)
class SaidCommission:
    """What is agreed on.

    Attributes
    ----------
    shade : str or PickedShade
        As for `dyeshade.work.wanted_colour.wanted_colour`: three numbers, an sRGB colour, the id
        of a piece, which stands for its latest dry reading, or what was picked from a photo.
    tolerance : float
        CIEDE2000, above 0.
    code : str
        "" gives it the next free one.
    weight_g : float or None
        Dry weight of the fibre that is wanted, above 0.
    """

    shade: Wanted
    tolerance: float = TOLERANCE
    code: str = ""
    what: str = ""
    for_whom: str = ""
    due: date | None = None
    weight_g: float | None = None
    note: str = ""


@dataclass(frozen=True)
class Judged:
    """A dyeing set beside a commission's shade, as it was judged.

    Attributes
    ----------
    piece : str
        Its code.
    reading : Reading
    result : CommissionResult
    """

    piece: str
    reading: Reading
    result: CommissionResult

    @property
    def verdict(self) -> str:
        """One of `VERDICTS`."""
        return verdict_of(self.result.chance)


@dataclass(frozen=True)
class CommissionKept:
    """A commission with what it came to.

    Attributes
    ----------
    commission : Commission
    agreed_piece : str
        Code of the piece whose shade was agreed on; "" where it was typed.
    judged : tuple of Judged
        In the order in which they were judged; the last one counts.
    """

    commission: Commission
    agreed_piece: str
    judged: tuple[Judged, ...]

    @property
    def verdict(self) -> str | None:
        """That of the dyeing judged last; None before any was."""
        return self.judged[-1].verdict if self.judged else None


def agree(library: Library, said: SaidCommission, now: datetime | None = None) -> CommissionKept:
    """Keep what was agreed on, in one step of undo.

    Parameters
    ----------
    library : Library
    said : SaidCommission
    now : datetime, optional
        When it was agreed.

    Returns
    -------
    CommissionKept

    Raises
    ------
    DyeshadeError
        ``commission_code_taken`` (commission); as `wanted_colour`; as `Library.edit`.
    """
    wanted = wanted_colour(library, said.shade)
    lab_l, lab_a, lab_b = (float(value) for value in wanted.lab)
    code = said.code.strip()
    with library.edit("agree_commission") as edit:
        if code and edit.where(Commission, "code = ?", (code,)):
            raise DyeshadeError("commission_code_taken", commission=code)
        made = Commission(
            code or next_commission_code(edit),
            lab_l,
            lab_a,
            lab_b,
            tolerance=said.tolerance,
            agreed=wall_time(now or datetime.now()),
            covariance=six_of(wanted.covariance),
            what=said.what.strip(),
            for_whom=said.for_whom.strip(),
            due=said.due,
            weight_g=said.weight_g,
            reading_id=wanted.reading_id,
            note=said.note.strip(),
        )
        made_id = edit.add(made)
    return _kept(library, library.the(Commission, made_id))


def compare(
    library: Library, commission: Commission, reading: Reading
) -> tuple[DifferenceInterval, float]:
    """How far a reading lies from the agreed shade, and the chance that it is within the tolerance.

    Where the agreed shade is that of a reading, what both err alike leaves the difference; both are
    taken as the newest way of measuring has read them.
    """
    (taken,) = measured(library, [reading])
    agreed = _agreed_reading(library, commission)
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
    return Judged(found.code, reading, library.the(CommissionResult, result_id))


def commissions(library: Library) -> tuple[CommissionKept, ...]:
    """All commissions with what they came to, the one agreed on last first."""
    found = library.where(Commission, "1", (), "agreed DESC, id DESC")
    return tuple(_kept(library, one) for one in found)


def commission(library: Library, code: str) -> CommissionKept:
    """One commission with what it came to.

    Raises
    ------
    DyeshadeError
        ``commission_unknown``
    """
    return _kept(library, find_commission(library, code))


def _kept(library: Library, commission: Commission) -> CommissionKept:
    results = library.where(CommissionResult, "commission_id = ?", (commission.id,), "judged, id")
    judged = []
    for result in results:
        reading = library.the(Reading, result.reading_id)
        judged.append(Judged(library.the(Piece, reading.piece_id).code, reading, result))
    agreed = None if commission.reading_id is None else library.get(Reading, commission.reading_id)
    piece = "" if agreed is None else library.the(Piece, agreed.piece_id).code
    return CommissionKept(commission, piece, tuple(judged))


def _reading_of(library: Library, piece: Piece, reading_id: int | None) -> Reading:
    if reading_id is not None:
        reading = library.get(Reading, reading_id)
        if reading is None or reading.piece_id != piece.id:
            raise DyeshadeError("reading_of_another", piece=piece.code, reading=reading_id)
        return reading
    dry = [one for one in readings_of(library, piece.id) if one.state != "wet"]
    if not dry:
        raise DyeshadeError("piece_not_read", piece=piece.code)
    return dry[-1]


def _agreed_reading(library: Library, commission: Commission) -> Measured | None:
    if commission.reading_id is None:
        return None
    reading = library.get(Reading, commission.reading_id)
    if reading is None:
        return None
    if reading.photo_id is not None:
        newest = {one.sample: one for one in readings_in(library, reading.photo_id)}
        reading = newest[reading.sample]
    (taken,) = measured(library, [reading])
    return taken
