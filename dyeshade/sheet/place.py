"""Where the page is in a photo, and what the reader of a number must know about that."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from dyeshade.errors import Notice
from dyeshade.sheet.camera import Array, PageCamera
from dyeshade.sheet.layout import Layout

TILT_TOLD_DEGREES = 35.0
CURL_TOLD_MM = 1.5
FEW_PX_PER_MM = 4.0
DOUBT_TOLD_MM = 1.5


@dataclass(frozen=True)
class SheetPlace:
    """A reference sheet found in a photo.

    Attributes
    ----------
    layout : Layout
        The sheet as its marks tell, with its serial if that could be read.
    marks_seen : tuple of int
        Idents of the marks that the place rests on.
    residual_px, residual_mm : float
        Root mean square distance of those marks' corners from the fit.
    px_per_mm : float
        Median scale over the page.
    doubt_mm : float
        How far off the least certain place on the page may be (two standard deviations), mm.
    edge_mm : float
        Width of a printed edge in the photo (blur), mm on the page.
    camera : PageCamera
        The fitted camera.
    other_sheets : int
        How many further sheets the photo shows.
    """

    layout: Layout
    marks_seen: tuple[int, ...]
    residual_px: float
    residual_mm: float
    px_per_mm: float
    doubt_mm: float
    edge_mm: float
    camera: PageCamera
    other_sheets: int = 0

    @property
    def frame_px(self) -> tuple[int, int]:
        """Height and width of the photo in pixels."""
        return self.camera.frame_px

    @property
    def tilt_degrees(self) -> float:
        """Angle between the line of sight and the page's normal."""
        return self.camera.tilt_degrees()

    @property
    def curl_mm(self) -> float:
        """How far the paper leaves a plane, from lowest to highest place, mm."""
        height = self.camera.height_mm(_page_grid(self.layout.paper_mm))
        return float(np.ptp(height))

    def to_pixels(self, points_mm: npt.ArrayLike) -> Array:
        """Page points in the photo.

        Parameters
        ----------
        points_mm : (..., 2)
            Page points in mm, origin top left, y down.

        Returns
        -------
        ndarray (..., 2)
            Pixels, x right and y down; pixel centres have integer coordinates.
        """
        return self.camera.to_pixels(points_mm)

    def to_page(self, points_px: npt.ArrayLike) -> Array:
        """Photo points on the page; the inverse of `to_pixels`.

        Parameters
        ----------
        points_px : (..., 2)
            Pixels; pixel centres have integer coordinates.

        Returns
        -------
        ndarray (..., 2)
            Page points in mm.
        """
        return self.camera.to_page(points_px)


def median_scale(camera: PageCamera) -> float:
    """Median over the page of the local scale, pixels per mm."""
    return float(np.median(camera.scale(_page_grid(camera.page_mm))))


def notices(place: SheetPlace) -> tuple[Notice, ...]:
    """What about the sheet's place the reader of a number must know.

    Parameters
    ----------
    place : SheetPlace
        A sheet found by `dyeshade.sheet.find.find_sheet`.

    Returns
    -------
    tuple of Notice
        Codes `marks_covered` (seen, of), `place_unsure` (mm), `tilted` (degrees), `paper_curled`
        (mm), `few_pixels` (px_per_mm) and `more_sheets` (others).
    """
    told = []
    seen, printed = len(place.marks_seen), len(place.layout.marks)
    if seen < printed:
        told.append(Notice("marks_covered", {"seen": seen, "of": printed}))
    if place.doubt_mm > DOUBT_TOLD_MM:
        told.append(Notice("place_unsure", {"mm": round(place.doubt_mm, 1)}))
    if place.tilt_degrees > TILT_TOLD_DEGREES:
        told.append(Notice("tilted", {"degrees": round(place.tilt_degrees)}))
    if place.curl_mm > CURL_TOLD_MM:
        told.append(Notice("paper_curled", {"mm": round(place.curl_mm, 1)}))
    if place.px_per_mm < FEW_PX_PER_MM:
        told.append(Notice("few_pixels", {"px_per_mm": round(place.px_per_mm, 1)}))
    if place.other_sheets:
        told.append(Notice("more_sheets", {"others": place.other_sheets}))
    return tuple(told)


def _page_grid(paper_mm: tuple[float, float]) -> Array:
    """(9, 9, 2) Points spread over the page, mm."""
    x, y = (np.linspace(0.0, side, 9) for side in paper_mm)
    return np.stack(np.meshgrid(x, y), axis=-1)
