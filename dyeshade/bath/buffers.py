"""Carbonate with hydrogen carbonate: a bath that holds its pH, and how firmly."""

from __future__ import annotations

import math
from dataclasses import dataclass

from scipy.optimize import brentq

from dyeshade.bath.acids import CARBONIC
from dyeshade.bath.additives import HYDROGEN_CARBONATE, SODA_ANHYDROUS, Additive, stir_in, vinegar
from dyeshade.bath.amounts_for_ph import amount_to_reach
from dyeshade.bath.equilibrium import Contents, TwoPh, both_ph, solve
from dyeshade.bath.water import check_ph
from dyeshade.errors import DyeshadeError, Notice

GOOD_FROM, GOOD_TO = 9.3, 10.5
"""pH at 25 degrees C between which the pair holds well: at least about a third of its best."""
HARD_MOL_L = 2e-3
"""Carbonate in a water, mol/L, from which lime is likely to settle: about 100 mg/L alkalinity."""
_FIRM_PH = 10.0


@dataclass(frozen=True)
class Buffer:
    """A recipe that holds a pH.

    Attributes
    ----------
    soda : Additive
    soda_g, hydrogen_carbonate_g : float
    contents : Contents
    ph : TwoPh
    capacity_mol_l : float
        Acid or base that a litre takes for one pH unit, mol, at 25 degrees C.
    share_of_best : float
        Capacity as a share of that of the same total at pH 10.
    spare_vinegar_ml : float
        5 % vinegar that lowers the whole bath by half a unit.
    notices : tuple of Notice
        ``carbonate_weak`` and ``simmer_raises_ph`` below 9.3, ``lime_settles`` in hard water.
    """

    soda: Additive
    soda_g: float
    hydrogen_carbonate_g: float
    contents: Contents
    ph: TwoPh
    capacity_mol_l: float
    share_of_best: float
    spare_vinegar_ml: float
    notices: tuple[Notice, ...] = ()


def carbonate_buffer(
    contents: Contents,
    target: float,
    bath_c: float,
    total_mol_l: float = 0.02,
    soda: Additive = SODA_ANHYDROUS,
) -> Buffer:
    """Soda and hydrogen carbonate that hold a bath at a pH, read at 25 degrees C.

    Parameters
    ----------
    contents : Contents
        The bath before.
    target : float
    bath_c : float
    total_mol_l : float
        Of the two together, mol in a litre; more holds firmer.
    soda : Additive
        One of `SODAS`.

    Returns
    -------
    Buffer

    Raises
    ------
    DyeshadeError
        ``ph_off_scale``; ``buffer_out_of_reach`` with what hydrogen carbonate alone and soda alone
        would make.
    """
    check_ph(target)
    total = total_mol_l * contents.volume_l

    def mixed(share: float, of: float = total) -> Contents:
        with_soda = stir_in(contents, soda, share * of / soda.mol_per_unit)
        grams = (1.0 - share) * of / HYDROGEN_CARBONATE.mol_per_unit
        return stir_in(with_soda, HYDROGEN_CARBONATE, grams)

    lowest, highest = solve(mixed(0.0)).ph, solve(mixed(1.0)).ph
    if not lowest <= target <= highest:
        raise DyeshadeError(
            "buffer_out_of_reach", target=target, lowest=round(lowest, 1), highest=round(highest, 1)
        )

    def share_for(ph: float) -> float:
        return float(brentq(lambda s: solve(mixed(s)).ph - ph, 0.0, 1.0, xtol=1e-9))

    share = share_for(target)
    after = mixed(share)
    found = both_ph(after, bath_c)
    capacity = found.at_25_c.capacity_mol_l
    firm = min(max(_FIRM_PH, lowest), highest)
    at_ten = solve(mixed(share_for(firm))).capacity_mol_l
    return Buffer(
        soda,
        share * total / soda.mol_per_unit,
        (1.0 - share) * total / HYDROGEN_CARBONATE.mol_per_unit,
        after,
        found,
        capacity,
        capacity / at_ten,
        _vinegar_for_half_a_unit(after, target),
        (
            *carbonate_cautions(target, bath_c, capacity / at_ten),
            *lime_cautions(contents, target),
        ),
    )


def carbonate_cautions(
    target: float, bath_c: float, share_of_best: float | None = None
) -> tuple[Notice, ...]:
    """What to know of carbonate at a pH: where it is weak, and what simmering does.

    Parameters
    ----------
    target : float
    bath_c : float
        Temperature of the bath, degrees C.
    share_of_best : float, optional
        Capacity there as a share of that at pH 10; of carbonate alone unless told.
    """
    notices = []
    if 7.5 <= target < GOOD_FROM:
        weak = share_of_best
        if weak is None:
            weak = _holds(target) / _holds(_FIRM_PH)
        share = f"{weak:.0%}".replace("%", " %")
        notices.append(Notice("carbonate_weak", {"share": share, "target": target}))
        if bath_c >= 60.0:
            notices.append(Notice("simmer_raises_ph", {"temperature_c": bath_c}))
    return tuple(notices)


def _holds(ph: float) -> float:
    """Capacity of carbonate for one pH unit at 25 degrees C, as a share of its amount."""
    ratios = [10.0 ** (ph - pk) for pk in CARBONIC.pk(25.0)]
    return float(math.log(10.0) * sum(one / (1.0 + one) ** 2 for one in ratios))


def lime_cautions(contents: Contents, target: float) -> tuple[Notice, ...]:
    """What to know before soda goes into a hard water, `contents` being the bath before it."""
    if target >= 8.5 and contents.total(CARBONIC) / contents.volume_l >= HARD_MOL_L:
        return (Notice("lime_settles"),)
    return ()


def _vinegar_for_half_a_unit(contents: Contents, target: float) -> float:
    return amount_to_reach(contents, vinegar(5.0), target - 0.5, 25.0).amount
