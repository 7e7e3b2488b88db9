"""Finds a colour chart in a photo, or says that it was not found: it never guesses.

Patches are plain quadrilaterals of like size that stand in a grid. Three neighbours propose where
the grid is; what other patches stand where it says decides. Which way the chart is turned, its
published colours tell, and by a clear margin.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.lab import lab_to_xyz
from dyeshade.errors import DyeshadeError
from dyeshade.measure.chart import Chart
from dyeshade.measure.chart_place import ChartPlace, place_chart, through
from dyeshade.photo.photo import Photo
from dyeshade.photo.vision import cv2

Array = NDArray[np.float64]

_LONGEST = 1400
_SMALLEST_SIDE = 9.0
_NEAR = 0.22
"""A patch stands where the grid says when its middle is this near, in steps of the grid."""

_ENOUGH = 0.7
"""Share of the grid's places at which a patch must have been seen."""

_FEW = 0.5
"""The same where the colours agree better: dark patches on a dark chart show no edges."""

_LIKENESS, _LIKENESS_OF_FEW = 0.8, 0.85
"""Correlation of log light with the published colours that the right way round must reach."""

_CLEARLY, _CLEARLY_OF_FEW = 0.1, 0.3
"""How much better than every other way round."""


def find_chart(photo: Photo, chart: Chart) -> ChartPlace:
    """Find a chart.

    Parameters
    ----------
    photo : Photo
    chart : Chart

    Returns
    -------
    ChartPlace

    Raises
    ------
    DyeshadeError
        ``chart_not_found`` where no grid, or no clear way round, shows.
    """
    scale = min(1.0, _LONGEST / max(photo.height, photo.width))
    size = (max(1, round(photo.width * scale)), max(1, round(photo.height * scale)))
    shrunk = cv2.resize(photo.coded, size, interpolation=cv2.INTER_AREA).astype(np.float64)
    if photo.encoding.rendered:
        shown = shrunk / photo.full_scale
    else:
        shown = np.sqrt(shrunk / np.quantile(shrunk, 0.995, axis=(0, 1)).clip(1))
    picture = np.asarray(np.clip(shown * 255, 0, 255), dtype=np.uint8)
    quads = _quads(picture)
    best: tuple[int, Array] | None = None
    for rows, columns in {(chart.rows, chart.columns), (chart.columns, chart.rows)}:
        found = _grid(quads, rows, columns)
        if found is not None and (best is None or found[0] > best[0]):
            best = found
    places = chart.rows * chart.columns
    if best is None or best[0] < _FEW * places:
        raise DyeshadeError("chart_not_found")
    # Pixels count from their middles; shrinking a photo moves them by half the difference.
    corners = (best[1] + 0.5) / scale - 0.5
    if best[0] < _ENOUGH * places:
        return _turned(photo, chart, corners, _LIKENESS_OF_FEW, _CLEARLY_OF_FEW)
    return _turned(photo, chart, corners, _LIKENESS, _CLEARLY)


def _quads(picture: NDArray[np.uint8]) -> Array:
    """Quadrilaterals (n, 4, 2) of even colour, in the picture's pixels."""
    found: list[Array] = []
    area = picture.shape[0] * picture.shape[1]
    channels = [cv2.medianBlur(np.ascontiguousarray(picture[..., k]), 3) for k in range(3)]
    edges = np.zeros(picture.shape[:2], np.uint8)
    for channel in channels:
        for low, high in ((15, 40), (40, 110)):
            edges = np.maximum(edges, cv2.Canny(channel, low, high))
            walls = cv2.dilate(edges, np.ones((3, 3), np.uint8))
            contours, _ = cv2.findContours(255 - walls, cv2.RETR_CCOMP, cv2.CHAIN_APPROX_SIMPLE)
            for contour in contours:
                own = cv2.contourArea(contour)
                if own < _SMALLEST_SIDE**2 or own > area / 12:
                    continue
                hull = cv2.convexHull(contour)
                if own < 0.85 * cv2.contourArea(hull):
                    continue
                four = cv2.approxPolyDP(hull, 0.08 * cv2.arcLength(hull, True), True)
                if len(four) == 4:
                    quad = four[:, 0, :].astype(np.float64)
                    sides = np.linalg.norm(quad - np.roll(quad, 1, axis=0), axis=1)
                    if sides.max() < 2.0 * sides.min():
                        found.append(quad)
    return _without_doubles(found)


def _without_doubles(found: list[Array]) -> Array:
    kept: list[Array] = []
    for quad in sorted(found, key=lambda one: -cv2.contourArea(one.astype(np.float32))):
        middle, side = quad.mean(axis=0), np.linalg.norm(quad[0] - quad[1])
        if all(np.linalg.norm(middle - other.mean(axis=0)) > 0.3 * side for other in kept):
            kept.append(quad)
        if len(kept) >= 400:
            break
    return np.array(kept).reshape(-1, 4, 2)


def _grid(quads: Array, rows: int, columns: int) -> tuple[int, Array] | None:
    """How many patches stand in the best grid, and its corners (4, 2)."""
    if len(quads) < 4:
        return None
    middles = quads.mean(axis=1)
    sides = np.sqrt([cv2.contourArea(one.astype(np.float32)) for one in quads])
    best: tuple[int, Array] | None = None
    for one in range(len(quads)):
        alike = np.abs(np.log(sides / sides[one])) < 0.35
        steps = middles - middles[one]
        far = np.linalg.norm(steps, axis=1)
        near = np.nonzero(alike & (far > 0.9 * sides[one]) & (far < 1.8 * sides[one]))[0]
        for right in near:
            for down in near:
                a, b = steps[right], steps[down]
                cross = a[0] * b[1] - a[1] * b[0]
                if cross < 0.8 * far[right] * far[down]:
                    continue
                found = _follow(middles[alike], middles[one], a, b, rows, columns)
                if found is not None and (best is None or found[0] > best[0]):
                    best = found
        if best is not None and best[0] >= rows * columns - 1:
            break
    return best


def _follow(
    middles: Array, start: Array, right: Array, down: Array, rows: int, columns: int
) -> tuple[int, Array] | None:
    """Grow a grid from three neighbours, letting it bend into perspective as it grows."""
    places = np.zeros((1, 2))
    points = start[None]
    step = np.stack([right, down], axis=1)
    matrix = np.eye(3)
    matrix[:2, :2], matrix[:2, 2] = step, start
    taken = np.zeros(len(middles), dtype=bool)
    for reach in (1.6, 2.6, 4.2, 7.0, 7.0):
        back = through(np.asarray(np.linalg.inv(matrix), dtype=np.float64), middles)
        whole = np.round(back)
        taken = (np.abs(back - whole).max(axis=1) < _NEAR) & (np.abs(back).max(axis=1) < reach)
        places, points = whole[taken], middles[taken]
        if len(points) < 4 or min(np.ptp(places, axis=0)) < 1:
            return None
        fitted, _ = cv2.findHomography(places, points, 0)
        if fitted is None or not np.isfinite(fitted).all() or np.linalg.cond(fitted) > 1e9:
            return None
        matrix = np.asarray(fitted, dtype=np.float64)
    cells = {(int(x), int(y)) for x, y in places}
    best = 0
    corner = (0, 0)
    ties = 0
    low, high = places.min(axis=0).astype(int), places.max(axis=0).astype(int)
    for x in range(low[0] - 1, high[0] - columns + 3):
        for y in range(low[1] - 1, high[1] - rows + 3):
            inside = sum(x <= i < x + columns and y <= j < y + rows for i, j in cells)
            if inside > best:
                best, corner, ties = inside, (x, y), 0
            elif inside == best:
                ties += 1
    if ties or len(cells) > best + max(2, 0.1 * rows * columns):
        # Two places fit as well, or the pattern goes on beyond the chart: no guess.
        return None
    x, y = corner
    ends = [[x, y], [x + columns - 1, y], [x + columns - 1, y + rows - 1], [x, y + rows - 1]]
    return best, through(matrix, np.array(ends, dtype=np.float64))


def _turned(
    photo: Photo, chart: Chart, corners: Array, likeness: float, clearly: float
) -> ChartPlace:
    """The chart with its first patch where its colours say."""
    wanted = np.log(np.maximum(lab_to_xyz(chart.lab) @ _TO_CHANNELS.T, 0.01))
    wanted = wanted - wanted.mean(axis=0)
    told: list[tuple[float, ChartPlace]] = []
    for order in ([0, 1, 2, 3], [0, 3, 2, 1]):
        for turn in range(4):
            place = place_chart(chart, np.roll(corners[order], -turn, axis=0))
            seen = np.log(np.maximum(_glance(photo, place), 1e-3))
            seen = seen - seen.mean(axis=0)
            size = np.sqrt((seen**2).sum() * (wanted**2).sum())
            told.append((float((seen * wanted).sum() / max(size, 1e-9)), place))
    told.sort(key=lambda one: -one[0])
    if told[0][0] < likeness or told[0][0] - told[1][0] < clearly:
        raise DyeshadeError("chart_not_found")
    return told[0][1]


# XYZ to broad red, green and blue: enough to tell one way round from another.
_TO_CHANNELS = np.array([[1.6, -0.4, -0.2], [-0.5, 1.4, 0.1], [0.0, -0.05, 0.95]])


def _glance(photo: Photo, place: ChartPlace) -> Array:
    """Median light in the middle of each patch, (n, 3)."""
    out = np.zeros((len(place.middles_px), 3))
    for index, (x, y) in enumerate(place.middles_px):
        side = max(2, int(np.linalg.norm(place.quads_px[index][1] - place.quads_px[index][0]) / 4))
        rows = slice(max(int(y) - side, 0), int(y) + side + 1)
        columns = slice(max(int(x) - side, 0), int(x) + side + 1)
        light = photo.linear(rows, columns).reshape(-1, 3)
        out[index] = np.median(light, axis=0) if len(light) else 0.0
    return out
