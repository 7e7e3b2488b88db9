"""A bath that went past its target, and what the way back costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from dyeshade.bath.acids import CARBONIC
from dyeshade.bath.activities import ROOM_C
from dyeshade.bath.additives import Additive
from dyeshade.bath.ceilings import PhRange
from dyeshade.bath.formula import molar_mass
from dyeshade.bath.reach.belief import Belief
from dyeshade.bath.reach.measures import Measure
from dyeshade.bath.reach.propose import Advice, advise, near_target, spread_of
from dyeshade.cie.white import FloatArray
from dyeshade.errors import Notice

_SALTS_G_PER_MOL = {
    "acetic": molar_mass("NaC2H3O2"),
    "citric": molar_mass("Na3C6H5O7"),
    "tartaric": molar_mass("NaKC4H4O6"),
    # Soda brought back with an acid before: two sodium ions, as acetate.
    "carbonic": 2.0 * molar_mass("NaC2H3O2"),
    "sulphuric": molar_mass("Na2SO4"),
    # Of alum: it settles as its hydroxide.
    "aluminium": 0.0,
}
GAS_L_PER_MOL = 24.5
"""A mol of gas at 25 degrees C, L."""
FOAM_FROM_L = 0.25
"""Carbon dioxide, L in a litre of bath, from which a bath is said to foam; our judgement."""


@dataclass(frozen=True)
class WayBack:
    """What it takes to come back to the target.

    Attributes
    ----------
    overshot_by : float
        pH past the target, as far as is known.
    additive : Additive
    amount : float
        In its unit, for a bath in the middle of what fits the log.
    salts_g : float
        Salts that stay in the bath for it.
    gas_l : float
        Carbon dioxide that is set free, at most.
    advice : Advice
        The first step of the way back.
    notices : tuple of Notice
    """

    overshot_by: float
    additive: Additive
    amount: float
    salts_g: float
    gas_l: float
    advice: Advice
    notices: tuple[Notice, ...]


def way_back(
    belief: Belief, target: float, bears: PhRange, measures: Sequence[Measure]
) -> WayBack | None:
    """Whether the last addition went past the target, and what the way back costs.

    Parameters
    ----------
    belief : Belief
    target : float
    bears : PhRange
    measures : sequence of Measure

    Returns
    -------
    WayBack or None
        None where nothing was overshot, or the dyer has nothing that leads back.

    Raises
    ------
    DyeshadeError
        As `advise`.
    """
    additions = belief.log.additions
    if not additions:
        return None
    rose = additions[-1].additive.raises_ph
    past = spread_of(belief.ph).median - target
    back = [one for one in measures if one.additive.raises_ph is not rose]
    if (past if rose else -past) <= near_target(belief) or not back:
        return None
    measure = back[0]
    wanted = belief.titration.amount_for(
        belief.numbers, belief.start_charge, measure.additive, measure.spread, target
    )
    amount = max(float(np.median(wanted)), 0.0)
    mol = amount * measure.additive.mol_per_unit
    salts = sum(mol * each * _SALTS_G_PER_MOL[acid.name] for acid, each in measure.additive.acids)
    carbonate = belief.titration.carbonate_mol(belief.numbers)
    freed = _gas_share(np.full(len(belief.ph), target)) - _gas_share(belief.ph)
    gas = GAS_L_PER_MOL * float(np.median(np.maximum(carbonate * freed, 0.0)))
    facts = {
        "past": round(abs(past), 1),
        "target": target,
        "additive": measure.additive.name,
        "amount": round(amount, 1),
        "unit": measure.additive.unit,
        "salts_g": round(salts, 1),
    }
    notices = [Notice("overshot", facts)]
    if rose and gas / belief.log.contents.volume_l > FOAM_FROM_L:
        notices.append(Notice("foam", {"gas_l": round(gas, 1)}))
    advice = advise(belief, target, bears, measures)
    return WayBack(abs(past), measure.additive, amount, salts, gas, advice, tuple(notices))


def _gas_share(ph: FloatArray) -> FloatArray:
    """Share of carbonate that is dissolved carbon dioxide."""
    pk_1, pk_2 = CARBONIC.pk(ROOM_C)
    share: FloatArray = 1.0 / (1.0 + 10.0 ** (ph - pk_1) + 10.0 ** (2.0 * ph - pk_1 - pk_2))
    return share
