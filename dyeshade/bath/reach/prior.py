"""What is believed of a liquor before anything is read: the stated prior.

A dye liquor is taken for a mixture of eight pseudo acids, a pH unit apart: plant acids, tannins,
phenols, whatever holds protons. A liquor is a row of independent standard normal numbers; here is
what they stand for. All figures are ours, by judgement: wide enough for a litre of plain water and
for a strong decoction of a tannin dyestuff.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from dyeshade.cie.white import FloatArray

PSEUDO_PK = np.arange(3.5, 10.6, 1.0)
"""PK of the pseudo acids at the ionic strength of the bath."""
MEDIAN_MOL_L = 0.7e-3
"""Median of the total of each pseudo acid."""
LEVEL_SPREAD, TILT_SPREAD, EACH_SPREAD = 1.8, 0.6, 1.3
"""Standard deviations of log totals: of all together, from acid to alkaline end, of each alone."""
START_PH, START_SPREAD = 5.8, 1.2
"""PH of a liquor before anything is added: mean and standard deviation."""
CARBONATE_MEDIAN_LOGIT, CARBONATE_SPREAD = 0.5, 1.5
"""Share of the water's carbonate still there after boiling: logistic of a normal."""
MODEL_ERROR = 0.06
"""Standard deviation, pH, of what the mixture of pseudo acids cannot follow."""

ACIDS = len(PSEUDO_PK)
STRIP_BIAS, METER_BIAS = ACIDS + 4, ACIDS + 5
RAISING, LOWERING = ACIDS + 6, ACIDS + 7
NUMBERS = ACIDS + 8
"""How many standard normal numbers make a liquor with its instruments and packs."""


@dataclass(frozen=True)
class Liquors:
    """Liquors as they may be.

    Attributes
    ----------
    totals_mol_l : ndarray, shape (n, 8)
        Of the pseudo acids, before any addition.
    carbonate_share : ndarray, shape (n,)
    start_ph : ndarray, shape (n,)
    """

    totals_mol_l: FloatArray
    carbonate_share: FloatArray
    start_ph: FloatArray


def liquors(numbers: FloatArray) -> Liquors:
    """What rows of standard normal numbers stand for.

    Parameters
    ----------
    numbers : ndarray, shape (n, NUMBERS)

    Returns
    -------
    Liquors
    """
    level = LEVEL_SPREAD * numbers[:, :1]
    tilt = TILT_SPREAD * numbers[:, 1:2] * (PSEUDO_PK - 7.0) / 3.5
    totals = MEDIAN_MOL_L * np.exp(level + tilt + EACH_SPREAD * numbers[:, 2 : ACIDS + 2])
    logit = CARBONATE_MEDIAN_LOGIT + CARBONATE_SPREAD * numbers[:, ACIDS + 2]
    return Liquors(
        totals,
        1.0 / (1.0 + np.exp(-logit)),
        START_PH + START_SPREAD * numbers[:, ACIDS + 3],
    )
