"""All of a bath at once: what it needs, in which pots, its exhaust baths, and what to mind."""

from __future__ import annotations

from dataclasses import dataclass, replace

from dyeshade.bath.amounts import BathPlan, plan_bath
from dyeshade.bath.exhaust import ExhaustBath, exhaust_bath
from dyeshade.bath.hazards import cautions_for
from dyeshade.bath.pots import Pot, split_over_pots
from dyeshade.bath.recipe import DyestuffShare, PieceInPot, Recipe
from dyeshade.bath.store import Enough, Lot, Move, enough_for
from dyeshade.bath.substances import COMMON_PRACTICE, Ranges
from dyeshade.bath.written import DyestuffAtHand
from dyeshade.errors import Notice


@dataclass(frozen=True)
class BathAsked:
    """What a dyer asks for.

    Attributes
    ----------
    pieces : tuple of PieceInPot
    recipe : Recipe
    pot : Pot or None
        The pots they have.
    whole : bool
        Whether pieces stay whole when they are shared out over pots.
    exhausts : tuple of (pieces, left share)
        Exhaust baths in their order.
    foraged, hot : bool
        As in `hazards.cautions_for`.
    ranges : Ranges
    lots : tuple of Lot
    moves : tuple of Move
        The store, if it should be asked whether it is enough.
    """

    pieces: tuple[PieceInPot, ...]
    recipe: Recipe
    pot: Pot | None = None
    whole: bool = True
    exhausts: tuple[tuple[tuple[PieceInPot, ...], float], ...] = ()
    foraged: bool = False
    hot: bool = True
    ranges: Ranges = COMMON_PRACTICE
    lots: tuple[Lot, ...] = ()
    moves: tuple[Move, ...] = ()


@dataclass(frozen=True)
class BathWorkedOut:
    """What came of it.

    Attributes
    ----------
    plan : BathPlan
        For all pieces together.
    pots : tuple of BathPlan
        One for each pot, where it takes more than one.
    exhausts : tuple of ExhaustBath
        Of all pots together.
    enough : tuple of Enough
        For each dyestuff of which there is a lot.
    cautions : tuple of Notice
    """

    plan: BathPlan
    pots: tuple[BathPlan, ...]
    exhausts: tuple[ExhaustBath, ...]
    enough: tuple[Enough, ...]
    cautions: tuple[Notice, ...]


def work_out(asked: BathAsked) -> BathWorkedOut:
    """Work out a bath.

    Raises
    ------
    DyeshadeError
        ``no_fibre``, ``mordant_not_supported``, ``piece_too_large_for_pot``, ``too_many_pots``.
    """
    plan = plan_bath(asked.pieces, asked.recipe, asked.ranges)
    pots: tuple[BathPlan, ...] = ()
    liquor_ratio = asked.recipe.liquor_ratio
    if asked.pot is not None and liquor_ratio is None:
        notices = (*plan.notices, Notice("pot_without_liquor"))
        plan = replace(plan, notices=notices)
    if asked.pot is not None and liquor_ratio is not None:
        groups = split_over_pots(asked.pieces, liquor_ratio, asked.pot, asked.whole)
        if len(groups) > 1:
            pots = tuple(plan_bath(group, asked.recipe, asked.ranges) for group in groups)
    exhausts: list[ExhaustBath] = []
    for pieces, left_share in asked.exhausts:
        parent = exhausts[-1] if exhausts else plan
        exhausts.append(exhaust_bath(parent, pieces, left_share, liquor_ratio))
    stored = {lot.name.casefold() for lot in asked.lots}
    enough = tuple(
        enough_for(plan.fibre_g, dyestuff, asked.lots, asked.moves)
        for dyestuff in asked.recipe.dyestuffs
        if dyestuff.name.casefold() in stored
    )
    material = "" if asked.pot is None else asked.pot.material
    cautions = cautions_for(plan, material, asked.foraged, asked.hot)
    return BathWorkedOut(plan, pots, tuple(exhausts), enough, cautions)


def with_yields(
    dyestuffs: tuple[DyestuffShare, ...], yields: tuple[DyestuffAtHand, ...]
) -> tuple[DyestuffShare, ...]:
    """Dyestuffs with the yields that were given for their names.

    Parameters
    ----------
    dyestuffs : tuple of DyestuffShare
    yields : tuple of DyestuffAtHand
        As `written.parse_yield` reads them.
    """
    found = []
    for dyestuff in dyestuffs:
        for one in yields:
            if one.name.casefold() == dyestuff.name.casefold():
                dyestuff = (
                    replace(dyestuff, extract_yield=one.number)
                    if one.form == "extract"
                    else replace(dyestuff, drying_yield=one.number)
                )
        found.append(dyestuff)
    return tuple(found)
