"""An agreed shade made again: the bath that makes it, for a weight of fibre."""

from __future__ import annotations

from dataclasses import dataclass

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.library.trials import find_commission
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


def commission_again(library: Library, code: str, grams: float) -> CommissionBath:
    """The bath that makes an agreed shade.

    That of the agreed piece, or of the dyeing that most likely meets the shade; where neither was
    in a bath, that of the piece of the library that comes nearest.

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
        ``commission_unknown``; ``commission_without_bath`` (commission) where no piece with a bath
        comes near.
    """
    kept = commission(library, code)
    reading_id = made_like(kept)
    if reading_id is not None:
        named = {one.reading.id: one.piece for one in kept.judged}
        try:
            typed = bath_again(library, reading_id, grams)
        except DyeshadeError as error:
            if error.code != "no_bath_to_repeat":
                raise
        else:
            return CommissionBath(typed, named.get(reading_id, kept.agreed_piece))
    one = find_commission(library, code)
    for near in ask_nearest(library, agreed_colour(library, one), most=_LOOKED_THROUGH):
        try:
            typed = bath_again(library, near.shade.reading.id, grams)
        except DyeshadeError as error:
            if error.code != "no_bath_to_repeat":
                raise
        else:
            piece = near.shade.history.piece.code
            return CommissionBath(typed, piece, near.near.difference.value)
    raise DyeshadeError("commission_without_bath", commission=one.code)
