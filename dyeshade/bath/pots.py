"""Which pieces go into which pot, where one pot cannot hold the liquor."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from dyeshade.bath.recipe import PieceInPot, fibre_grams
from dyeshade.errors import DyeshadeError

FILL = 0.8
"""How full a pot may be, so that fibre can be moved and nothing boils over: common practice, no
source. The room that the fibre itself takes is in what is left free."""

MOST_POTS = 50

# Ways to share out pieces that are looked at, at most: many more than a dozen pieces have.
_MOST_WAYS = 20_000


@dataclass(frozen=True)
class Pot:
    """A kind of pot.

    Attributes
    ----------
    litres : float
        What it holds up to its rim.
    material : str
        "stainless steel", "enamel", "aluminium", "copper", "iron"; "" where it was not said.
    fill : float
        Share of it that may be filled.
    """

    litres: float
    material: str = ""
    fill: float = FILL

    def __post_init__(self) -> None:
        if not (0 < self.litres < float("inf") and 0 < self.fill <= 1):
            raise ValueError(f"a pot of {self.litres} litres, {self.fill} of it filled")

    @property
    def usable_l(self) -> float:
        """Litres of water that it may get."""
        return self.litres * self.fill


MATERIALS = ("stainless steel", "enamel", "aluminium", "copper", "iron")


def split_over_pots(
    pieces: Sequence[PieceInPot], liquor_ratio: float, pot: Pot, whole: bool = True
) -> tuple[tuple[PieceInPot, ...], ...]:
    """The pieces for each pot, in as few pots of a kind as hold the liquor, as equal as can be.

    Parameters
    ----------
    pieces : sequence of PieceInPot
    liquor_ratio : float
        Weight of water to weight of fibre.
    pot : Pot
    whole : bool
        Whether a piece stays in one pot; else every pot gets an equal share of each piece, as of
        loose fibre.

    Returns
    -------
    tuple of tuple of PieceInPot
        One for each pot; pots and what is in them in the order given.

    Raises
    ------
    DyeshadeError
        ``no_fibre``; ``piece_too_large_for_pot`` (piece, grams, needs_l, usable_l);
        ``too_many_pots`` (needed, most).
    """
    most_g = pot.usable_l * 1000 / liquor_ratio
    total = fibre_grams(pieces)
    needed = max(1, math.ceil(total / most_g * (1 - 1e-9)))
    if whole:
        for piece in pieces:
            if piece.grams > most_g * (1 + 1e-9):
                raise DyeshadeError(
                    "piece_too_large_for_pot",
                    piece=piece.name or piece.fibre,
                    grams=piece.grams,
                    needs_l=piece.grams * liquor_ratio / 1000,
                    usable_l=pot.usable_l,
                )
    if needed > MOST_POTS:
        raise DyeshadeError("too_many_pots", needed=needed, most=MOST_POTS)
    if not whole:
        shares = tuple(replace(piece, grams=piece.grams / needed) for piece in pieces)
        return (shares,) * needed
    weights = [piece.grams for piece in pieces]
    while True:
        places = _shared_out(weights, needed)
        loads = [
            sum(w for w, p in zip(weights, places, strict=True) if p == k) for k in range(needed)
        ]
        if max(loads) <= most_g * (1 + 1e-9):
            break
        needed += 1
        if needed > MOST_POTS:
            raise DyeshadeError("too_many_pots", needed=needed, most=MOST_POTS)
    return tuple(
        tuple(piece for piece, place in zip(pieces, places, strict=True) if place == pot_place)
        for pot_place in dict.fromkeys(places)
    )


def _shared_out(weights: Sequence[float], pots: int) -> list[int]:
    """The pot of each weight, so that the fullest pot holds as little as can be."""
    order = sorted(range(len(weights)), key=lambda i: -weights[i])
    best = [0] * len(weights)
    loads = [0.0] * pots
    for i in order:
        best[i] = min(range(pots), key=lambda k: loads[k])
        loads[best[i]] += weights[i]
    ideal = max(sum(weights) / pots, max(weights))
    fullest = max(loads)
    looked_at = 0
    places = [0] * len(weights)
    loads = [0.0] * pots

    def place(depth: int) -> None:
        nonlocal best, fullest, looked_at
        looked_at += 1
        if depth == len(order):
            best, fullest = list(places), max(loads)
            return
        i = order[depth]
        tried: set[float] = set()
        for k in range(pots):
            # Pots that are equally full are one and the same choice.
            if loads[k] in tried or loads[k] + weights[i] >= fullest * (1 - 1e-12):
                continue
            if looked_at > _MOST_WAYS or fullest <= ideal * (1 + 1e-12):
                return
            tried.add(loads[k])
            places[i], before = k, loads[k]
            loads[k] = before + weights[i]
            place(depth + 1)
            loads[k] = before

    if len(weights) <= 200:
        place(0)
    return best
