"""Commissions: a shade is agreed on with a tolerance, and what dyeings for it came to.

How they are judged is in `judge_commission`: what it takes is not loaded by whoever only looks.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

import numpy as np

from dyeshade.errors import DyeshadeError
from dyeshade.insight.difference import Measured, measured
from dyeshade.insight.tolerance import TOLERANCE
from dyeshade.library.dye_records import Piece, wall_time
from dyeshade.library.library import Library
from dyeshade.library.readings import readings_in
from dyeshade.library.shade_records import Reading, six_of
from dyeshade.library.trial_records import Commission, CommissionResult
from dyeshade.library.trials import find_commission, next_commission_code
from dyeshade.work.wanted_colour import Wanted, WantedColour, wanted_colour

VERDICTS = ("met", "likely_met", "unsure", "likely_not_met", "not_met")
"""What can be said of a dyeing. Unsure: measured within the tolerance, but too unsure a shade."""

SURE = 0.95
"""Met for sure from this chance on (as 95 % stands everywhere here)."""


def verdict_of(result: CommissionResult, tolerance: float) -> str:
    """One of `VERDICTS`.

    Not met is said only where the whole interval lies beyond the tolerance: a small chance alone
    may come of an unsure shade as well as of one that is far off.

    References
    ----------
    JCGM 106:2012, 7 and 8 (conformity decided by its probability).
    """
    if result.chance >= SURE:
        return "met"
    if result.low > tolerance:
        return "not_met"
    if result.chance >= 0.5:
        return "likely_met"
    return "unsure" if result.delta_e <= tolerance else "likely_not_met"


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
    tolerance : float
        The commission's, CIEDE2000.
    """

    piece: str
    reading: Reading
    result: CommissionResult
    tolerance: float

    @property
    def verdict(self) -> str:
        """One of `VERDICTS`."""
        return verdict_of(self.result, self.tolerance)


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


STATES = ("open", "met")
"""Commissions that wait for a dyeing, and those that a dyeing has most likely met."""


def state_of(kept: CommissionKept) -> str:
    """One of `STATES`: by the dyeing judged last."""
    return "met" if kept.verdict in ("met", "likely_met") else "open"


def made_like(kept: CommissionKept) -> int | None:
    """The reading whose bath makes the agreed shade again.

    That of the agreed piece, or else of the dyeing that most likely meets the shade; None where the
    shade was typed and nothing was judged yet.
    """
    if kept.commission.reading_id is not None:
        return kept.commission.reading_id
    if not kept.judged:
        return None
    return max(kept.judged, key=lambda one: one.result.chance).reading.id


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
        if code and edit.coded(Commission, code):
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


def agreed_colour(library: Library, commission: Commission) -> WantedColour:
    """The agreed shade as a wanted colour: of its reading, or as numbers."""
    agreed = agreed_reading(library, commission)
    if agreed is None:
        return WantedColour(np.array(commission.lab))
    return WantedColour(agreed.lab, agreed)


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
        piece = library.the(Piece, reading.piece_id).code
        judged.append(Judged(piece, reading, result, commission.tolerance))
    agreed = None if commission.reading_id is None else library.get(Reading, commission.reading_id)
    piece = "" if agreed is None else library.the(Piece, agreed.piece_id).code
    return CommissionKept(commission, piece, tuple(judged))


def agreed_reading(library: Library, commission: Commission) -> Measured | None:
    """The reading whose shade was agreed on, as the newest way of measuring has read it."""
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
