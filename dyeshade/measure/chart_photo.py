"""A photo of a colour chart, alone or on a reference sheet, solved for light and white."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import DyeshadeError
from dyeshade.measure.chart import Chart
from dyeshade.measure.chart_light import ChartSignals, ChartSolved, solve_chart
from dyeshade.measure.chart_place import ChartPlace, ChartSeen, place_chart, see_chart
from dyeshade.measure.find_chart import find_chart
from dyeshade.measure.grey_fit import GreySignals
from dyeshade.measure.light_field import field_for_page
from dyeshade.measure.signals import sample_boxes
from dyeshade.measure.with_sheet import grey_signals
from dyeshade.photo.photo import Photo
from dyeshade.sheet.find import find_sheet
from dyeshade.sheet.layout import paper_spots
from dyeshade.sheet.place import SheetPlace

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class ChartPhoto:
    """A chart as one photo shows it.

    Attributes
    ----------
    chart : Chart
    place : ChartPlace
    seen : ChartSeen
    signals : ChartSignals
    solved : ChartSolved
    sheet : SheetPlace or None
        The reference sheet in the photo.
    greys : GreySignals or None
        What the photo shows of the sheet's greys and paper.
    on_sheet : bool
        Whether the chart lies on the page, where the sheet tells the light.
    """

    chart: Chart
    place: ChartPlace
    seen: ChartSeen
    signals: ChartSignals
    solved: ChartSolved
    sheet: SheetPlace | None
    greys: GreySignals | None
    on_sheet: bool


def solve_chart_photo(
    photo: Photo, chart: Chart, corners_px: Array | None = None, need_sheet: bool = False
) -> ChartPhoto:
    """Find chart and sheet in a photo and solve their light.

    Parameters
    ----------
    photo : Photo
    chart : Chart
    corners_px : ndarray, shape (4, 2), optional
        Middles of the chart's corner patches, as `ChartPlace`; the chart is looked for where they
        are not given.
    need_sheet : bool
        Whether a photo without a sheet is refused.

    Returns
    -------
    ChartPhoto

    Raises
    ------
    DyeshadeError
        As `find_chart`, `place_chart`, `see_chart`, `solve_chart`; with `need_sheet` as
        `dyeshade.sheet.find.find_sheet`.
    """
    sheet = sheet_in(photo, need_sheet)
    place = find_chart(photo, chart) if corners_px is None else place_chart(chart, corners_px)
    seen = see_chart(photo, place)
    encoding = photo.encoding
    error = seen.spread / np.sqrt(np.maximum(seen.pixels / 16, 1.0))[:, None]
    error = np.hypot(error, 3e-4)
    greys = None if sheet is None else greys_of(photo, sheet)
    on_sheet = sheet is not None and _on_page(sheet, place.corners_px)
    if on_sheet and sheet is not None:
        places, field = sheet.to_page(place.middles_px), field_for_page(sheet.layout.paper_mm)
    else:
        places, field = place.middles_px, field_for_page((photo.width, photo.height))
    signals = ChartSignals(places, chart.lab, seen.mean, error, seen.usable)
    solved = solve_chart(
        signals, field, encoding.to_xyz, encoding.rendered, greys if on_sheet else None
    )
    return ChartPhoto(chart, place, seen, signals, solved, sheet, greys, on_sheet)


def sheet_in(photo: Photo, need_sheet: bool = True) -> SheetPlace | None:
    """The sheet in a photo, None where there is none and none is needed.

    Raises
    ------
    DyeshadeError
        With `need_sheet`, as `dyeshade.sheet.find.find_sheet`.
    """
    try:
        return find_sheet(photo.grey8())
    except DyeshadeError:
        if need_sheet:
            raise
        return None


def greys_of(photo: Photo, sheet: SheetPlace) -> GreySignals:
    """What a photo shows of a sheet's greys and paper."""
    layout = sheet.layout
    seen = sample_boxes(photo, sheet, [*layout.patches, *paper_spots(layout)])
    return grey_signals(layout, seen, photo.full_scale == 255)


def _on_page(sheet: SheetPlace, corners_px: Array) -> bool:
    on_page = sheet.to_page(corners_px)
    size = np.array(sheet.layout.paper_mm)
    return bool(np.isfinite(on_page).all() and (on_page > 0).all() and (on_page < size).all())
