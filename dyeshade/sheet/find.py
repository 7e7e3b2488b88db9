"""Find the reference sheet in a photo.

Marks are found on a reduced copy, a small one first, a camera is fitted to those that agree, the
missing marks are looked for where that camera sees them, and the corners of all are refined at full
resolution.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import NoReturn

import numpy as np
import numpy.typing as npt

from dyeshade.errors import DyeshadeError
from dyeshade.sheet.camera import Array
from dyeshade.sheet.edges import refine
from dyeshade.sheet.fit import CameraFit, agreeing_marks, fit_camera
from dyeshade.sheet.kinds import MARKS_PER_KIND
from dyeshade.sheet.layout import Layout, build_layout, kind_of_marks
from dyeshade.sheet.marks import (
    GLANCE_WINDOWS_PX,
    SEARCH_SIDES_PX,
    SeenMark,
    glance,
    look_for,
    mark_corners_mm,
    search,
)
from dyeshade.sheet.place import SheetPlace, median_scale
from dyeshade.sheet.read_serial import read_serial
from dyeshade.sheet.sharpness import typical_edge_px

Grey = npt.NDArray[np.uint8]

MARKS_NEEDED = 4
LEAST_PX_PER_MM = 2.5
MOST_TILT_DEGREES = 45
MOST_EDGE_MM = 1.5
"""Widest printed edge: a blur of 0.7 mm standard deviation. Greys are read 2.4 mm inside their
edges, more than three times that far; the marks get unreadable just beyond."""
MOST_RESIDUAL_MM = 1.2

_CURL_ROOM_MM = 3.5
_BLURRED_EDGE_PX = 2.2


@dataclass(frozen=True)
class _Candidate:
    """A sheet that some of the marks agree on; not yet refined."""

    layout: Layout
    seen: tuple[SeenMark, ...]
    bend: float
    area_px: float


def find_sheet(grey: Grey, least_px_per_mm: float = LEAST_PX_PER_MM) -> SheetPlace:
    """Find the reference sheet in a photo.

    Parameters
    ----------
    grey : (h, w) uint8
        The photo's luma (coded, not linear), upright or not.
    least_px_per_mm : float
        A sheet that is smaller is refused.

    Returns
    -------
    SheetPlace
        Where the page is. Of several sheets the largest in the photo.

    Raises
    ------
    DyeshadeError
        `no_sheet`; `too_few_marks` (seen, needed); `sheet_mirrored`; `too_blurred` (edge_mm and
        limit_mm, or edge_px where no mark could be read); `too_small` (px_per_mm, needed);
        `too_tilted` (degrees, limit); `marks_disagree` (agree, seen, residual_mm).
    """
    for windows in GLANCE_WINDOWS_PX:
        seen = glance(grey, windows)
        sheets = _sheets(seen, grey.shape)
        if _whole(sheets):
            break
    tried = set()
    for longest in SEARCH_SIDES_PX:
        if _whole(sheets):
            break
        side = min(longest, 2 * max(grey.shape))
        if side in tried:
            continue
        tried.add(side)
        found = search(grey, side)
        seen = found if len(found) >= len(seen) else seen
        sheets = _sheets(seen, grey.shape)
        if sheets and len(sheets[0].seen) >= MARKS_NEEDED:
            break
    if not sheets:
        _refuse_unseen(grey, seen)
    _refuse_torn(sheets)
    place = _settle(grey, sheets[0], least_px_per_mm)
    others = sum(len(other.seen) >= MARKS_NEEDED for other in sheets[1:])
    serial = read_serial(grey, place)
    layout = replace(place.layout, serial=serial or "")
    return replace(place, layout=layout, other_sheets=others)


def _whole(sheets: list[_Candidate]) -> bool:
    """Whether every mark of the largest sheet is seen."""
    return bool(sheets) and len(sheets[0].seen) >= len(sheets[0].layout.marks)


def _sheets(seen: Iterable[SeenMark], frame_px: tuple[int, ...]) -> list[_Candidate]:
    """Sheets that at least three marks agree on, largest in the photo first."""
    frame = (int(frame_px[0]), int(frame_px[1]))
    by_kind: dict[int, list[SeenMark]] = defaultdict(list)
    for mark in seen:
        by_kind[mark.ident // MARKS_PER_KIND].append(mark)
    sheets = []
    for kind in by_kind.values():
        layout = _layout_of(mark.ident for mark in kind)
        if layout is None:
            continue
        places = {mark.ident: mark_corners_mm(mark) for mark in layout.marks}
        sizes = {mark.ident: mark.size_mm for mark in layout.marks}
        left = [mark for mark in kind if mark.ident in places]
        while len(left) >= MARKS_NEEDED - 1:
            page = np.array([places[mark.ident] for mark in left])
            photo = np.array([mark.corners for mark in left])
            per_mm = float(np.median([mark.side_px / sizes[mark.ident] for mark in left]))
            agree, bend = agreeing_marks(page, photo, frame, max(3.0, _CURL_ROOM_MM * per_mm))
            chosen = tuple(mark for mark, yes in zip(left, agree, strict=True) if yes)
            if len({mark.ident for mark in chosen}) < MARKS_NEEDED - 1:
                break
            area = per_mm**2 * layout.paper_mm[0] * layout.paper_mm[1]
            sheets.append(_Candidate(layout, chosen, bend, area))
            left = [mark for mark, yes in zip(left, agree, strict=True) if not yes]
    return sorted(sheets, key=lambda sheet: (len(sheet.seen) >= MARKS_NEEDED, sheet.area_px))[::-1]


def _refuse_torn(sheets: list[_Candidate]) -> None:
    """Refuse a sheet of which two parts lie apart: cut through, folded, or put together.

    Raises
    ------
    DyeshadeError
        `marks_disagree`, where the marks that are left form a place of their own and none of them
        is among those of the first; a second whole sheet would repeat some.
    """
    first = {mark.ident for mark in sheets[0].seen}
    for other in sheets[1:]:
        rest = {mark.ident for mark in other.seen}
        same_kind = other.layout == sheets[0].layout
        if same_kind and not first & rest and len(rest) >= 0.3 * (len(first) + len(rest)):
            raise DyeshadeError(
                "marks_disagree", agree=len(first), seen=len(first) + len(rest), residual_mm=None
            )


def _layout_of(idents: Iterable[int]) -> Layout | None:
    """The layout that marks tell; None for marks that no sheet of ours has."""
    try:
        paper, cells, colours, _ = kind_of_marks(tuple(idents))
    except (DyeshadeError, ValueError):
        return None
    return build_layout(paper, cells, colours)


def _settle(grey: Grey, sheet: _Candidate, least_px_per_mm: float) -> SheetPlace:
    """Refine, look for the missing marks, fit, and refuse what numbers would be harmed by."""
    fit, seen, edge_px = _fit(grey, sheet.layout, list(sheet.seen), sheet.bend)
    missing = [mark for mark in sheet.layout.marks if mark.ident not in {s.ident for s in seen}]
    extra = look_for(grey, fit.camera, missing)
    if extra:
        fit, seen, edge_px = _fit(grey, sheet.layout, [*seen, *extra], fit.camera.bend[0])
    agree = [mark for mark, yes in zip(seen, fit.agree, strict=True) if yes]
    per_mm = median_scale(fit.camera)
    edge_mm = edge_px / per_mm
    if len(seen) < MARKS_NEEDED:
        _refuse_few(grey, len(seen))
    missed = fit.missed_px[fit.agree[:, None] & fit.corners_agree]
    residual = float(np.sqrt(np.mean(np.square(missed)))) if len(missed) else float("inf")
    if len(agree) < max(MARKS_NEEDED, 0.6 * len(seen)) or residual / per_mm > MOST_RESIDUAL_MM:
        raise DyeshadeError(
            "marks_disagree",
            agree=len(agree),
            seen=len(seen),
            residual_mm=round(residual / per_mm, 2),
        )
    tilt = fit.camera.tilt_degrees()
    if tilt > MOST_TILT_DEGREES:
        raise DyeshadeError("too_tilted", degrees=round(tilt), limit=MOST_TILT_DEGREES)
    if per_mm < least_px_per_mm:
        raise DyeshadeError("too_small", px_per_mm=round(per_mm, 2), needed=least_px_per_mm)
    if edge_mm > MOST_EDGE_MM:
        raise DyeshadeError("too_blurred", edge_mm=round(edge_mm, 2), limit_mm=MOST_EDGE_MM)
    return SheetPlace(
        layout=sheet.layout,
        marks_seen=tuple(sorted(mark.ident for mark in agree)),
        residual_px=residual,
        residual_mm=residual / per_mm,
        px_per_mm=per_mm,
        doubt_mm=fit.doubt_mm,
        edge_mm=edge_mm,
        camera=fit.camera,
    )


def _fit(
    grey: Grey, layout: Layout, seen: list[SeenMark], bend: float
) -> tuple[CameraFit, list[SeenMark], float]:
    """Refine the marks' corners and fit; the marks used, and the photo's edge width in pixels."""
    places: dict[int, Array] = {mark.ident: mark_corners_mm(mark) for mark in layout.marks}
    edges = refine(grey, np.array([mark.corners for mark in seen]))
    page = np.array([places[mark.ident] for mark in seen])
    frame = (int(grey.shape[0]), int(grey.shape[1]))
    fit = fit_camera(page, edges.corners, layout.paper_mm, frame, bend)
    refined = [SeenMark(mark.ident, c) for mark, c in zip(seen, edges.corners, strict=True)]
    return fit, refined, float(np.median(edges.width_px))


def _refuse_unseen(grey: Grey, seen: list[SeenMark]) -> NoReturn:
    """Say why no sheet was found.

    Raises
    ------
    DyeshadeError
        Always.
    """
    mirrored = _sheets(search(np.ascontiguousarray(grey[:, ::-1]), SEARCH_SIDES_PX[0]), grey.shape)
    if mirrored and len(mirrored[0].seen) >= MARKS_NEEDED:
        raise DyeshadeError("sheet_mirrored", marks=len(mirrored[0].seen))
    _refuse_few(grey, sum(_layout_of([mark.ident]) is not None for mark in seen))


def _refuse_few(grey: Grey, seen: int) -> NoReturn:
    """Say why no or too few marks were read: blur takes them first, so it is asked first.

    Raises
    ------
    DyeshadeError
        Always.
    """
    edge = typical_edge_px(grey)
    if edge is not None and edge > _BLURRED_EDGE_PX:
        raise DyeshadeError("too_blurred", edge_px=round(edge, 1))
    if seen:
        raise DyeshadeError("too_few_marks", seen=seen, needed=MARKS_NEEDED)
    raise DyeshadeError("no_sheet", marks_seen=0)
