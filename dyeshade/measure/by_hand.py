"""From a photo without a sheet: greys drawn by hand, and the samples beside them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.rgb_spaces import lab_to_srgb
from dyeshade.errors import DyeshadeError, Notice
from dyeshade.measure.cloth import find_cloth_in_region
from dyeshade.measure.grey_fit import GreyFit, GreySignals
from dyeshade.measure.greys import fit_greys
from dyeshade.measure.light_field import field_for_page
from dyeshade.measure.light_reader import light_reader
from dyeshade.measure.notices import fit_notices, sample_notices
from dyeshade.measure.propagate import SampleMean, lab_of, shade_of
from dyeshade.measure.regions import HandGrey, HandSample, Regions
from dyeshade.measure.result import Measurement, Sample, ShadeShare
from dyeshade.measure.shades_in_cloth import main_shades
from dyeshade.photo.photo import Photo
from dyeshade.photo.vision import cv2

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

LEAST_PIXELS = 25
_INNER = 0.8
_REFERENCE_SPREAD = 0.03
"""Spread of log reflectance of a bought grey about what is printed on it (common practice, no
source: makers of photo greys state 18 % within a few per cent)."""


def region_mask(
    corners: Array, shape: tuple[int, int], inner: float = 1.0
) -> tuple[slice, slice, Mask]:
    """Rows, columns and mask of a drawn quadrilateral, cut to the photo.

    Parameters
    ----------
    corners : ndarray, shape (4, 2)
        Pixels of the upright photo, x right and y down.
    shape : tuple of int
        Height and width of the photo.
    inner : float
        Share of its size by which it is shrunk about its middle.

    Raises
    ------
    DyeshadeError
        ``region_outside`` where nothing of it lies in the photo.
    """
    middle = corners.mean(axis=0)
    points = middle + (corners - middle) * inner
    low = np.maximum(np.floor(points.min(axis=0)).astype(int), 0)
    high = np.minimum(np.ceil(points.max(axis=0)).astype(int) + 1, [shape[1], shape[0]])
    if (high <= low).any():
        raise DyeshadeError("region_outside", corners=corners.tolist())
    canvas = np.zeros((high[1] - low[1], high[0] - low[0]), np.uint8)
    cv2.fillPoly(canvas, [np.round(points - low).astype(np.int32)], 1)
    return slice(low[1], high[1]), slice(low[0], high[0]), canvas.astype(bool)


def _grey_row(photo: Photo, grey: HandGrey, number: int) -> tuple[Array, Array, Array, float]:
    """Middle, mean signal, its standard error and the share clipped of one drawn grey."""
    rows, columns, mask = region_mask(grey.corners, (photo.height, photo.width), _INNER)
    if mask.sum() < LEAST_PIXELS:
        raise DyeshadeError("grey_too_small", number=number, pixels=int(mask.sum()))
    pixels = photo.linear(rows, columns)[mask].astype(np.float64)
    error = pixels.std(axis=0) / np.sqrt(max(len(pixels) / 16, 1.0))
    clipped = float(photo.clipped(rows, columns)[mask].mean())
    return np.asarray(grey.corners).mean(axis=0), pixels.mean(axis=0), error, clipped


def _fit(photo: Photo, regions: Regions) -> tuple[GreyFit, GreySignals, Array]:
    read = [_grey_row(photo, grey, k + 1) for k, grey in enumerate(regions.greys)]
    signal = np.array([row[1] for row in read])
    clipped = np.array([row[3] for row in read])
    error = np.hypot(np.array([row[2] for row in read]), _REFERENCE_SPREAD / 3 * signal)
    usable = np.repeat((clipped < 0.02)[:, None], 3, axis=1) & (signal > 1e-4)
    if not usable.any():
        raise DyeshadeError("greys_clipped", greys=len(read))
    reflectance = np.array([grey.reflectance for grey in regions.greys])
    places = np.array([row[0] for row in read])
    signals = GreySignals(places, reflectance, signal, error, usable)
    return fit_greys(signals, field_for_page((photo.width, photo.height))), signals, clipped


def measure_by_hand(photo: Photo, regions: Regions, light: str) -> tuple[Measurement, GreyFit]:
    """Measure drawn samples by drawn greys.

    Parameters
    ----------
    photo : Photo
    regions : Regions
        At least one grey and one sample, in pixels of the upright photo.
    light : str
        One of `dyeshade.measure.lights.KINDS`.

    Returns
    -------
    Measurement, GreyFit
        With `sheet` None; places of the fit are pixels of the photo.

    Raises
    ------
    DyeshadeError
        ``region_outside``, ``grey_too_small``, ``sample_too_small``, ``greys_clipped``.
    """
    fit, signals, clipped = _fit(photo, regions)
    samples = tuple(_sample(photo, fit, signals, sample, light) for sample in regions.samples)
    notices = [*photo.notices, *fit_notices(fit, signals, clipped)]
    if len(regions.greys) < 3:
        notices.append(Notice("few_greys", {"greys": len(regions.greys)}))
    found = Measurement(photo.name, photo.taken, photo.camera, None, light, samples, tuple(notices))
    return found, fit


def _sample(
    photo: Photo, fit: GreyFit, signals: GreySignals, sample: HandSample, light: str
) -> Sample:
    rows, columns, mask = region_mask(sample.corners, (photo.height, photo.width))
    if mask.sum() < LEAST_PIXELS:
        raise DyeshadeError("sample_too_small", name=sample.name, pixels=int(mask.sum()))
    seen = light_reader(photo, fit)(rows, columns)
    middle = np.asarray(sample.corners).mean(axis=0)
    # The light over one drawn region counts as even: its middle stands for it.
    flare = np.exp(fit.white + fit.log_flare)
    reflectance = ((seen - flare) / np.exp(fit.log_light_at(middle))).astype(np.float32)
    cloth = find_cloth_in_region(reflectance, mask, photo.clipped(rows, columns))
    mean = SampleMean(cloth.mean, cloth.standard_error, middle)
    to_xyz = photo.encoding.to_xyz
    shade = shade_of(fit, mean, to_xyz, light, reference_spread=_REFERENCE_SPREAD)
    shades = tuple(
        ShadeShare(lab_of(np.asarray(part), fit.white, to_xyz), share)
        for part, share in main_shades(reflectance, cloth.mask)
    )
    srgb, in_gamut = lab_to_srgb(shade.lab)
    everywhere = np.ones(len(signals.reflectance), bool)
    notices = (*cloth.notices, *sample_notices(fit, signals, everywhere, mean.reflectance))
    outline = np.array([columns.start, rows.start]) + cloth.outline
    return Sample(sample.name, shade, srgb, in_gamut, shades, notices, np.asarray(outline))
