"""Learns what one print of the reference sheet reflects: its greys, its paper, its colours."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.lab import lab_to_xyz
from dyeshade.cie.white import D65
from dyeshade.errors import DyeshadeError, Notice
from dyeshade.measure.calibrate_camera import learn_from_chart
from dyeshade.measure.calibrations import Calibrations, SheetCalibration
from dyeshade.measure.chart import Chart
from dyeshade.measure.chart_light import tied_to
from dyeshade.measure.chart_photo import greys_of, sheet_in, solve_chart_photo
from dyeshade.measure.grey_fit import GreyFit, GreySignals
from dyeshade.measure.greys import fit_greys
from dyeshade.measure.light_field import field_for_page
from dyeshade.measure.own_colours import OwnColours
from dyeshade.measure.propagate import PAPER_SPREAD, lab_of
from dyeshade.measure.sheet_colours import seen_colours
from dyeshade.measure.signals import sample_boxes
from dyeshade.photo.photo import Photo
from dyeshade.sheet.layout import PAPER_REFLECTANCE, Box, Layout
from dyeshade.sheet.place import SheetPlace

Array = NDArray[np.float64]

SCALE_SPREAD = 0.015
"""Spread of log reflectance of a print told by a chart or a card that lies on it: half a per cent
of the chart's own, and what the light between and the fit are off by
(``tests/studies/calibration.py --fitting`` prints it: 1.4 %)."""

CARD_SPREAD = 0.02
"""The same for a grey card, whose maker states its reflectance within some two per cent (common
practice, no source)."""

TYPED_SPREAD = 0.01
"""The same for values that were measured with an instrument (common practice, no source)."""

LIKELY_PAPER = (0.6, 1.0)
"""Luminance factors of paper that people print on; matte papers have 0.8 to 0.95 (common practice,
no source)."""

_CARD_INNER = 0.4
_ALIKE = 1e-3


@dataclass(frozen=True, eq=False)
class SheetCalibrated:
    """A calibration of a sheet, and what a person wants to see of it.

    Attributes
    ----------
    calibration : SheetCalibration
    place : SheetPlace or None
        Where the sheet is in the photo; None where values were typed.
    notices : tuple of Notice
        ``chart_beside_sheet`` where the chart lay beside the page, so that it told colours alone;
        ``no_colours_learnt`` for a sheet with colours that this photo could not tell.
    """

    calibration: SheetCalibration
    place: SheetPlace | None
    notices: tuple[Notice, ...]


def calibrate_sheet_by_chart(
    photo: Photo, chart: Chart, corners_px: Array | None = None
) -> SheetCalibrated:
    """Learn a print from a photo in which a chart lies on it, or beside it.

    Raises
    ------
    DyeshadeError
        ``sheet_without_serial``; as `calibrate_camera`, and `dyeshade.sheet.find.find_sheet`.
    """
    found = solve_chart_photo(photo, chart, corners_px, need_sheet=True)
    assert found.sheet is not None
    assert found.greys is not None
    layout = _with_serial(found.sheet)
    learnt, _ = learn_from_chart(photo, found)
    told = list(photo.notices)
    if found.on_sheet:
        fit = found.solved.fit
        levels, greys = _greys_of_print(fit, found.greys, photo.encoding.to_xyz)
        spread = SCALE_SPREAD
    else:
        told.append(Notice("chart_beside_sheet", {}))
        fit = _fit(photo, layout, found.greys)
        levels, greys = _plain(layout)
        spread = PAPER_SPREAD
    colours = _colours(photo, found.sheet, fit, learnt.colours)
    made = SheetCalibration(
        layout.serial,
        layout.paper,
        layout.cells_kind,
        "chart",
        levels,
        greys,
        spread,
        colours,
        learnt.error,
    )
    return SheetCalibrated(made, found.sheet, tuple(told))


def calibrate_sheet_by_photo(
    photo: Photo,
    card: tuple[str, float] | None = None,
    light: str = "window",
    known: Calibrations | None = None,
) -> SheetCalibrated:
    """Learn a print from a raw photo, or from one with a card of known reflectance in a cell.

    Parameters
    ----------
    photo : Photo
        Raw, or with a card.
    card : tuple of (str, float), optional
        Name of the cell that holds it, and its luminance factor, 0..1; a neutral.
    light : str
        One of `dyeshade.measure.lights.KINDS`.
    known : Calibrations, optional
        Where the camera is among them, its colours are taken for those of the sheet.

    Raises
    ------
    DyeshadeError
        ``photo_not_raw`` for a rendered photo without a card; ``no_such_cell`` (name, cells);
        ``card_unusable`` (name) where the card is clipped or partly hidden; as
        `refuse_unlikely_paper`;
        ``sheet_without_serial``; as `dyeshade.sheet.find.find_sheet`.
    """
    encoding = photo.encoding
    if encoding.rendered and card is None:
        raise DyeshadeError("photo_not_raw")
    place = sheet_in(photo)
    assert place is not None
    layout = _with_serial(place)
    signals = greys_of(photo, place)
    if card is None:
        fit, spread = _fit(photo, layout, signals), PAPER_SPREAD
    else:
        own = _card(photo, place, *card)
        field = field_for_page(layout.paper_mm)
        fit = tied_to(own, signals, field, encoding.rendered).fit
        spread = CARD_SPREAD
    levels, greys = _greys_of_print(fit, signals, encoding.to_xyz)
    if card is not None:
        refuse_unlikely_paper(levels, greys)
    told = list(photo.notices)
    camera = (known or Calibrations()).camera_for(photo.camera, photo.file_format, light)
    colours: dict[str, Array] = {}
    if not encoding.rendered or camera is not None:
        colours = _colours(photo, place, fit, None if camera is None else camera.colours)
    elif layout.with_colours:
        told.append(Notice("no_colours_learnt", {}))
    how = "raw" if card is None else "card"
    made = SheetCalibration(
        layout.serial, layout.paper, layout.cells_kind, how, levels, greys, spread, colours
    )
    return SheetCalibrated(made, place, tuple(told))


def calibrate_sheet_by_values(layout: Layout, values: Mapping[str, float]) -> SheetCalibrated:
    """Take typed luminance factors of a print.

    Parameters
    ----------
    layout : Layout
        With its serial.
    values : mapping of str to float
        "1" (the lightest grey) to "8" (full ink) and "paper" to luminance factors, 0..1; those
        that are not given are as of a plain print, moved as their neighbours are.

    Raises
    ------
    DyeshadeError
        ``sheet_without_serial``; ``grey_values`` (name) for a name that is none, and for a value
        outside 0..1.
    """
    if not layout.serial:
        raise DyeshadeError("sheet_without_serial")
    levels, _ = _plain(layout)
    names = ["paper", *(str(number) for number in range(1, len(levels)))]
    for name, value in values.items():
        if name not in names or not 0.0 < value <= 1.0:
            raise DyeshadeError("grey_values", name=name)
    if not values:
        raise DyeshadeError("grey_values", name="paper")
    known = np.array([levels[names.index(name)] for name in values])
    luminance = np.array(list(values.values()))
    made = SheetCalibration(
        layout.serial,
        layout.paper,
        layout.cells_kind,
        "typed",
        known,
        luminance[:, None] * D65,
        TYPED_SPREAD,
    )
    return SheetCalibrated(made, None, ())


def refuse_unlikely_paper(levels: Array, greys: Array) -> None:
    """Refuse what a card told where no paper is like that.

    Parameters
    ----------
    levels : ndarray, shape (k,)
        Luminance factors of a plain print.
    greys : ndarray, shape (k, 3)
        XYZ of what this one reflects there.

    Raises
    ------
    DyeshadeError
        ``card_disagrees`` (percent): what the lightest part would reflect.
    """
    lightest = float(greys[levels.argmax(), 1] / levels.max()) * PAPER_REFLECTANCE
    if not LIKELY_PAPER[0] < lightest < LIKELY_PAPER[1]:
        raise DyeshadeError("card_disagrees", percent=round(100 * lightest))


def _with_serial(place: SheetPlace) -> Layout:
    if not place.layout.serial:
        raise DyeshadeError("sheet_without_serial")
    return place.layout


def _plain(layout: Layout) -> tuple[Array, Array]:
    greys = sorted({patch.reflectance for patch in layout.patches}, reverse=True)
    levels = np.array([layout.paper_reflectance, *greys])
    return levels, levels[:, None] * D65


def _fit(photo: Photo, layout: Layout, signals: GreySignals) -> GreyFit:
    field = field_for_page(layout.paper_mm)
    return fit_greys(signals, field, linear=not photo.encoding.rendered)


def _greys_of_print(fit: GreyFit, signals: GreySignals, to_xyz: Array) -> tuple[Array, Array]:
    """Plain levels (k,), and XYZ of what this print reflects there (k, 3)."""
    seen = fit.reflectance(signals.signal, signals.places_mm)
    believed = signals.usable.all(axis=1) & (fit.weights[: len(seen)] > 0.3) & (seen > 0).all(1)
    levels, greys = [], []
    for level in sorted(set(signals.reflectance.round(4)), reverse=True):
        here = believed & (np.abs(signals.reflectance - level) < _ALIKE)
        if here.any():
            levels.append(float(np.median(signals.reflectance[here])))
            greys.append(to_xyz @ np.exp(np.median(np.log(seen[here]), axis=0)))
    return np.array(levels), np.array(greys)


def _card(photo: Photo, place: SheetPlace, name: str, reflectance: float) -> GreySignals:
    cells = {cell.name: cell for cell in place.layout.cells}
    if name not in cells:
        raise DyeshadeError("no_such_cell", name=name, cells=", ".join(cells))
    cell = cells[name]
    wide, high = cell.w_mm * _CARD_INNER, cell.h_mm * _CARD_INNER
    x, y = cell.centre
    box = Box("card", x - wide / 2, y - high / 2, wide, high)
    seen = sample_boxes(photo, place, [box], inner=1.0)
    whole = seen.pixels[0] > 0 and seen.clipped[0] < 0.02 and not seen.patchy[0] > 0.05
    if not whole or not (seen.mean[0] > 0).all():
        raise DyeshadeError("card_unusable", name=name)
    error = np.hypot(seen.spread / np.sqrt(max(seen.pixels[0] / 16, 1.0)), 0.003 * seen.mean)
    usable = np.ones((1, 3), dtype=bool)
    return GreySignals(
        np.array([[x, y]]), np.array([reflectance]), seen.mean, error, usable, departs=0.0
    )


def _colours(
    photo: Photo, place: SheetPlace, fit: GreyFit, own: OwnColours | None
) -> dict[str, Array]:
    """Lab of the sheet's colour patches as the camera takes them; those in plain sight."""
    if not place.layout.with_colours:
        return {}
    encoding = photo.encoding
    seen = seen_colours(photo, place)
    reflectance = fit.reflectance(seen.mean, seen.centre_mm)
    lab = lab_of(reflectance, fit.white, encoding.to_xyz, encoding.rendered, own)
    fine = seen.usable & np.isfinite(lab).all(axis=1) & (lab_to_xyz(lab) > 0).all(axis=1)
    return {box.name: lab[index] for index, box in enumerate(place.layout.colours) if fine[index]}
