"""The printed page as light: every pixel of its raster through the print, lit from above.

Also what lies on it by mischance: stray strands, a leaf; and what share of each mark and patch they
hide.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import cv2
import numpy as np

from .ink import colour_spectrum, printed_spectra
from .sheet import box_corners
from .spectra import Array, chart_colours, cie224_colours, mixture, xyz_of
from .texture import Field, noise

if TYPE_CHECKING:
    from .scene import Scene


@dataclass(frozen=True, eq=False)
class Page:
    """The page before it is lit.

    Attributes
    ----------
    level
        (h, w) uint8, the grey asked for.
    spectra
        (256, 81) what each level prints as.
    factor
        (h, w) patch and paper noise.
    boxes
        Colour patches: (name, pixel box, spectrum).
    patch_spectra
        Patch name to what was printed there (81,).
    over
        Coverage (h, w) and spectrum (81,) of things lying on the page.
    hidden
        Name of patch, "mark <ident>" to the share hidden.
    """

    level: np.ndarray[Any, np.dtype[np.uint8]]
    spectra: Array
    factor: Field
    boxes: list[tuple[str, tuple[slice, slice], Array]]
    patch_spectra: dict[str, Array]
    over: list[tuple[Field, Field, Array]]
    hidden: dict[str, float]


def _slices(box: dict[str, Any], scale: float) -> tuple[slice, slice]:
    (x0, y0), (x1, y1) = box_corners(box)[[0, 2]] * scale
    return slice(round(y0), round(y1)), slice(round(x0), round(x1))


def make_page(scene: Scene) -> Page:
    """Print the sheet of a scene and let things fall on it."""
    sheet, scale = scene.sheet, scene.sheet.px_per_mm
    print_seed = scene.seed if scene.print_seed < 0 else scene.print_seed
    of_print = np.random.default_rng([print_seed, 61])
    coded = sheet.coded
    level = np.asarray(np.round(coded.mean(axis=2)), dtype=np.uint8)
    spectra = printed_spectra(np.arange(256) / 255.0, scene.printed)
    factor = np.ones(level.shape, dtype=np.float32)
    yy, xx = np.indices(level.shape, dtype=np.float32) / np.float32(scale)
    factor += 0.002 * noise(xx, yy, 0.25, 0.25, 5) + 0.0015 * noise(xx, yy, 9, 9, 6)
    patch_spectra = {}
    for patch in sheet.layout["patches"]:
        rows, columns = _slices(patch, scale)
        own = 1 + scene.patch_noise * of_print.normal()
        factor[rows, columns] *= own
        middle = level[(rows.start + rows.stop) // 2, (columns.start + columns.stop) // 2]
        patch_spectra[patch["name"]] = spectra[middle] * own
    boxes = []
    for patch in sheet.layout.get("colours", []):
        rows, columns = _slices(patch, scale)
        rgb = coded[(rows.start + rows.stop) // 2, (columns.start + columns.stop) // 2] / 255.0
        own = 1 + scene.patch_noise * of_print.normal()
        spectrum = colour_spectrum(rgb, scene.printed) * own
        boxes.append((patch["name"], (rows, columns), spectrum))
        patch_spectra[patch["name"]] = spectrum
    over = _mischance(scene, np.random.default_rng([scene.seed, 62]))
    hidden = {}
    for name, box in [(p["name"], p) for p in sheet.layout["patches"]] + [
        (f"mark {m['ident']}", m) for m in sheet.layout["marks"]
    ]:
        rows, columns = _slices(box, scale)
        shares = [float(cover[rows, columns].mean()) for cover, _, _ in over]
        hidden[name] = max(shares, default=0.0)
    return Page(level, spectra, factor, boxes, patch_spectra, over, hidden)


def lit_page(page: Page, raw: list[tuple[Array, Field]]) -> Field:
    """Raw light (h, w, 3) of the page.

    ``raw`` lists pairs: a matrix (81, 3) from reflectance to balanced raw under one light, and that
    light's amount (h, w).
    """
    out = np.zeros((*page.level.shape, 3), dtype=np.float32)
    for to_raw, amount in raw:
        table = (page.spectra @ to_raw).astype(np.float32)
        light = table[page.level] * (page.factor * amount)[..., None]
        for _, box, spectrum in page.boxes:
            colour = (spectrum @ to_raw).astype(np.float32)
            light[box] = colour * (page.factor[box] * amount[box])[..., None]
        for cover, shade, spectrum in page.over:
            colour = (spectrum @ to_raw).astype(np.float32)
            # A thing lying there shades the paper beside it.
            near = cv2.GaussianBlur(cover, (0, 0), 6)
            light *= (1 - 0.35 * near * (1 - cover))[..., None]
            light += cover[..., None] * (colour * (shade * amount)[..., None] - light)
        out += light
    return out


def _clear_of_cells(scene: Scene, points: Array, margin: float) -> bool:
    """Whether places (n, 2) in mm keep off the cells, where they would be part of a piece."""
    for cell in scene.sheet.layout["cells"]:
        low, high = box_corners(cell)[[0, 2]]
        if np.any(np.all((points > low - margin) & (points < high + margin), axis=1)):
            return False
    return True


def _stray_line(scene: Scene, rng: np.random.Generator) -> Array:
    """A meandering line (60, 2) in mm over marks and greys near the sheet's edge."""
    size = np.array(scene.sheet.size_mm)
    t = np.linspace(0, 1, 60)
    for _ in range(200):
        start = rng.uniform([0, 0], size)
        side = int(rng.integers(2))
        start[side] = (
            rng.choice([-5.0, size[side] + 5])
            if rng.random() < 0.5
            else rng.choice([rng.uniform(3, 25), size[side] - rng.uniform(3, 25)])
        )
        heading = rng.uniform(0, 2 * np.pi) + rng.normal(0, 1.0) * t + 0.5 * np.sin(9 * t)
        steps = np.column_stack([np.cos(heading), np.sin(heading)]) * rng.uniform(40, 250) / 60
        line = start + np.cumsum(steps, axis=0)
        on_page = np.mean(np.all((line > 0) & (line < size), axis=1))
        if on_page > 0.6 and _clear_of_cells(scene, line, 3.0):
            return np.asarray(line)
    return np.asarray(np.column_stack([size[0] * t, np.full(60, 12.0)]))


def _mischance(scene: Scene, rng: np.random.Generator) -> list[tuple[Field, Field, Array]]:
    scale = scene.sheet.px_per_mm
    shape = scene.sheet.coded.shape[:2]
    things = []
    for _ in range(scene.strands_over):
        cover = np.zeros(shape, dtype=np.uint8)
        shade = np.zeros(shape, dtype=np.uint8)
        line = _stray_line(scene, rng)
        points = np.round(line * scale * 16).astype(np.int32)
        wide = rng.uniform(1.2, 2.6) * scale
        for part in (1.0, 0.75, 0.5, 0.25):
            value = int(120 + 120 * (1 - part))
            thick = max(1, round(wide * part))
            cv2.polylines(shade, [points], False, value, thick, cv2.LINE_AA, 4)
        cv2.polylines(cover, [points], False, 255, max(1, round(wide)), cv2.LINE_AA, 4)
        colour = cie224_colours()[rng.integers(99)]
        yy, xx = np.indices(shape, dtype=np.float32) / np.float32(scale)
        twist = 1 + 0.12 * noise(xx + yy, xx - yy, 0.5, 2.0, int(rng.integers(1000)))
        things.append((cover.astype(np.float32) / 255, shade / np.float32(240) * twist, colour))
    if scene.leaf_over:
        things.append(_leaf(scene, rng))
    return things


def _leaf(scene: Scene, rng: np.random.Generator) -> tuple[Field, Field, Array]:
    scale = scene.sheet.px_per_mm
    width, height = scene.sheet.size_mm
    shape = scene.sheet.coded.shape[:2]
    corner = np.array([rng.choice([12.0, width - 12]), rng.choice([25.0, height - 25])])
    length = rng.uniform(45, 75)
    t = np.linspace(0, 1, 40)
    for angle in rng.uniform(0, 2 * np.pi, size=20):
        spine = corner + np.outer(length * (t - 0.5), [np.cos(angle), np.sin(angle)])
        if _clear_of_cells(scene, spine, 0.2 * length):
            break
    half = 0.20 * length * np.sin(np.pi * t) ** 0.8 * (1 - 0.35 * t)
    ribs = 0.6 * np.sin(9 * 2 * np.pi * t)
    edge = np.vstack(
        [
            np.column_stack([length * (t - 0.5), half + ribs * (half > 1)]),
            np.column_stack([length * (t - 0.5), -half - ribs * (half > 1)])[::-1],
        ]
    )
    c, s = np.cos(angle), np.sin(angle)
    turn = np.array([[c, s], [-s, c]])

    def px(points: Array) -> Array:
        return np.round((points @ turn + corner) * scale * 16).astype(np.int32)

    cover = np.zeros(shape, dtype=np.uint8)
    cv2.fillPoly(cover, [px(edge)], 255, cv2.LINE_AA, 4)
    shade = np.full(shape, 200, dtype=np.uint8)
    spine = np.column_stack([length * (t - 0.5), 0 * t])
    cv2.polylines(shade, [px(spine)], False, 250, max(1, round(0.7 * scale)), cv2.LINE_AA, 4)
    for k in np.linspace(0.12, 0.85, 8):
        for side in (-1, 1):
            reach = np.interp(min(k + 0.12, 1), t, half) * 0.92 * side
            vein = np.array([[length * (k - 0.5), 0], [length * (k + 0.12 - 0.5), reach]])
            cv2.polylines(shade, [px(vein)], False, 228, 2, cv2.LINE_AA, 4)
    yy, xx = np.indices(shape, dtype=np.float32) / np.float32(scale)
    rough = 1 + 0.06 * noise(xx, yy, 1.5, 1.5, 77) + 0.08 * noise(xx, yy, 12, 12, 78)
    green = mixture(
        [(chart_colours()[3], 1.0)], 0.9 / max(1e-3, float(xyz_of(chart_colours()[3])[1]) * 7)
    )
    return cover.astype(np.float32) / 255, (shade / np.float32(200)) * rough, green
