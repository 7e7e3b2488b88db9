"""Shades in the order of a card: by pH, by hue, by lightness, or as they were given."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from dyeshade.cie.lab import lab_to_lch
from dyeshade.library.dye_records import WHICH_PH
from dyeshade.paper.shade_card import CardOrder, CardShade

NEUTRAL_CHROMA: Final = 6.0
"""C*ab below which a shade is called grey, black or white rather than by its hue; common practice,
no source."""


def ordered_shades(shades: Sequence[CardShade], order: CardOrder) -> tuple[CardShade, ...]:
    """Shades in an order; equal ones stay as they were given.

    Parameters
    ----------
    shades : sequence of CardShade
    order : str
        "given"; "ph": from acid to alkaline, each kind of pH by itself, since they are never
        pooled, and those without any at the end; "hue": once round the circle, beginning after
        its widest gap, neutrals last; "lightness": from light to dark.

    Returns
    -------
    tuple of CardShade
    """
    if order == "given":
        return tuple(shades)
    if order == "ph":
        return tuple(sorted(shades, key=_by_ph))
    if order == "lightness":
        return tuple(sorted(shades, key=_from_light))
    if order == "hue":
        return _round_the_circle(shades)
    raise ValueError(f"order {order!r}")


def _by_ph(shade: CardShade) -> tuple[int, float]:
    if shade.ph is None or shade.ph_which is None:
        return len(WHICH_PH), 0.0
    return WHICH_PH.index(shade.ph_which), shade.ph


def _from_light(shade: CardShade) -> float:
    return -shade.lab[0]


def _round_the_circle(shades: Sequence[CardShade]) -> tuple[CardShade, ...]:
    coloured: list[tuple[float, CardShade]] = []
    neutral: list[CardShade] = []
    for shade in shades:
        _, chroma, hue = lab_to_lch(shade.lab)
        if chroma < NEUTRAL_CHROMA:
            neutral.append(shade)
        else:
            coloured.append((float(hue), shade))
    coloured.sort(key=lambda pair: pair[0])
    hues = [hue for hue, _ in coloured]
    # The gap before each hue; before the first lies the one across 360 degrees.
    gaps = [(hue - hues[place - 1]) % 360.0 for place, hue in enumerate(hues)]
    first = gaps.index(max(gaps)) if gaps else 0
    turned = [shade for _, shade in coloured[first:] + coloured[:first]]
    return (*turned, *sorted(neutral, key=_from_light))
