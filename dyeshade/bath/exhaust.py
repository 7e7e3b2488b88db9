"""Exhaust baths: further fibre in the liquor of an earlier bath, with what is left in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dyeshade.bath.amounts import BathPlan
from dyeshade.bath.recipe import PieceInPot, fibre_grams


@dataclass(frozen=True)
class DyestuffLeft:
    """A dyestuff in the liquor, as the weight that would be put in afresh for the same.

    Attributes
    ----------
    name, form : str
    first_g : float
        Weight that went into the first bath.
    left_g : float
        What is left of it.
    ratio_left : float
        `left_g` to the weight of fibre in this bath.
    """

    name: str
    form: str
    first_g: float
    left_g: float
    ratio_left: float


@dataclass(frozen=True)
class ExhaustBath:
    """A bath in the liquor of an earlier one.

    Attributes
    ----------
    number : int
        1 for the first exhaust bath.
    parent : BathPlan or ExhaustBath
    pieces : tuple of PieceInPot
    fibre_g : float
    left_share : float
        Share of the dyestuff in the parent that its fibre left in the liquor, by the dyer's own
        judgement: nothing here knows it.
    dyestuffs : tuple of DyestuffLeft
    water_l : float or None
        Litres that this bath should have; None where no liquor ratio is known.
    to_add_l : float or None
        Litres to fill up with; 0 where there is more liquor than needed.
    """

    number: int
    parent: BathPlan | ExhaustBath
    pieces: tuple[PieceInPot, ...]
    fibre_g: float
    left_share: float
    dyestuffs: tuple[DyestuffLeft, ...]
    water_l: float | None = None
    to_add_l: float | None = None

    @property
    def first(self) -> BathPlan:
        """The bath that the dyestuff was put into."""
        return self.parent.first if isinstance(self.parent, ExhaustBath) else self.parent


def exhaust_bath(
    parent: BathPlan | ExhaustBath,
    pieces: Sequence[PieceInPot],
    left_share: float,
    liquor_ratio: float | None = None,
    liquor_left_l: float | None = None,
) -> ExhaustBath:
    """The next bath in the same liquor.

    Parameters
    ----------
    parent : BathPlan or ExhaustBath
    pieces : sequence of PieceInPot
    left_share : float
        Above 0 and up to 1.
    liquor_ratio : float, optional
        Weight of water to weight of fibre wanted.
    liquor_left_l : float, optional
        Litres in the pot before water is added; all of the parent's unless told.

    Raises
    ------
    DyeshadeError
        ``no_fibre``
    """
    if not 0 < left_share <= 1:
        raise ValueError(f"a share lies above 0 and up to 1: {left_share}")
    grams = fibre_grams(pieces)
    if isinstance(parent, ExhaustBath):
        number = parent.number + 1
        before = [(one.name, one.form, one.first_g, one.left_g) for one in parent.dyestuffs]
    else:
        number = 1
        before = [(one.name, one.form, one.counted, one.counted) for one in parent.dyestuffs]
    left = tuple(
        DyestuffLeft(name, form, first_g, there_g * left_share, there_g * left_share / grams)
        for name, form, first_g, there_g in before
    )
    liquor = parent.water_l if liquor_left_l is None else liquor_left_l
    water = liquor if liquor_ratio is None else grams * liquor_ratio / 1000
    to_add = None if water is None or liquor is None else max(0.0, water - liquor)
    return ExhaustBath(number, parent, tuple(pieces), grams, left_share, left, water, to_add)
