"""How a piece fades beside blue wool references in the same light.

References
----------
ISO 105-B01:2014 and ISO 105-B02:2014 (blue wool references 1 to 8; a fastness is the number of the
reference that fades alike).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from dyeshade.insight.change import Change

BLUE_WOOLS = (1, 2, 3, 4, 5, 6, 7, 8)
"""Numbers of the blue wool references of ISO 105-B, from fleeting to fast."""


@dataclass(frozen=True)
class BesideBlueWools:
    """How a piece faded beside blue wool references in the same light.

    Attributes
    ----------
    faded_more, faded_less : int or None
        The fastest reference that faded more than the piece, and the most fleeting that faded
        less; None where there is none. The fastness lies between them.
    alike : tuple of int
        References that can't be told from the piece.
    """

    faded_more: int | None
    faded_less: int | None
    alike: tuple[int, ...]


def beside_blue_wools(piece: Change, references: Mapping[int, Change]) -> BesideBlueWools:
    """Set a piece's fading beside that of blue wool references, by ISO 105-A05's difference."""
    more: list[int] = []
    less: list[int] = []
    alike: list[int] = []
    least, most = piece.grade.best, piece.grade.worst
    for number, change in sorted(references.items()):
        if change.grade.difference > piece.grade.difference:
            more.append(number)
        else:
            less.append(number)
        # Grades run downwards: 5 is no change.
        if change.grade.worst <= least and change.grade.best >= most:
            alike.append(number)
    return BesideBlueWools(max(more, default=None), min(less, default=None), tuple(alike))
