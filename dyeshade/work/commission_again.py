"""An agreed shade made again: the bath that makes it, for a weight of fibre."""

from __future__ import annotations

from dataclasses import dataclass

from dyeshade.errors import DyeshadeError
from dyeshade.library.find import FoundShade, found_shades
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Reading
from dyeshade.work.ask_nearest import ask_nearest
from dyeshade.work.bath_again import bath_again
from dyeshade.work.bath_typed import TypedBath
from dyeshade.work.commissions import agreed_colour, commission, made_like

_LOOKED_THROUGH = 20
"""So many of the nearest shades are asked for a bath."""


@dataclass(frozen=True)
class CommissionBath:
    """The bath for a commission.

    Attributes
    ----------
    typed : TypedBath
        Nothing is kept of it yet.
    piece : str
        Whose bath it is made like.
    delta_e : float or None
        CIEDE2000 from the agreed shade to that piece's; None for the agreed piece and for a dyeing
        that was judged: how near that one is, the commission tells.
    """

    typed: TypedBath
    piece: str
    delta_e: float | None = None


@dataclass(frozen=True)
class MadeLike:
    """What a commission is dyed like.

    Attributes
    ----------
    reading_id : int
        A reading of the piece after its bath.
    piece : str
        Its code.
    delta_e : float or None
        As of `CommissionBath`.
    """

    reading_id: int
    piece: str
    delta_e: float | None = None


def dyed_like(library: Library, code: str) -> MadeLike:
    """The piece whose bath makes an agreed shade.

    The agreed piece, or that of the dyeing that most likely meets the shade; where neither was in a
    bath, the piece of the library that comes nearest.

    Parameters
    ----------
    library : Library
    code : str
        The commission's.

    Raises
    ------
    DyeshadeError
        ``commission_unknown``; ``commission_without_bath`` (commission) where no piece with a bath
        comes near.
    """
    kept = commission(library, code)
    reading_id = made_like(kept)
    reading = None if reading_id is None else library.get(Reading, reading_id)
    if reading is not None:
        (found,) = found_shades(library, [reading])
        if _had_a_bath(found):
            return MadeLike(reading.id, found.history.piece.code)
    one = kept.commission
    for near in ask_nearest(library, agreed_colour(library, one), most=_LOOKED_THROUGH):
        if _had_a_bath(near.shade):
            piece = near.shade.history.piece.code
            return MadeLike(near.shade.reading.id, piece, near.near.difference.value)
    raise DyeshadeError("commission_without_bath", commission=one.code)


def commission_again(library: Library, code: str, grams: float) -> CommissionBath:
    """The bath that makes an agreed shade: that of the piece of `dyed_like`.

    Parameters
    ----------
    library : Library
    code : str
        The commission's.
    grams : float
        Dry weight of the fibre.

    Returns
    -------
    CommissionBath

    Raises
    ------
    DyeshadeError
        As `dyed_like`.
    """
    like = dyed_like(library, code)
    return CommissionBath(bath_again(library, like.reading_id, grams), like.piece, like.delta_e)


def _had_a_bath(found: FoundShade) -> bool:
    return any(step.bath is not None for step in found.history.before(found.reading))
