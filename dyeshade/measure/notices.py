"""What the greys and the light tell the reader of a number to mind."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import Notice
from dyeshade.measure.grey_fit import GreyFit, GreySignals

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

MOST_UNEVEN = 1.6
MOST_MIXED = 0.03
"""Change of the light's colour across the sheet: a window with its room's reflections changes it by
1.5 % at most, a lamp beside a window by 2 to 11 % (twenty scenes of
``tests/studies/uncertainty_signals.py``)."""

MOST_WHITE_OFF = 0.2
MOST_SCATTER = 0.03
_HIDDEN_WEIGHT = 0.3
_NEAR_MM = 25.0


def fit_notices(
    fit: GreyFit, signals: GreySignals, clipped: Array, raw: bool = False
) -> tuple[Notice, ...]:
    """What concerns the whole photo.

    Parameters
    ----------
    fit : GreyFit
    signals : GreySignals
    clipped : ndarray, shape (n,)
        Share of clipped pixels in each patch.
    raw : bool
        True for raw light: no camera has set a white in it that could be off.

    Returns
    -------
    tuple of Notice
        Codes ``paper_clipped`` (share), ``greys_hidden`` (hidden, of), ``light_uneven`` (factor),
        ``light_mixed`` (percent), ``white_off`` (percent), ``greys_disagree`` (percent).
    """
    told = []
    paper = signals.reflectance >= signals.reflectance.max() - 1e-9
    share = float((clipped[paper] > 0.02).mean())
    if share > 0.2:
        told.append(Notice("paper_clipped", {"share": round(share, 2)}))
    visible = signals.usable.any(axis=1)
    hidden = int((visible & (fit.weights < _HIDDEN_WEIGHT)).sum())
    if hidden > 0.1 * visible.sum():
        told.append(Notice("greys_hidden", {"hidden": hidden, "of": int(visible.sum())}))
    light = fit.log_light_at(signals.places_mm)[:, 1]
    factor = float(np.exp(np.ptp(light)))
    if factor > MOST_UNEVEN:
        told.append(Notice("light_uneven", {"factor": round(factor, 2)}))
    mixed = float(np.ptp(fit.field.scaled(signals.places_mm) @ fit.colour_tilt.T, axis=0).max())
    if mixed > MOST_MIXED:
        told.append(Notice("light_mixed", {"percent": round(100 * mixed)}))
    off = float(np.exp(np.abs(fit.white - np.median(fit.white)).max()) - 1)
    if off > MOST_WHITE_OFF and not raw:
        told.append(Notice("white_off", {"percent": round(100 * off)}))
    if np.isfinite(fit.scatter) and fit.scatter > MOST_SCATTER:
        told.append(Notice("greys_disagree", {"percent": round(100 * fit.scatter, 1)}))
    return tuple(told)


def near_cell(signals: GreySignals, left: float, top: float, wide: float, high: float) -> Mask:
    """Which patches lie near a cell, shape (n,) bool; sizes in mm."""
    x, y = signals.places_mm.T
    beside = np.maximum(np.maximum(left - x, x - left - wide), 0)
    above = np.maximum(np.maximum(top - y, y - top - high), 0)
    return np.asarray(np.hypot(beside, above) < _NEAR_MM, dtype=np.bool_)


def sample_notices(
    fit: GreyFit, signals: GreySignals, near: Mask, reflectance: Array, raw: bool = False
) -> tuple[Notice, ...]:
    """What concerns one sample.

    Parameters
    ----------
    fit : GreyFit
    signals : GreySignals
    near : ndarray of bool, shape (n,)
        The greys and papers near it.
    reflectance : ndarray, shape (3,)
        Its mean reflectance per channel.
    raw : bool
        True for raw light: a sensor's channels hold every colour.

    Returns
    -------
    tuple of Notice
        Codes ``shadow_near`` (hidden, of), ``darker_than_greys``, ``lighter_than_paper``,
        ``beyond_photo_colours``.
    """
    told = []
    visible = near & signals.usable.any(axis=1)
    hidden = visible & (fit.weights < _HIDDEN_WEIGHT)
    if visible.sum() and hidden.sum() > max(1, 0.25 * visible.sum()):
        told.append(Notice("shadow_near", {"hidden": int(hidden.sum()), "of": int(visible.sum())}))
    whole = signals.usable.all(axis=1)
    # A grey drawn by hand may be burnt in one channel: what the others show of it must do then.
    usable = signals.reflectance[whole if whole.any() else signals.usable.any(axis=1)]
    if reflectance.min() < 0.004 and not raw:
        # A channel this low lies outside what the photo's colour space can hold, and was cut off.
        told.append(Notice("beyond_photo_colours", {}))
    elif reflectance.max() < 0.6 * usable.min():
        told.append(Notice("darker_than_greys", {}))
    if reflectance.min() > 1.1 * usable.max():
        told.append(Notice("lighter_than_paper", {}))
    return tuple(told)
