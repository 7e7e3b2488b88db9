"""A sample drawn by hand on a photo of the reference sheet: a spot on a cloth, part of a piece."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.rgb_spaces import lab_to_srgb
from dyeshade.errors import DyeshadeError
from dyeshade.measure.by_hand import LEAST_PIXELS, region_mask
from dyeshade.measure.cloth import find_cloth_in_region
from dyeshade.measure.finding_space import finding_space
from dyeshade.measure.grey_fit import GreyFit, GreySignals
from dyeshade.measure.light_reader import light_reader, spread_over
from dyeshade.measure.notices import near_cell, sample_notices
from dyeshade.measure.propagate import SampleMean, lab_of, seen_of, shade_of
from dyeshade.measure.regions import HandSample
from dyeshade.measure.result import Sample, ShadeShare
from dyeshade.measure.tags_on_samples import hidden_in_photo
from dyeshade.measure.typical_colours import typical_colours
from dyeshade.measure.use_calibrations import NOTHING, Used
from dyeshade.photo.photo import Photo
from dyeshade.sheet.place import SheetPlace
from dyeshade.sheet.read_tags import TagSeen

Array = NDArray[np.float64]

_NODES = 9
"""The light is worked out at this many places across and down the region, and spread between."""


def drawn_sample(
    photo: Photo,
    place: SheetPlace,
    fit: GreyFit,
    signals: GreySignals,
    drawn: HandSample,
    light: str,
    tags: Sequence[TagSeen] = (),
    used: Used = NOTHING,
) -> Sample:
    """Measure a drawn region in the light that the sheet told.

    Parameters
    ----------
    photo : Photo
    place : SheetPlace
    fit : GreyFit
        Of the sheet's greys.
    signals : GreySignals
    drawn : HandSample
        All of it counts as cloth, but for clear glare.
    light : str
        One of `dyeshade.measure.lights.KINDS`.
    tags : sequence of TagSeen
        What lies under them is no cloth.
    used : Used
        What calibrations say of the photo.

    Returns
    -------
    Sample

    Raises
    ------
    DyeshadeError
        ``region_outside``, ``sample_too_small`` (name, pixels).
    """
    corners = np.asarray(drawn.corners, dtype=np.float64)
    rows, columns, mask = region_mask(corners, (photo.height, photo.width))
    mask &= ~hidden_in_photo(tags, place, rows, columns)
    if mask.sum() < LEAST_PIXELS:
        raise DyeshadeError("sample_too_small", name=drawn.name, pixels=int(mask.sum()))
    lit = light_reader(photo, fit)(rows, columns)
    nodes = _on_page(place, columns, rows)
    on_white = spread_over(np.exp(fit.log_light_at(nodes)), *lit.shape[:2])
    flare = np.exp(fit.white + fit.log_flare).astype(np.float32)
    reflectance = (lit - flare) / on_white
    encoding = photo.encoding
    space = finding_space(encoding)
    reflectance = space.there(reflectance)
    cloth = find_cloth_in_region(reflectance, mask, photo.clipped(rows, columns))
    own = space.cloth_back(cloth)
    middle = place.to_page(corners.mean(axis=0))
    mean = SampleMean(own.mean, own.standard_error, middle)
    to_xyz, rendered = encoding.to_xyz, encoding.rendered
    colours = used.own or typical_colours(to_xyz, rendered, light, encoding.own_known)
    shade = shade_of(
        fit,
        mean,
        to_xyz,
        light,
        rendered,
        used.reference_spread,
        encoding.own_known,
        colours,
        used.tint_spread,
    )
    shades = tuple(
        ShadeShare(lab_of(space.back(part), fit.white, to_xyz, rendered, colours), share)
        for part, share in cloth.shades
    )
    srgb, in_gamut = lab_to_srgb(shade.lab)
    low, high = nodes.reshape(-1, 2).min(axis=0), nodes.reshape(-1, 2).max(axis=0)
    near = near_cell(signals, *low, *(high - low))
    notices = (*cloth.notices, *sample_notices(fit, signals, near, mean.reflectance, not rendered))
    seen = seen_of(fit, mean)
    return Sample(drawn.name, shade, srgb, in_gamut, shades, notices, corners, seen)


def _on_page(place: SheetPlace, columns: slice, rows: slice) -> Array:
    """Places on the page, in mm, of nodes spread over a region from edge to edge; (9, 9, 2)."""
    across = np.linspace(columns.start - 0.5, columns.stop - 0.5, _NODES)
    down = np.linspace(rows.start - 0.5, rows.stop - 0.5, _NODES)
    return place.to_page(np.stack(np.meshgrid(across, down), axis=-1))
