"""A pH from the colour of a strip's pad, placed on the path of the strip's own printed scale.

The scale's blocks, in the order of their pH, are points of a path through Lab; between them it is
followed smoothly. Each place of the path could have made the pad's colour, some more easily than
others; how easily is a normal distribution of what is wrong with pad and blocks together. Errors
that both have in common, as of one photo, leave no trace in their difference. Beside the photo's
errors stand those of the scale itself: printed blocks only come near the colour of a pad, and
between two blocks nobody has printed what comes. All in the weighting of CIEDE2000.

References
----------
Fritsch, F. N. and Carlson, R. E. (1980). Monotone piecewise cubic interpolation. SIAM Journal on
Numerical Analysis 17(2), 238-246. doi:10.1137/0717021 (the path between blocks).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from dyeshade.bath.water import check_ph
from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.metric import metric_at
from dyeshade.cie.white import FloatArray
from dyeshade.errors import DyeshadeError

FEWEST_BLOCKS = 3
LEAST_APART = 2.0
"""CIEDE2000 that neighbouring blocks must differ by: nearer ones are one colour to a camera."""

PRINTED_SPREAD = 1.5
"""CIEDE2000 by which a printed block misses the pad's colour, along each axis, one standard
deviation: prints of the trade come near a pad's colour, no nearer (ours, by judgement)."""
BETWEEN_SPREAD = 0.1
"""How far the path between two blocks may stray, as a share of their difference (ours)."""

OFF_SCALE = 16.27
"""Squared misfit beyond which a colour is none of the scale's: a chi-squared of three degrees of
freedom is larger once in a thousand times."""
INTERVAL = 0.95

_STEPS = 24
"""Places that are tried between two blocks."""


@dataclass(frozen=True, eq=False)
class StripScale:
    """The printed colour scale of a kind of strip.

    Attributes
    ----------
    ph : ndarray, shape (n,)
        Of the blocks, rising.
    lab : ndarray, shape (n, 3)

    Raises
    ------
    DyeshadeError
        As `check_scale_ph`; ``strip_scale_alike`` (first, second) where two neighbours are of one
        colour.
    ValueError
        Where pH falls from one block to the next.
    """

    ph: FloatArray
    lab: FloatArray

    def __post_init__(self) -> None:
        check_scale_ph(self.ph)
        if (np.diff(self.ph) < 0).any():
            raise ValueError("blocks in the order of their pH")
        if self.lab.shape != (len(self.ph), 3):
            raise ValueError("a colour for each block")
        apart = ciede2000(self.lab[1:], self.lab[:-1])
        nearest = int(np.argmin(apart))
        if apart[nearest] < LEAST_APART:
            first, second = (float(one) for one in self.ph[nearest : nearest + 2])
            raise DyeshadeError("strip_scale_alike", first=first, second=second)


def check_scale_ph(ph: FloatArray) -> None:
    """Whether blocks can have these pH.

    Parameters
    ----------
    ph : ndarray, shape (n,)

    Raises
    ------
    DyeshadeError
        ``strip_scale_short`` (blocks, fewest); ``strip_scale_ph`` (ph) where two have the same one;
        ``ph_off_scale``.
    """
    for one in ph:
        check_ph(float(one))
    if len(ph) < FEWEST_BLOCKS:
        raise DyeshadeError("strip_scale_short", blocks=len(ph), fewest=FEWEST_BLOCKS)
    twice = np.sort(ph)[1:][np.diff(np.sort(ph)) == 0]
    if len(twice):
        raise DyeshadeError("strip_scale_ph", ph=float(twice[0]))


@dataclass(frozen=True)
class StripPlace:
    """Where a pad lies on the scale.

    Attributes
    ----------
    ph : float
        Of the place that explains the pad best.
    low, high : float
        Within which the pH lies 95 times in 100, if the pad's colour is the scale's.
    distance : float
        CIEDE2000 of the pad from that place.
    on_scale : bool
        False where no place of the path explains the colour.
    at_end : bool
        Whether the best place is an end of the scale: the pH may lie beyond.
    """

    ph: float
    low: float
    high: float
    distance: float
    on_scale: bool
    at_end: bool

    @property
    def off_by(self) -> float:
        """How far the pH may be off, the larger side of the interval."""
        return max(self.high - self.ph, self.ph - self.low)


def place_on_scale(scale: StripScale, pad: FloatArray, covariance: FloatArray) -> StripPlace:
    """Place a pad's colour on a scale.

    Parameters
    ----------
    scale : StripScale
    pad : ndarray, shape (3,)
        Lab of the pad.
    covariance : ndarray, shape (3 + 3 n, 3 + 3 n)
        Of the errors of the pad's Lab and, after it, of those of the n blocks in their order.

    Returns
    -------
    StripPlace
    """
    ph, path, strays, between = _path(scale)
    spread = _spread_of_difference(covariance, *between) + strays
    away = pad - path
    solved = np.linalg.solve(spread, away[..., None])[..., 0]
    misfit = (away * solved).sum(axis=-1)
    best = int(np.argmin(misfit))
    low, high = _interval(ph, misfit, spread)
    return StripPlace(
        ph=float(ph[best]),
        low=min(low, float(ph[best])),
        high=max(high, float(ph[best])),
        distance=float(ciede2000(pad, path[best])),
        on_scale=bool(misfit[best] < OFF_SCALE),
        at_end=best in (0, len(ph) - 1),
    )


def _path(
    scale: StripScale,
) -> tuple[FloatArray, FloatArray, FloatArray, tuple[FloatArray, FloatArray]]:
    """Places of the path: pH (k,), Lab (k, 3), and what the scale itself is off by (k, 3, 3).

    Then each place's block before it, and the share of the block after it.
    """
    # scipy takes its time to come; a window that begins has no strip yet.
    from scipy.interpolate import PchipInterpolator

    count = len(scale.ph)
    place = np.linspace(0.0, count - 1.0, _STEPS * (count - 1) + 1)
    before = np.minimum(place.astype(np.int64), count - 2)
    share = place - before
    ph = np.interp(place, np.arange(count), scale.ph)
    path = np.asarray(PchipInterpolator(scale.ph, scale.lab)(ph))
    apart = ciede2000(scale.lab[1:], scale.lab[:-1])[before]
    stray = BETWEEN_SPREAD * apart * 4.0 * share * (1.0 - share)
    off = PRINTED_SPREAD**2 + stray**2
    strays = off[:, None, None] * np.linalg.inv(metric_at(path))
    return ph, path, strays, (before, share)


def _spread_of_difference(
    covariance: FloatArray, before: FloatArray, share: FloatArray
) -> FloatArray:
    """Covariance of pad less place of the path, shape (k, 3, 3)."""
    count = len(covariance) // 3
    parts = covariance.reshape(count, 3, count, 3).transpose(0, 2, 1, 3)
    first, second = before + 1, before + 2
    ours, theirs = (1.0 - share)[:, None, None], share[:, None, None]
    across = ours * parts[0, first] + theirs * parts[0, second]
    of_both = ours * theirs * parts[first, second]
    return np.asarray(
        parts[0, 0]
        + ours**2 * parts[first, first]
        + theirs**2 * parts[second, second]
        + of_both
        + of_both.transpose(0, 2, 1)
        - across
        - across.transpose(0, 2, 1)
    )


def _interval(ph: FloatArray, misfit: FloatArray, spread: FloatArray) -> tuple[float, float]:
    """The likeliest pH that hold 95 % of the chance, from the least to the greatest of them.

    Before the pad was seen, each pH of the scale was as likely as another.
    """
    log = -0.5 * (misfit + np.log(np.linalg.det(spread)))
    density = np.exp(log - log.max())
    width = np.gradient(ph)
    width[[0, -1]] /= 2.0
    chance = density * width
    order = np.argsort(-density)
    running = np.cumsum(chance[order]) / chance.sum()
    held = order[: int(np.searchsorted(running, INTERVAL)) + 1]
    return float(ph[held.min()]), float(ph[held.max()])
