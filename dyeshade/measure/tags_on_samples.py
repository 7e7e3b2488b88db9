"""Tags that lie on samples: whose a sample is, and what of it the tag hides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import Notice
from dyeshade.measure.result import Sample
from dyeshade.photo.vision import cv2
from dyeshade.sheet.layout import Box
from dyeshade.sheet.place import SheetPlace
from dyeshade.sheet.read_tags import TagSeen

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

_PART = 0.2
"""A tag outside of all cells belongs to the only one that holds more than this share of it."""


def hidden_by_tags(
    tags: Sequence[TagSeen], corner_mm: Array, px_per_mm: float, shape: tuple[int, int]
) -> Mask:
    """Which pixels of a straightened part of the page lie under tags.

    Parameters
    ----------
    tags : sequence of TagSeen
    corner_mm : ndarray, shape (2,)
        The part's top left corner on the page.
    px_per_mm : float
    shape : tuple of int
        Rows and columns.
    """
    return _filled([(one.outline - corner_mm) * px_per_mm - 0.5 for one in tags], shape)


def hidden_in_photo(
    tags: Sequence[TagSeen], place: SheetPlace, rows: slice, columns: slice
) -> Mask:
    """Which pixels of a part of the photo lie under tags."""
    corner = np.array([columns.start, rows.start])
    shape = rows.stop - rows.start, columns.stop - columns.start
    return _filled([place.to_pixels(one.outline) - corner for one in tags], shape)


def hidden_in_region(tags: Sequence[TagSeen], rows: slice, columns: slice) -> Mask:
    """Which pixels of a part of a photo without a sheet lie under tags."""
    corner = np.array([columns.start, rows.start])
    shape = rows.stop - rows.start, columns.stop - columns.start
    return _filled([one.outline - corner for one in tags], shape)


def tags_of_cells(cells: Sequence[Box], tags: Sequence[TagSeen]) -> dict[str, list[TagSeen]]:
    """The tags that belong to each cell.

    Those whose code lies in it; one whose code lies in none goes to the cell that it reaches into,
    where that is one alone.
    """
    found: dict[str, list[TagSeen]] = {cell.name: [] for cell in cells}
    for one in tags:
        holding = [cell for cell in cells if cell.holds(one.centre)]
        if not holding:
            holding = [cell for cell in cells if _share_in(cell, one) > _PART]
        if len(holding) == 1:
            found[holding[0].name].append(one)
    return found


def tags_within(corners_px: Array, tags: Sequence[TagSeen], place: SheetPlace) -> list[TagSeen]:
    """The tags whose code lies within an outline drawn on the photo, corners (4, 2)."""
    outline = np.asarray(corners_px, np.float32)
    middles = [place.to_pixels(one.centre) for one in tags]
    return [
        one
        for one, middle in zip(tags, middles, strict=True)
        if cv2.pointPolygonTest(outline, (float(middle[0]), float(middle[1])), False) >= 0
    ]


def with_tag(sample: Sample, tags: Sequence[TagSeen]) -> Sample:
    """The sample with the piece that its tag names, or with what stands in the way of that.

    A code that is no tag of ours says nothing about the piece.

    Parameters
    ----------
    sample : Sample
    tags : sequence of TagSeen
        Those that belong to it.
    """
    pieces = dict.fromkeys(one.piece for one in tags if one.piece is not None)
    unread = sum(not one.readable for one in tags)
    if len(pieces) > 1:
        told = Notice("tags_differ", {"pieces": list(pieces)})
    elif unread:
        told = Notice("tag_unread", {"tags": unread})
    else:
        return replace(sample, tag=next(iter(pieces), ""))
    return replace(sample, notices=(*sample.notices, told))


def _filled(outlines: Sequence[Array], shape: tuple[int, int]) -> Mask:
    canvas = np.zeros(shape, np.uint8)
    for outline in outlines:
        cv2.fillConvexPoly(canvas, np.round(outline).astype(np.int32), 1)
    return canvas.astype(np.bool_)


def _share_in(cell: Box, tag: TagSeen) -> float:
    outline = tag.outline.astype(np.float32)
    shared, _ = cv2.intersectConvexConvex(outline, cell.corners.astype(np.float32))
    return float(shared) / float(cv2.contourArea(outline))
