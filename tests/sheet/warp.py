"""Photographs of a flat page picture at exactly known places: for tests of finding the sheet.

The camera here is written for itself and bends lenses and paper by other formulas than the
finder fits, so that agreement is not built in.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import lru_cache

import cv2
import numpy as np
import pypdfium2

from dyeshade.paper.reference_sheet import sheet_pdf
from dyeshade.sheet.layout import Layout, Mark, build_layout
from dyeshade.sheet.place import SheetPlace
from dyeshade.sheet.serial import check_character

Lift = Callable[[np.ndarray, np.ndarray], np.ndarray]
"""Height of the paper towards the camera in mm, from x and y in -1..1."""


@dataclass(frozen=True)
class Shot:
    """One way to photograph a page.

    Attributes
    ----------
    size : (int, int)
        Width and height of the photo in pixels.
    fill : float
        The page's longer side as a share of the photo's longer side, when seen straight.
    tilt, towards, roll : float
        Degrees: how far the camera leans, to which side, and how it is turned about its axis.
    k1 : float
        Lens bend at the half diagonal.
    outward : bool
        Whether the bend is a function of the unbent radius or, solved backwards, of the bent one.
    lift : callable or None
        Shape of the paper.
    shift : (float, float)
        Where the page's middle is, as shares of the photo's size from its middle.
    focal : float
        Focal length in half diagonals.
    """

    size: tuple[int, int] = (2016, 1512)
    fill: float = 0.8
    tilt: float = 0.0
    towards: float = 0.0
    roll: float = 90.0
    k1: float = 0.0
    outward: bool = True
    lift: Lift | None = None
    shift: tuple[float, float] = (0.0, 0.0)
    focal: float = 1.22

    def pixels(self, points_mm: np.ndarray, page_mm: tuple[float, float]) -> np.ndarray:
        """(..., 2) Photo pixels of page points; pixel centres at integers."""
        half = 0.5 * np.hypot(*self.size)
        centred = points_mm - 0.5 * np.array(page_mm)
        z = np.zeros(centred.shape[:-1])
        if self.lift is not None:
            unit = centred / (0.5 * np.array(page_mm))
            z = -self.lift(unit[..., 0], unit[..., 1])
        world = np.concatenate([centred, z[..., None]], axis=-1)
        distance = self.focal * half * max(page_mm) / (self.fill * max(self.size))
        seen = world @ self._rotation().T
        aim = np.array(self.shift) * np.array(self.size) / (self.focal * half)
        seen = seen + distance * np.array([aim[0], aim[1], 1.0])
        flat = self.focal * seen[..., :2] / seen[..., 2:]
        return half * self._bend(flat) + (np.array(self.size) - 1.0) / 2.0

    def _rotation(self) -> np.ndarray:
        axis = np.radians(self.towards)
        lean = cv2.Rodrigues(np.radians(self.tilt) * np.array([np.cos(axis), np.sin(axis), 0.0]))[0]
        turn = cv2.Rodrigues(np.array([0.0, 0.0, np.radians(self.roll)]))[0]
        return lean @ turn

    def _bend(self, flat: np.ndarray) -> np.ndarray:
        radius = np.linalg.norm(flat, axis=-1, keepdims=True)
        if self.outward:
            return flat * (1.0 + self.k1 * radius**2)
        bent = radius
        for _ in range(60):
            bent = radius / (1.0 - self.k1 * np.minimum(bent, 1.2) ** 2)
        return flat * bent / np.maximum(radius, 1e-9)


def photograph(page: np.ndarray, page_mm: tuple[float, float], shot: Shot) -> np.ndarray:
    """Photograph a page picture.

    Parameters
    ----------
    page : (rows, columns) uint8
        The page, coded grey, its edges those of the paper.
    page_mm : (float, float)
        Width and height of the paper.
    shot : Shot
        The camera.

    Returns
    -------
    ndarray (h, w) uint8
        The photo, on a dark table.
    """
    width, height = shot.size
    step = 12
    x = np.arange(-step, width + 2 * step, step, dtype=float)
    y = np.arange(-step, height + 2 * step, step, dtype=float)
    wanted = np.stack(np.meshgrid(x, y), axis=-1)
    mm = _invert(wanted, page_mm, shot)
    scale = np.array([page.shape[1] / page_mm[0], page.shape[0] / page_mm[1]])
    px = np.arange(width, dtype=np.float32) / step + 1.0
    py = np.arange(height, dtype=np.float32) / step + 1.0
    where = cv2.remap(
        (mm * scale - 0.5).astype(np.float32),
        *np.meshgrid(px, py),
        cv2.INTER_LINEAR,
    )
    per_px = abs(scale[0]) * max(page_mm) / (shot.fill * max(shot.size))
    soft = cv2.GaussianBlur(page, (0, 0), max(0.3, 0.45 * per_px))
    return cv2.remap(soft, where, None, cv2.INTER_LINEAR, borderValue=60)


def _invert(wanted: np.ndarray, page_mm: tuple[float, float], shot: Shot) -> np.ndarray:
    mm = np.broadcast_to(0.5 * np.array(page_mm), wanted.shape).copy()
    far = 1.6 * max(page_mm)
    for _ in range(25):
        here = shot.pixels(mm, page_mm)
        dx = (shot.pixels(mm + np.array([0.01, 0.0]), page_mm) - here) / 0.01
        dy = (shot.pixels(mm + np.array([0.0, 0.01]), page_mm) - here) / 0.01
        matrix = np.stack([dx, dy], axis=-1)
        move = np.linalg.solve(matrix, (wanted - here)[..., None])[..., 0]
        mm = np.clip(mm + np.clip(move, -60, 60), -far, far)
    return mm


def spoil(
    photo: np.ndarray,
    *,
    blur: float = 0.0,
    noise: float = 0.0,
    uneven: float = 1.0,
    jpeg: int | None = 88,
    seed: int = 1,
) -> np.ndarray:
    """Uneven light (brightest over darkest), blur (pixels), noise (grey levels), JPEG."""
    height, width = photo.shape
    linear = ((np.arange(256) / 255.0) ** 2.2).astype(np.float32)[photo]
    if uneven != 1.0:
        across = np.linspace(-1, 1, width)[None] + np.linspace(-0.5, 0.5, height)[:, None]
        linear *= np.minimum(uneven ** (-0.5 + across / 3.0), 1.3).astype(np.float32)
    if blur:
        linear = cv2.GaussianBlur(linear, (0, 0), blur)
    coded = np.float32(255.0) * np.clip(linear, 0, 1) ** np.float32(1 / 2.2)
    if noise:
        chance = np.random.default_rng(seed)
        coded += np.float32(noise) * chance.standard_normal(coded.shape, dtype=np.float32)
    result = np.clip(np.round(coded), 0, 255).astype(np.uint8)
    if jpeg is not None:
        _, code = cv2.imencode(".jpg", result, [cv2.IMWRITE_JPEG_QUALITY, jpeg])
        result = cv2.imdecode(code, cv2.IMREAD_GRAYSCALE)
    return result


PX_PER_MM = 8.0
SERIAL = "K7QF-3M9" + check_character("K7QF3M9")


@lru_cache(maxsize=2)
def printed(serial: str = SERIAL) -> tuple[Layout, np.ndarray]:
    """An A4 sheet of six cells: its layout, and its page as uint8 grey at `PX_PER_MM`.

    The cells are filled with a mottled weave, so that texture is in sight as with dyed pieces.
    """
    layout = build_layout("A4", "six", False, serial)
    document = pypdfium2.PdfDocument(sheet_pdf(layout))
    try:
        drawn = document[0].render(scale=PX_PER_MM * 25.4 / 72.0, grayscale=True).to_numpy()
        page = np.array(drawn).reshape(drawn.shape[0], drawn.shape[1], -1)[..., 0]
    finally:
        document.close()
    page = (40 + page * (200.0 / 255.0)).astype(np.uint8)
    chance = np.random.default_rng(3)
    for cell in layout.cells:
        rows = _pixels(cell.y_mm + 6, cell.h_mm - 12)
        columns = _pixels(cell.x_mm + 6, cell.w_mm - 12)
        shape = page[rows, columns].shape
        coarse = chance.integers(60, 190, (shape[0] // 5 + 1, shape[1] // 5 + 1)).astype(np.uint8)
        page[rows, columns] = cv2.resize(coarse, shape[::-1], interpolation=cv2.INTER_CUBIC)
    page.flags.writeable = False
    return layout, page


def hide(page: np.ndarray, marks: Iterable[Mark]) -> np.ndarray:
    """The page with yarn of middle grey lying over marks."""
    covered = page.copy()
    for mark in marks:
        rows = _pixels(mark.y_mm - 1.0, mark.size_mm * 0.7)
        columns = _pixels(mark.x_mm - 1.0, mark.size_mm + 2.0)
        covered[rows, columns] = 110
    return covered


def _pixels(start_mm: float, length_mm: float) -> slice:
    return slice(max(0, round(start_mm * PX_PER_MM)), round((start_mm + length_mm) * PX_PER_MM))


def furthest_off(place: SheetPlace, layout: Layout, shot: Shot) -> float:
    """Largest distance in mm between where greys and cells are and where the place puts them."""
    points = np.array([box.centre for box in (*layout.patches, *layout.cells)])
    points = np.vstack([points, *(cell.corners for cell in layout.cells)])
    found = place.to_page(shot.pixels(points, layout.paper_mm))
    return float(np.linalg.norm(found - points, axis=1).max())
