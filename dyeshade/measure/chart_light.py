"""The light of a chart's patches, from its own neutrals, and from a sheet's greys beside it.

The neutrals of a chart are known better than any print: they settle the tone curve, the white and
the scale. A sheet in the same photo tells how the light falls, and learns from the chart what its
own paper and greys are.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.lab import lab_to_xyz
from dyeshade.errors import DyeshadeError
from dyeshade.measure.grey_fit import GreyFit, GreySignals
from dyeshade.measure.greys import fit_greys
from dyeshade.measure.light_field import LightField
from dyeshade.measure.typical_camera import camera_base, camera_light

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

NEUTRAL = 5.0
"""C*ab below which a patch counts as a neutral; charts' whites have up to 3."""

LEAST_NEUTRALS = 3

_KNOWN_TO = 0.005
"""Relative spread of a chart's neutrals about their published values (common practice, no source:
makers state some tenths of a unit of L*)."""

_SLOPE_ALONE = 0.15
_SLOPE_ON_SHEET = 0.02
_LUMINANCE_OFF = 0.04
_ROUNDS = 3


@dataclass(frozen=True, eq=False)
class ChartSignals:
    """What a photo shows of a chart's n patches.

    Attributes
    ----------
    places : ndarray, shape (n, 2)
        Middles, in the unit of the field that is fitted: mm on the sheet's page, or pixels.
    lab : ndarray, shape (n, 3)
        Published values, for D65 and the 2 degree observer.
    signal, spread : ndarray, shape (n, 3)
        Decoded linear signal in the file's primaries, 0..1, and its standard error.
    usable : ndarray of bool, shape (n,)
        False where clipped or hidden.
    """

    places: Array
    lab: Array
    signal: Array
    spread: Array
    usable: Mask

    @property
    def neutral(self) -> Mask:
        """Which patches are usable neutrals."""
        return np.asarray((np.hypot(self.lab[:, 1], self.lab[:, 2]) < NEUTRAL) & self.usable)


@dataclass(frozen=True, eq=False)
class ChartSolved:
    """A chart's light.

    Attributes
    ----------
    fit : GreyFit
    light : ndarray, shape (n, 3)
        Camera light of each patch, white divided out (`typical_camera.camera_light`).
    paper_scale : ndarray, shape (3,)
        Beside a sheet: what the sheet's bare paper reflects in each channel of the file, as a share
        of what was taken for it. Ones without a sheet.
    """

    fit: GreyFit
    light: Array
    paper_scale: Array


@dataclass(frozen=True, eq=False)
class Tied:
    """Light, curve and white by known neutrals on a sheet; `paper_scale` as `ChartSolved`."""

    fit: GreyFit
    paper_scale: Array


def in_channels(lab: Array, to_xyz: Array) -> Array:
    """What colours near neutral reflect in a file's channels, (n, 3) to (n, 3)."""
    return np.asarray(np.linalg.solve(to_xyz, lab_to_xyz(lab).T).T)


def solve_chart(
    chart: ChartSignals,
    field: LightField,
    to_xyz: Array,
    rendered: bool,
    sheet: GreySignals | None = None,
) -> ChartSolved:
    """Solve light, tone curve and white of a chart.

    Parameters
    ----------
    chart : ChartSignals
    field : LightField
    to_xyz : ndarray, shape (3, 3)
        The file's channels to XYZ relative to D65.
    rendered : bool
    sheet : GreySignals, optional
        Greys and paper of a sheet on which the chart lies.

    Returns
    -------
    ChartSolved

    Raises
    ------
    DyeshadeError
        ``chart_greys_unusable`` (usable, needed).
    """
    neutral = chart.neutral
    if neutral.sum() < LEAST_NEUTRALS:
        raise DyeshadeError(
            "chart_greys_unusable", usable=int(neutral.sum()), needed=LEAST_NEUTRALS
        )
    channels = in_channels(chart.lab[neutral], to_xyz)
    luminance = lab_to_xyz(chart.lab[neutral])[:, 1]
    own = GreySignals(
        chart.places[neutral],
        luminance,
        chart.signal[neutral],
        np.hypot(chart.spread[neutral], _KNOWN_TO * chart.signal[neutral]),
        np.ones((int(neutral.sum()), 3), dtype=bool),
        np.log(channels / luminance[:, None]),
        0.0,
    )
    if sheet is None:
        tied = Tied(fit_greys(own, field, linear=not rendered), np.ones(3))
    else:
        tied = tied_to(own, sheet, field, rendered)
    fit = tied.fit
    white = np.exp(fit.white - fit.white[1])
    light = camera_light(fit.reflectance(chart.signal, chart.places), white, to_xyz, rendered)
    slope = _SLOPE_ALONE if sheet is None else _SLOPE_ON_SHEET
    return ChartSolved(
        fit, _evened(chart, light, camera_base(to_xyz, rendered), slope), tied.paper_scale
    )


def tied_to(own: GreySignals, sheet: GreySignals, field: LightField, rendered: bool) -> Tied:
    """Solve a sheet on which known neutrals lie: they tell what its paper reflects.

    Parameters
    ----------
    own : GreySignals
        Of neutrals that are on no print, `departs` 0.
    sheet : GreySignals
        As of a plain print.
    field : LightField
        Of the page.
    rendered : bool
    """
    known = np.log(own.reflectance)[:, None] + own.tint
    scale = np.ones(3)
    fit = fit_greys(sheet, field, linear=not rendered)
    for _ in range(_ROUNDS):
        seen = np.log(np.maximum(fit.reflectance(own.signal, own.places_mm), 1e-4))
        # All that was seen is against the scale of the round before.
        scale = scale * np.exp(np.median(known - seen, axis=0))
        fit = fit_greys(_joined(_scaled(sheet, scale), own), field, linear=not rendered)
    return Tied(fit, scale)


def _scaled(sheet: GreySignals, scale: Array) -> GreySignals:
    """The sheet's greys, were its paper lighter and tinted by these factors."""
    return replace(
        sheet,
        reflectance=sheet.reflectance * scale[1],
        tint=sheet.tint + np.log(scale / scale[1]),
    )


def _joined(sheet: GreySignals, chart: GreySignals) -> GreySignals:
    count = len(sheet.reflectance), len(chart.reflectance)
    tints = [np.broadcast_to(one.tint, one.signal.shape) for one in (sheet, chart)]
    departs = [
        np.broadcast_to(one.departs, (n,)) for one, n in zip((sheet, chart), count, strict=True)
    ]
    return GreySignals(
        np.concatenate([sheet.places_mm, chart.places_mm]),
        np.concatenate([sheet.reflectance, chart.reflectance]),
        np.concatenate([sheet.signal, chart.signal]),
        np.concatenate([sheet.spread, chart.spread]),
        np.concatenate([sheet.usable, chart.usable]),
        np.concatenate(tints),
        np.concatenate(departs),
    )


def _evened(chart: ChartSignals, light: Array, base: Array, slope: float) -> Array:
    """Light with what is left of a slope across the chart taken out.

    Neutrals stand in one row of most charts and tell nothing of the light across it; the published
    luminances of all patches do.
    """
    known = lab_to_xyz(chart.lab)
    middle = chart.places.mean(axis=0)
    half = np.maximum(np.ptp(chart.places, axis=0).max() / 2, 1e-9)
    place = (chart.places - middle) / half
    used = chart.usable & (light > 0).all(axis=1)
    # A matrix of its own takes out of the luminances what the camera, not the light, has done.
    colour = np.stack([light[:, 0] - light[:, 1], light[:, 2] - light[:, 1]], axis=-1)
    off = np.log(np.maximum(light @ base[1], 1e-4) / known[:, 1])
    relative = colour / np.maximum(light @ base[1], 1e-4)[:, None]
    rows = np.concatenate([place, relative, np.ones((len(place), 1))], axis=-1)[used]
    spreads = np.array([slope, slope, 0.3, 0.3, 0.05])
    weight = np.ones(int(used.sum()))
    answer = np.zeros(5)
    for _ in range(5):
        held = (rows * weight[:, None]).T @ rows + np.diag((_LUMINANCE_OFF / spreads) ** 2)
        answer = np.linalg.solve(held, rows.T @ (weight * off[used]))
        rest = (off[used] - rows @ answer) / _LUMINANCE_OFF
        weight = 5.0 / (4.0 + rest**2)
    # Neutrals keep their mean: they have settled the scale.
    tilt = place @ answer[:2]
    tilt = tilt - tilt[chart.neutral].mean()
    return np.asarray(light / np.exp(tilt)[:, None])
