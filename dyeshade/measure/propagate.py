"""From a sample's mean light to a shade with its uncertainty, in two parts.

The parts follow JCGM 100 (law of propagation): derivatives of Lab by every unknown of the grey fit,
by the sample's own mean, and by what the fit does not know (height above the sheet, the paper).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.lab import lab_to_xyz, xyz_to_lab
from dyeshade.cie.spread import u95s_of
from dyeshade.measure.grey_fit import GreyFit
from dyeshade.measure.lights import spread_name
from dyeshade.measure.result import Shade
from dyeshade.measure.seen import SampleSeen
from dyeshade.measure.typical_camera import camera_light, divide_white
from dyeshade.measure.typical_colours import typical_colours

Array = NDArray[np.float64]

CLOTH_SPREAD = 0.023
"""Spread of a cloth's log light, over the root of its luminance factor: it stands higher than the
sheet, strands and folds shade each other, what lies beneath shines through its gaps (which tells
the more, the darker it is). Made by ``python -m tests.studies.cloth_light``, which says what of it
is what; mostly it is too light."""

HEIGHT_SPREAD = 0.02
"""Spread of a cloth's log light in each of two photos that a camera has rendered: what another
angle and other light change in how high it stands, is shaded and lets through (``python -m
tests.studies.cloth_light --pairs``). It is less than `CLOTH_SPREAD`, since most of that stays."""

CLOTH_SPREAD_RAW = 0.03
"""The same in raw light, by the same command; less is stated there of light and curve."""

PAPER_SPREAD = 0.02
"""Spread of log reflectance of bare paper from paper to paper: 0.88 within 0.85 to 0.92 covers
office and matte photo papers (common practice, no source)."""

PAPER_TINT_SPREAD = 0.0133
"""Spread of log reflectance of bare paper in the blue channel against green, where nothing makes a
brightener shine: CIELAB b* of paper from -1.5 to 1.2 (common practice, no source), as the fitting
cameras see it (``tests/studies/print_constants.py``)."""

_BRIGHTENED = {"daylight": 1.73, "fluorescent": 1.43, "led": 1.18, "incandescent": 1.0}
"""How many times wider that is in light that makes brighteners shine: every second paper bluer by
0.5 to 3.5 in b* behind a window (common practice, no source; the factors by the same script)."""

_TINT = np.array([[0.3, -0.44], [-0.44, 1.0]])
"""Covariance of the tints of red and blue against that of blue: bluish paper is less red (by the
same script)."""

_EXPECTED_SCATTER = 0.006


class Colours(Protocol):
    """How a camera's light becomes colour: as learnt, or as cameras are on the whole."""

    def lab(self, light: Array) -> Array:
        """Lab of channels with the white divided out, shape (..., 3)."""

    def covariance(self, lab: Array) -> Array:
        """Covariance of a shade that comes of these colours, shape (3, 3)."""


@dataclass(frozen=True)
class SampleMean:
    """What was averaged.

    Attributes
    ----------
    reflectance : ndarray, shape (3,)
        Mean reflectance per channel in the file's primaries, the light's colour not divided out of
        its own space yet.
    covariance : ndarray, shape (3, 3)
        Covariance of that mean: texture and noise.
    place_mm : ndarray, shape (2,)
        Middle of the sample on the page.
    """

    reflectance: Array
    covariance: Array
    place_mm: Array


def lab_of(
    reflectance: Array,
    white_log: Array,
    to_xyz: Array,
    rendered: bool = True,
    own: Colours | None = None,
) -> Array:
    """Lab of reflectance per channel, shape (..., 3), under a light of the given log colour.

    Raw light (`rendered` False) has the camera's own channels: in them the white is out already.
    `own` are the colours of this camera or photo, or of cameras on the whole; without them the
    typical camera's matrix stands alone.
    """
    white = np.exp(white_log - white_log[..., 1:2])
    if own is not None:
        return own.lab(camera_light(reflectance, white, to_xyz, rendered))
    return xyz_to_lab(divide_white(reflectance, white, to_xyz, rendered))


def effective_signal(fit: GreyFit, mean: SampleMean) -> Array:
    """Signal that a flat sample of this reflectance would have had there, shape (3,)."""
    there = np.exp(fit.log_light_at(mean.place_mm))
    flare = np.exp(fit.white + fit.log_flare)
    return fit.curve.signal(mean.reflectance * there + flare)


def seen_of(fit: GreyFit, mean: SampleMean) -> SampleSeen:
    """What is kept of a sample, so that it can be worked out anew with another fit."""
    signal = effective_signal(fit, mean)
    return SampleSeen(np.asarray(mean.place_mm), signal, mean.reflectance, mean.covariance)


def by_parameters(fit: GreyFit, mean: SampleMean, by_light: tuple[Array, Array]) -> Array:
    """Derivatives of Lab by the unknowns of the fit, shape (3, p).

    Each unknown moves the reflectance, which is written down here, and the white moves how
    reflectance is read as colour besides. `by_light` are the derivatives that `by_light` gives.
    """
    signal = effective_signal(fit, mean)
    # What the flat signal leaves over (texture through a bent curve) stays as it is.
    found = by_light[0] @ fit.reflectance_slopes(signal, mean.place_mm)
    found[:, fit.white_at] += by_light[1]
    return np.asarray(found)


def by_light(
    fit: GreyFit, mean: SampleMean, to_xyz: Array, rendered: bool, own: Colours
) -> tuple[Array, Array]:
    """Derivatives of Lab by reflectance, and by the log white, each of shape (3, 3)."""
    steps = 1e-4 * np.concatenate([np.eye(3), -np.eye(3)])
    still = np.zeros_like(steps)
    reflectance = mean.reflectance + np.concatenate([steps, still])
    white = fit.white + np.concatenate([still, steps])
    # All at once: colours take many lights in the time of one.
    lab = lab_of(reflectance, white, to_xyz, rendered, own).reshape(2, 2, 3, 3)
    slopes = (lab[:, 0] - lab[:, 1]) / 2e-4
    return slopes[0].T, slopes[1].T


def cloth_spread(lab: Array) -> float:
    """Spread of the log light of a cloth of this colour, shape (3,)."""
    # Below 1 in 100 nothing was measured, and a root of nothing would be a spread without end.
    return float(CLOTH_SPREAD / np.sqrt(np.maximum(lab_to_xyz(lab)[1], 0.01)))


def tint_covariance(relative: Array, spread: float, light: str) -> Array:
    """Covariance that the tint of what stands for white brings.

    Parameters
    ----------
    relative : ndarray, shape (n, 3)
        Derivatives of n numbers by the log of each channel.
    spread : float
        Of the log reflectance in blue against green, where no brightener shines.
    light : str
        One of `dyeshade.measure.lights.KINDS`.

    Returns
    -------
    ndarray, shape (n, n)
    """
    tint = spread * _BRIGHTENED[spread_name(light)]
    by_tint = relative[:, [0, 2]]
    return np.asarray(tint**2 * by_tint @ _TINT @ by_tint.T)


def shade_of(
    fit: GreyFit,
    mean: SampleMean,
    to_xyz: Array,
    light: str,
    rendered: bool = True,
    reference_spread: float = PAPER_SPREAD,
    camera_known: bool = True,
    own: Colours | None = None,
    tint_spread: float = PAPER_TINT_SPREAD,
) -> Shade:
    """The shade of a sample with both parts of its covariance.

    Parameters
    ----------
    fit : GreyFit
    mean : SampleMean
    to_xyz : ndarray, shape (3, 3)
        The file's primaries to XYZ relative to D65.
    light : str
        One of `dyeshade.measure.lights.KINDS`.
    rendered : bool
        Whether the camera's maker rendered the photo; False for raw light.
    reference_spread : float
        Spread of the log reflectance of what stands for white: bare paper, or a bought grey.
    camera_known : bool
        False for raw light of a camera whose matrix is not known: a typical one's was taken.
    own : Colours, optional
        Colours of this camera or photo that have been learnt; they tell their own spread. Without
        them, as cameras are on the whole under this kind of light.
    tint_spread : float
        Spread of the log reflectance of what stands for white, blue against green.

    Returns
    -------
    Shade

    References
    ----------
    JCGM 100:2008, 5.2 (correlated input quantities).
    """
    settings = (to_xyz, light, rendered, reference_spread, camera_known, own, tint_spread)
    return shades_of(fit, [mean], *settings)[0]


def shades_of(
    fit: GreyFit,
    means: Sequence[SampleMean],
    to_xyz: Array,
    light: str,
    rendered: bool = True,
    reference_spread: float = PAPER_SPREAD,
    camera_known: bool = True,
    own: Colours | None = None,
    tint_spread: float = PAPER_TINT_SPREAD,
) -> list[Shade]:
    """`shade_of` for the samples of one photo at once."""
    if not means:
        return []
    if own is None:
        own = typical_colours(to_xyz, rendered, light, camera_known)
    excess = max(1.0, fit.scatter / _EXPECTED_SCATTER) ** 2 if np.isfinite(fit.scatter) else 1.0
    known_print = fit.covariance_known_print * excess
    of_print = fit.covariance - fit.covariance_known_print
    found = []
    for mean in means:
        lab = lab_of(mean.reflectance, fit.white, to_xyz, rendered, own)
        slopes = by_light(fit, mean, to_xyz, rendered, own)
        by_mean, by_fit = slopes[0], by_parameters(fit, mean, slopes)
        photo = by_fit @ known_print @ by_fit.T
        photo += by_mean @ mean.covariance @ by_mean.T
        relative = by_mean * mean.reflectance
        all_channels = relative.sum(axis=1)
        photo += cloth_spread(lab) ** 2 * np.outer(all_channels, all_channels)
        common = by_fit @ of_print @ by_fit.T
        common += reference_spread**2 * np.outer(all_channels, all_channels)
        common += tint_covariance(relative, tint_spread, light)
        common += own.covariance(lab)
        found.append((lab, photo, common))
    u95s = u95s_of([lab for lab, _, _ in found], [photo + common for _, photo, common in found])
    return [Shade(*parts, float(u95)) for parts, u95 in zip(found, u95s, strict=True)]
