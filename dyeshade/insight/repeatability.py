"""How well a dyer repeats: spread between baths, between pieces of a bath, and of measuring.

Shades at equal conditions are handled as steps of CIEDE2000 about their mean, three numbers each 1
just visible; the three are taken to spread alike, and so are all conditions. Readings of a piece
count as repeats of measuring where nothing was done to it between them and few days passed; washed
and faded pieces are left out (`dyeshade.insight.as_dyed`).

References
----------
ISO 5725-1:2023 (terms): repeatability conditions are those of readings of one piece within days;
pieces of other baths on other days are under intermediate precision conditions.
ISO 5725-6:1994, 4.1: the repeatability limit is what two results stay within 95 times in 100. Here
a result is a shade of three numbers, so the limit is a length: 2.80 standard deviations for one
number become 3.95 for three.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import DyeshadeError
from dyeshade.insight.as_dyed import as_dyed
from dyeshade.insight.interval import CHI2_3
from dyeshade.insight.metric import metric_at, root_of
from dyeshade.insight.variance_parts import Nested, SpreadPart, variance_parts
from dyeshade.library.conditions import BathConditions, Tolerance, repeat_groups
from dyeshade.library.dye_records import IN_A_BATH
from dyeshade.library.find import FoundShade, ShadeQuery, find_shades
from dyeshade.library.library import Library
from dyeshade.library.shade_records import matrix_of

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Repeats:
    """Shades at one set of conditions.

    Attributes
    ----------
    conditions : BathConditions
    reading_ids : tuple of int
    pieces, baths : int
        How many.
    """

    conditions: BathConditions
    reading_ids: tuple[int, ...]
    pieces: int
    baths: int


@dataclass(frozen=True)
class Repeatability:
    """How well this dyer repeats; standard deviations in CIEDE2000, in each of three steps.

    Attributes
    ----------
    groups : tuple of Repeats
        Those with more than one reading, the largest first.
    measuring : SpreadPart or None
        Between readings of one piece: the repeatability standard deviation. As the photos state it
        (`SpreadPart.stated`) where no piece was read twice.
    stated_measuring : float
        What the photos state, to be set beside it.
    between_pieces : SpreadPart or None
        Between pieces of one bath, measuring left out; None where no bath holds two.
    between_baths : SpreadPart or None
        Between baths, the others left out; None where no conditions were dyed twice.
    """

    groups: tuple[Repeats, ...]
    measuring: SpreadPart | None
    stated_measuring: float
    between_pieces: SpreadPart | None
    between_baths: SpreadPart | None

    @property
    def intermediate_precision(self) -> float:
        """Standard deviation between single readings of pieces of different baths."""
        parts = (self.measuring, self.between_pieces, self.between_baths)
        return math.sqrt(sum(part.sd**2 for part in parts if part is not None))

    @property
    def limit_measuring(self) -> float | None:
        """CIEDE2000 that two readings of one piece stay within 95 times in 100."""
        return None if self.measuring is None else limit_of(self.measuring.sd)

    @property
    def limit_pieces(self) -> float | None:
        """The same for pieces of one bath; None where nothing tells."""
        if self.between_pieces is None:
            return None
        measuring = self.measuring.sd if self.measuring else 0.0
        return limit_of(math.hypot(measuring, self.between_pieces.sd))

    @property
    def limit_baths(self) -> float | None:
        """The same for pieces of two baths: the smallest difference that this dyer can claim."""
        return None if self.between_baths is None else limit_of(self.intermediate_precision)


def limit_of(sd: float) -> float:
    """The length that a difference of two results stays within 95 times in 100."""
    return math.sqrt(2 * CHI2_3) * sd


def find_repeatability(
    library: Library, query: ShadeQuery | None = None, tolerance: Tolerance | None = None
) -> Repeatability:
    """How well the dyer repeats, by the dry shades that a query asks for.

    Raises
    ------
    DyeshadeError
        ``no_repeats`` where no conditions were read twice.
    """
    return repeatability_of(find_shades(library, query), tolerance)


def repeatability_of(
    found: Sequence[FoundShade], tolerance: Tolerance | None = None
) -> Repeatability:
    """How well the dyer repeats, by shades at hand. Else as `find_repeatability`."""
    dry = as_dyed(one for one in found if one.reading.state != "wet")
    # What was never in a bath is no repeat of a dyeing.
    dyed = [(one, one.conditions) for one in dry if one.conditions.baths]
    groups = [group for group in repeat_groups(dyed, tolerance) if len(group) > 1]
    if not groups:
        raise DyeshadeError("no_repeats")
    nested, told, stated = [], [], []
    for group in groups:
        labs = np.array([one.reading.lab for one in group])
        root = root_of(metric_at(labs.mean(axis=0)))
        baths = [_bath_of(one) for one in group]
        pieces = [one.reading.piece_id for one in group]
        nested.append(Nested((labs - labs.mean(axis=0)) @ root.T, baths, pieces))
        photo = [root @ matrix_of(one.reading.covariance_photo) @ root.T for one in group]
        stated += [float(np.trace(one)) / 3 for one in photo]
        ids = tuple(one.reading.id for one in group)
        told.append(Repeats(group[0].conditions, ids, len(set(pieces)), len(set(baths))))
    stated_sd = math.sqrt(float(np.mean(stated)))
    parts = variance_parts(nested, stated_sd)
    return Repeatability(tuple(told), parts.reading, stated_sd, parts.piece, parts.bath)


def _bath_of(shade: FoundShade) -> int:
    steps = shade.history.before(shade.reading)
    dyed = [step.treatment.bath_id for step in steps if step.treatment.kind in IN_A_BATH]
    # A bath that nobody wrote down is one of its own.
    return dyed[-1] or -shade.reading.piece_id
