"""From a photo without a sheet: greys drawn by hand, and the samples beside them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.rgb_spaces import lab_to_srgb
from dyeshade.errors import DyeshadeError, Notice
from dyeshade.measure.calibrations import Calibrations
from dyeshade.measure.cloth import find_cloth_in_region
from dyeshade.measure.finding_space import finding_space
from dyeshade.measure.grey_fit import GreyFit, GreySignals
from dyeshade.measure.greys import fit_greys
from dyeshade.measure.light_field import field_for_page
from dyeshade.measure.light_reader import light_reader
from dyeshade.measure.notices import fit_notices, sample_notices
from dyeshade.measure.propagate import SampleMean, lab_of, seen_of, shade_of
from dyeshade.measure.regions import HandGrey, HandSample, Regions
from dyeshade.measure.result import Measurement, Sample, ShadeShare
from dyeshade.measure.seen import PatchesSeen
from dyeshade.measure.tags_on_samples import hidden_in_region, with_tag
from dyeshade.measure.typical_colours import typical_colours
from dyeshade.measure.use_calibrations import Used, calibrations_of_camera
from dyeshade.photo.photo import Photo
from dyeshade.photo.vision import cv2
from dyeshade.sheet.read_tags import find_tags_in_region

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


def _greys_seen(photo: Photo, regions: Regions) -> PatchesSeen:
    """The light inside each drawn grey."""
    read = [_pixels_of(photo, grey, k) for k, grey in enumerate(regions.greys, 1)]
    return PatchesSeen(
        names=tuple(f"grey-{k}" for k in range(1, len(read) + 1)),
        unit="px",
        places=np.array([np.asarray(grey.corners).mean(axis=0) for grey in regions.greys]),
        reflectance=np.array([grey.reflectance for grey in regions.greys]),
        mean=np.array([pixels.mean(axis=0) for pixels, _ in read]),
        spread=np.array([pixels.std(axis=0) for pixels, _ in read]),
        pixels=np.array([len(pixels) for pixels, _ in read]),
        clipped=np.array([clipped for _, clipped in read]),
        patchy=np.full(len(read), np.nan),
        to_xyz=photo.encoding.to_xyz,
        full_scale=photo.full_scale,
        rendered=photo.encoding.rendered,
    )


def _pixels_of(photo: Photo, grey: HandGrey, number: int) -> tuple[Array, float]:
    """Linear light of a drawn grey's pixels, shape (k, 3), and the share of them clipped."""
    rows, columns, mask = region_mask(grey.corners, (photo.height, photo.width), _INNER)
    if mask.sum() < LEAST_PIXELS:
        raise DyeshadeError("grey_too_small", number=number, pixels=int(mask.sum()))
    pixels = photo.linear(rows, columns)[mask].astype(np.float64)
    return pixels, float(photo.clipped(rows, columns)[mask].mean())


def _fit(photo: Photo, seen: PatchesSeen) -> tuple[GreyFit, GreySignals]:
    error = seen.spread / np.sqrt(np.maximum(seen.pixels / 16, 1.0))[:, None]
    error = np.hypot(error, _REFERENCE_SPREAD / 3 * seen.mean)
    usable = np.repeat((seen.clipped < 0.02)[:, None], 3, axis=1) & (seen.mean > 1e-4)
    if not usable.any():
        raise DyeshadeError("greys_clipped", greys=len(seen.names))
    signals = GreySignals(seen.places, seen.reflectance, seen.mean, error, usable)
    field = field_for_page((photo.width, photo.height))
    return fit_greys(signals, field, linear=not photo.encoding.rendered), signals


def measure_by_hand(
    photo: Photo, regions: Regions, light: str, known: Calibrations | None = None
) -> tuple[Measurement, GreyFit, Used]:
    """Measure drawn samples by drawn greys.

    Parameters
    ----------
    photo : Photo
    regions : Regions
        At least one grey and one sample, in pixels of the upright photo.
    light : str
        One of `dyeshade.measure.lights.KINDS`.
    known : Calibrations, optional
        Those that may be used; of cameras alone, since no sheet is there.

    Returns
    -------
    Measurement, GreyFit, Used
        With `sheet` None; places of the fit are pixels of the photo.

    Raises
    ------
    DyeshadeError
        ``region_outside``, ``grey_too_small``, ``sample_too_small``, ``greys_clipped``.
    """
    return measure_by_seen(photo, _greys_seen(photo, regions), regions.samples, light, known)


def measure_by_seen(
    photo: Photo,
    seen: PatchesSeen,
    drawn: Sequence[HandSample],
    light: str,
    known: Calibrations | None = None,
) -> tuple[Measurement, GreyFit, Used]:
    """The same by greys whose light was kept when the photo was first measured.

    Raises
    ------
    DyeshadeError
        ``region_outside``, ``sample_too_small``, ``greys_clipped``.
    """
    rendered = photo.encoding.rendered
    fit, signals = _fit(photo, seen)
    grey = photo.grey8()
    camera = (known or Calibrations()).camera_for(photo.camera, photo.file_format, light)
    used = calibrations_of_camera(camera)
    samples = tuple(_sample(photo, grey, fit, signals, one, light, used) for one in drawn)
    notices = [
        *photo.notices,
        *used.notices,
        *fit_notices(fit, signals, seen.clipped, not rendered),
    ]
    if len(seen.names) < 3:
        notices.append(Notice("few_greys", {"greys": len(seen.names)}))
    found = Measurement(
        photo.name,
        photo.taken,
        photo.camera,
        None,
        light,
        samples,
        tuple(notices),
        patches=seen,
        file_format=photo.file_format,
        calibration_id=used.calibration_id,
    )
    return found, fit, used


def _sample(
    photo: Photo,
    grey: NDArray[np.uint8],
    fit: GreyFit,
    signals: GreySignals,
    sample: HandSample,
    light: str,
    used: Used,
) -> Sample:
    rows, columns, mask = region_mask(sample.corners, (photo.height, photo.width))
    tags = find_tags_in_region(grey, rows, columns)
    mask &= ~hidden_in_region(tags, rows, columns)
    if mask.sum() < LEAST_PIXELS:
        raise DyeshadeError("sample_too_small", name=sample.name, pixels=int(mask.sum()))
    lit = light_reader(photo, fit)(rows, columns)
    middle = np.asarray(sample.corners).mean(axis=0)
    # The light over one drawn region counts as even: its middle stands for it.
    flare = np.exp(fit.white + fit.log_flare)
    reflectance = ((lit - flare) / np.exp(fit.log_light_at(middle))).astype(np.float32)
    encoding = photo.encoding
    space = finding_space(encoding)
    reflectance = space.there(reflectance)
    cloth = find_cloth_in_region(reflectance, mask, photo.clipped(rows, columns))
    own = space.cloth_back(cloth)
    mean = SampleMean(own.mean, own.standard_error, middle)
    to_xyz, rendered = encoding.to_xyz, encoding.rendered
    colours = used.own or typical_colours(to_xyz, rendered, light, encoding.own_known)
    known = encoding.own_known
    shade = shade_of(fit, mean, to_xyz, light, rendered, _REFERENCE_SPREAD, known, colours)
    shades = tuple(
        ShadeShare(lab_of(space.back(part), fit.white, to_xyz, rendered, colours), share)
        for part, share in cloth.shades
    )
    srgb, in_gamut = lab_to_srgb(shade.lab)
    everywhere = np.ones(len(signals.reflectance), bool)
    notices = (
        *cloth.notices,
        *sample_notices(fit, signals, everywhere, mean.reflectance, not rendered),
    )
    outline = np.array([columns.start, rows.start]) + cloth.outline
    seen = seen_of(fit, mean)
    found = Sample(sample.name, shade, srgb, in_gamut, shades, notices, np.asarray(outline), seen)
    return with_tag(found, tags)
