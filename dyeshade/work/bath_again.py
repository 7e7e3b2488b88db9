"""A shade made again: the bath that its piece was in, for another weight of fibre."""

from __future__ import annotations

from dataclasses import replace

from dyeshade.errors import DyeshadeError
from dyeshade.library.baths import whole_baths
from dyeshade.library.find import FoundShade, found_shades
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Reading
from dyeshade.work.bath_typed import TypedBath, TypedPiece, TypedSubstance
from dyeshade.work.kept_plan import kept_plan, own_figures
from dyeshade.work.plan_bath import make_again


def bath_again(
    library: Library, reading_id: int, grams: float, target_ph: float | None = None
) -> TypedBath:
    """The bath that made a shade, as typed for another weight.

    Where the bath itself does not say so, the mordant is that of the piece, and the pH to bring it
    to is the one that it began with.

    Parameters
    ----------
    library : Library
    reading_id : int
    grams : float
        Dry weight of the fibre.
    target_ph : float, optional
        Another pH that the bath is to be brought to.

    Returns
    -------
    TypedBath
        Without a code: it is a new bath, and nothing is kept of it yet.

    Raises
    ------
    DyeshadeError
        ``record_gone``; ``no_bath_to_repeat`` (piece) where the piece was in none before it was
        read.
    """
    reading = library.the(Reading, reading_id)
    (found,) = found_shades(library, [reading])
    baths = [step.bath.bath.id for step in found.history.before(reading) if step.bath is not None]
    if not baths:
        raise DyeshadeError("no_bath_to_repeat", piece=found.history.piece.code)
    typed = replace(kept_plan(library, baths[-1]).typed, code="")
    if not typed.substances:
        typed = replace(typed, substances=_mordant(found))
    began = whole_baths(library, [baths[-1]])[baths[-1]].ph("bath_start")
    if target_ph is not None:
        typed = replace(typed, target=f"{target_ph:.2f}".rstrip("0").rstrip("."))
    elif not typed.target and began is not None:
        typed = replace(typed, target=f"{began:g}")
    weight = f"{grams:g} g"
    try:
        return make_again(typed, weight, "", own_figures(library))
    except DyeshadeError as error:
        if error.code != "no_fibre":
            raise
    # Nobody wrote down how much fibre was in it: the ratios alone tell what this weight wants.
    return replace(typed, exhaust_of="", pieces=(TypedPiece("", found.conditions.fibre, weight),))


def _mordant(found: FoundShade) -> tuple[TypedSubstance, ...]:
    mordant = found.history.mordant
    if mordant is None or not mordant.percent_wof:
        return ()
    return (TypedSubstance(mordant.name, f"{mordant.percent_wof:g} %"),)
