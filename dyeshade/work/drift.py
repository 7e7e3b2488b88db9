"""How far one reading of a piece lies from another, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.spread import u95_of
from dyeshade.insight.difference import DifferenceOf, Measured
from dyeshade.library.shade_records import Reading

TOWARDS = (("lighter", "darker"), ("redder", "greener"), ("yellower", "bluer"))
"""Ways of L*, a* and b*, upwards and downwards."""

# A way is named where it is more than its own uncertainty and a good part of the largest one;
# both bounds are ours.
_SURE = 1.96
_PART = 0.4


@dataclass(frozen=True)
class Drift:
    """From one reading to a later one.

    Attributes
    ----------
    since : Reading
        The earlier one.
    delta_e : float
        CIEDE2000.
    u95 : float
        The CIEDE2000 that two readings of an unchanged piece stay within 95 times in 100.
    towards : tuple of str
        Of `TOWARDS`, the largest way first; empty where the readings are equal within `u95`.
    """

    since: Reading
    delta_e: float
    u95: float
    towards: tuple[str, ...]

    @property
    def beyond(self) -> bool:
        """Whether the piece has moved, rather than the measuring."""
        return self.delta_e > self.u95


def drift_between(first: Measured, later: Measured, difference_of: DifferenceOf) -> Drift:
    """The difference between two readings with its uncertainty.

    Parameters
    ----------
    first, later : Measured
    difference_of : callable
        As `dyeshade.insight.solved_together.SolvedTogether`.

    Returns
    -------
    Drift
    """
    difference = difference_of(first, later)
    lab_1, lab_2, covariance = difference.lab_from, difference.lab_to, difference.covariance
    delta_e = float(ciede2000(lab_1, lab_2))
    u95 = u95_of((lab_1 + lab_2) / 2, covariance)
    towards: tuple[str, ...] = ()
    if delta_e > u95:
        moved = lab_2 - lab_1
        least = np.maximum(_SURE * np.sqrt(np.diag(covariance)), _PART * np.abs(moved).max())
        order = np.argsort(-np.abs(moved), kind="stable")
        towards = tuple(
            TOWARDS[i][0 if moved[i] > 0 else 1] for i in order if abs(moved[i]) >= least[i]
        )
    return Drift(first.reading, delta_e, u95, towards)
