"""From a photo of the reference sheet to the shades of the pieces in its cells."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.rgb_spaces import lab_to_srgb
from dyeshade.errors import DyeshadeError
from dyeshade.measure.calibrations import Calibrations
from dyeshade.measure.cell_light import CellReader
from dyeshade.measure.cloth import Cloth, find_cloth
from dyeshade.measure.colours_seen import with_colours
from dyeshade.measure.drawn_on_sheet import drawn_sample
from dyeshade.measure.finding_space import finding_space
from dyeshade.measure.grey_fit import GreyFit, GreySignals
from dyeshade.measure.notices import fit_notices, near_cell, sample_notices
from dyeshade.measure.propagate import SampleMean, lab_of, seen_of, shades_of
from dyeshade.measure.regions import DrawnOnSheet
from dyeshade.measure.result import Measurement, Sample, ShadeShare, SheetSeen
from dyeshade.measure.seen import PatchesSeen
from dyeshade.measure.signals import PatchSignals, sample_boxes
from dyeshade.measure.tags_on_samples import (
    hidden_by_tags,
    tags_of_cells,
    tags_within,
    with_tag,
)
from dyeshade.measure.typical_colours import typical_colours
from dyeshade.measure.usable_greys import usable_greys
from dyeshade.measure.use_calibrations import Used, calibrations_on_sheet, solve_greys
from dyeshade.photo.photo import Photo
from dyeshade.photo.vision import cv2
from dyeshade.sheet.find import LEAST_PX_PER_MM, find_sheet
from dyeshade.sheet.layout import Box, Layout, paper_spots
from dyeshade.sheet.place import SheetPlace
from dyeshade.sheet.place import notices as place_notices
from dyeshade.sheet.read_tags import TagSeen, find_tags

Array = NDArray[np.float64]

LEAST_LEVELS = 4
"""Fewer usable levels of grey than this leave the tone curve to guessing."""


def grey_signals(layout: Layout, seen: PatchSignals, eight_bit: bool) -> GreySignals:
    """The sheet's greys and bare paper as the fit wants them, the clipped left out."""
    boxes: list[Box] = [*layout.patches, *paper_spots(layout)]
    reflectance = np.array(
        [patch.reflectance for patch in layout.patches]
        + [layout.paper_reflectance] * (len(boxes) - len(layout.patches))
    )
    places = np.array([box.centre for box in boxes])
    return usable_greys(places, reflectance, seen, eight_bit)


def measure_with_sheet(
    photo: Photo,
    light: str,
    drawn: DrawnOnSheet | None = None,
    known: Calibrations | None = None,
    least_px_per_mm: float = LEAST_PX_PER_MM,
) -> tuple[Measurement, GreyFit, SheetPlace, Used]:
    """Find the sheet, solve its light, and measure each piece.

    Parameters
    ----------
    photo : Photo
    light : str
        One of `dyeshade.measure.lights.KINDS`.
    drawn : DrawnOnSheet, optional
        Samples that a person drew, and cells that are not to be read.
    known : Calibrations, optional
        Those that may be used.
    least_px_per_mm : float
        A sheet that is smaller in the photo is refused.

    Returns
    -------
    Measurement, GreyFit, SheetPlace, Used
        What is in pixels, is in those of `photo`.

    Raises
    ------
    DyeshadeError
        As `dyeshade.sheet.find.find_sheet`; ``too_few_greys`` where clipping, shadow or things
        lying on the sheet leave fewer than four levels; ``no_pieces`` where every cell is empty and
        nothing is drawn; ``region_outside``, ``sample_too_small`` for what is drawn.
    """
    grey = photo.grey8()
    place = find_sheet(grey, least_px_per_mm)
    layout = place.layout
    seen = sample_boxes(photo, place, [*layout.patches, *paper_spots(layout)])
    signals = grey_signals(layout, seen, photo.full_scale == 255)
    _refuse_too_few(signals)
    raw = not photo.encoding.rendered
    plain = signals.reflectance
    known = known or Calibrations()
    greys = solve_greys(photo, layout, signals, known)
    signals, fit = greys.signals, greys.fit
    _refuse_too_few(signals, fit.weights)
    used = calibrations_on_sheet(photo, place, greys, light, known)
    drawn = drawn or DrawnOnSheet()
    cells = [cell for cell in layout.cells if cell.name not in drawn.without]
    tags = find_tags(grey, place)
    of_cells = tags_of_cells(layout.cells, tags)
    cloths = _cloths(cells, CellReader(photo, place, fit), max(fit.scatter, 0.004), tags)
    found = [
        (sample, of_cells[sample.name])
        for sample in _samples_of(photo, place, fit, signals, light, cloths, used)
    ]
    found += [
        (
            drawn_sample(photo, place, fit, signals, one, light, tags, used),
            tags_within(np.asarray(one.corners), tags, place),
        )
        for one in drawn.samples
    ]
    samples = tuple(with_tag(sample, its) for sample, its in found)
    if not samples:
        raise DyeshadeError("no_pieces", cells=len(layout.cells))
    sheet = SheetSeen(
        layout.paper,
        layout.cells_kind,
        layout.serial or None,
        layout.version,
        fit.scatter,
        place.to_pixels(_page_edge(layout.paper_mm)),
        place.to_pixels(np.array([patch.corners for patch in layout.patches])),
    )
    notices = (
        *photo.notices,
        *used.notices,
        *place_notices(place),
        *fit_notices(fit, signals, seen.clipped, raw),
    )
    measurement = Measurement(
        photo.name,
        photo.taken,
        photo.camera,
        sheet,
        light,
        samples,
        notices,
        patches=with_colours(_patches_seen(photo, layout, seen, plain), photo, place),
        file_format=photo.file_format,
        calibration_id=used.calibration_id,
    )
    return measurement, fit, place, used


def _patches_seen(
    photo: Photo, layout: Layout, seen: PatchSignals, reflectance: Array
) -> PatchesSeen:
    boxes: list[Box] = [*layout.patches, *paper_spots(layout)]
    return PatchesSeen(
        names=tuple(box.name for box in boxes),
        unit="mm",
        places=seen.centre_mm,
        reflectance=reflectance,
        mean=seen.mean,
        spread=seen.spread,
        pixels=seen.pixels,
        clipped=seen.clipped,
        patchy=seen.patchy,
        to_xyz=photo.encoding.to_xyz,
        full_scale=photo.full_scale,
        rendered=photo.encoding.rendered,
    )


def _page_edge(paper_mm: tuple[float, float]) -> Array:
    """Points around the page in mm, clockwise, dense enough to follow a bent edge; (k, 2)."""
    corners = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]) * paper_mm
    steps = np.linspace(0.0, 1.0, 8, endpoint=False)[:, None]
    sides = [a + (b - a) * steps for a, b in zip(corners, np.roll(corners, -1, 0), strict=True)]
    return np.concatenate(sides)


def _refuse_too_few(signals: GreySignals, weights: Array | None = None) -> None:
    believed = signals.usable.all(axis=1)
    if weights is not None:
        believed &= weights > 0.2
    levels = len(np.unique(signals.reflectance[believed].round(3)))
    if levels < LEAST_LEVELS:
        raise DyeshadeError("too_few_greys", levels=levels, needed=LEAST_LEVELS)


@dataclass(frozen=True, eq=False)
class _InCell:
    """The cloth in a cell, straightened at so many pixels a millimetre."""

    cell: Box
    cloth: Cloth
    px_per_mm: float

    @property
    def corner(self) -> Array:
        return np.array([self.cell.x_mm, self.cell.y_mm])

    @property
    def middle(self) -> Array:
        """Middle of what was averaged, mm on the page."""
        sums = cv2.moments(self.cloth.mask.view(np.uint8), binaryImage=True)
        at = np.array([sums["m10"], sums["m01"]]) / sums["m00"]
        return np.asarray(self.corner + (at + 0.5) / self.px_per_mm)


def _cloths(
    cells: Sequence[Box], reader: CellReader, noise: float, tags: Sequence[TagSeen]
) -> list[_InCell]:
    found = []
    for cell in cells:
        seen = reader.read(cell)
        if seen is None:
            continue
        corner, per_mm = np.array([cell.x_mm, cell.y_mm]), seen.px_per_mm
        covered = hidden_by_tags(tags, corner, per_mm, seen.clipped.shape) if tags else None
        cloth = find_cloth(seen.relative, seen.clipped, per_mm, noise, covered)
        if cloth is not None:
            found.append(_InCell(cell, cloth, per_mm))
    return found


def _samples_of(
    photo: Photo,
    place: SheetPlace,
    fit: GreyFit,
    signals: GreySignals,
    light: str,
    cloths: Sequence[_InCell],
    used: Used,
) -> list[Sample]:
    paper = place.layout.paper_reflectance
    encoding = photo.encoding
    space = finding_space(encoding)
    means = []
    for one in cloths:
        own = space.cloth_back(one.cloth)
        means.append(SampleMean(own.mean * paper, own.standard_error * paper**2, one.middle))
    to_xyz, rendered = encoding.to_xyz, encoding.rendered
    colours = used.own or typical_colours(to_xyz, rendered, light, encoding.own_known)
    shades = shades_of(
        fit,
        means,
        to_xyz,
        light,
        rendered,
        used.reference_spread,
        encoding.own_known,
        colours,
        used.tint_spread,
    )
    samples = []
    for one, mean, shade in zip(cloths, means, shades, strict=True):
        cell, cloth = one.cell, one.cloth
        parts = tuple(
            ShadeShare(
                lab_of(space.back(part) * paper, fit.white, to_xyz, rendered, colours), share
            )
            for part, share in cloth.shades
        )
        srgb, in_gamut = lab_to_srgb(shade.lab)
        near = near_cell(signals, cell.x_mm, cell.y_mm, cell.w_mm, cell.h_mm)
        told = sample_notices(fit, signals, near, mean.reflectance, not rendered)
        outline = place.to_pixels(one.corner + (cloth.outline + 0.5) / one.px_per_mm)
        samples.append(
            Sample(
                cell.name,
                shade,
                srgb,
                in_gamut,
                tuple(parts),
                (*cloth.notices, *told),
                np.asarray(outline),
                seen_of(fit, mean),
            )
        )
    return samples
