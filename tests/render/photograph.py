"""Render a scene: print, lay, light, photograph, and keep the truth of everything."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from . import sensor
from .page_surface import lit_page, make_page
from .photo_file import file_suffix, write_photo
from .piece_texture import PieceTruth, make_texture
from .scene import Scene
from .sheet import box_corners
from .spectra import Array
from .stage import Stage, make_stage, scene_development
from .table import SPECTRA, table_factor
from .tag import tag_texture
from .texture import Field, Texture
from .truth import truth_of


@dataclass(frozen=True, eq=False)
class Rendered:
    """A rendered photo.

    Attributes
    ----------
    scene
        What was rendered.
    data
        The file's bytes.
    upright
        Coded pixels (h, w, 3) uint8 or uint16 of the upright photo, before JPEG loss.
    truth
        See `truth.truth_of`.
    """

    scene: Scene
    data: bytes
    upright: NDArray[np.generic]
    truth: dict[str, Any]

    def save(self, path: str | Path) -> Path:
        """Write the file; the usual suffix is added when the path has none."""
        path = Path(path)
        if not path.suffix:
            path = path.with_suffix(file_suffix(self.scene))
        path.write_bytes(self.data)
        return path


def _cast_shadow(page: Field, texture: Texture, height: float, towards: Array) -> None:
    """Darken the page beside a raised piece: shifted away from the light, softer when higher."""
    if height <= 0:
        return
    place = texture.place
    scale = place.px_per_mm
    x0 = round((place.origin_mm[0]) * scale - 0.5)
    y0 = round((place.origin_mm[1]) * scale - 0.5)
    pad = int((height * 1.5 + 6) * scale)
    mask = np.pad(texture.alpha, pad)
    reach = height / max(float(towards[2]), 0.35)
    shift = np.array([[1, 0, -towards[0] * reach * scale], [0, 1, -towards[1] * reach * scale]])
    soft = max(0.35 * height, 0.25) * scale
    small = cv2.resize(mask, None, fx=0.25, fy=0.25, interpolation=cv2.INTER_AREA)
    shift[:, 2] *= 0.25
    moved = cv2.warpAffine(small, shift, small.shape[::-1])
    moved = 0.42 * cv2.GaussianBlur(moved, (0, 0), max(soft * 0.25, 0.3))
    moved += 0.25 * cv2.GaussianBlur(small, (0, 0), max(soft * 0.5, 0.4))
    shade = cv2.resize(moved, mask.shape[::-1], interpolation=cv2.INTER_LINEAR)
    top, left = max(y0 - pad, 0), max(x0 - pad, 0)
    bottom = min(y0 - pad + mask.shape[0], page.shape[0])
    right = min(x0 - pad + mask.shape[1], page.shape[1])
    part = shade[top - y0 + pad : bottom - y0 + pad, left - x0 + pad : right - x0 + pad]
    page[top:bottom, left:right] *= 1 - part


def _axis(origin: float, count: int, scale: float) -> Array:
    return np.asarray(origin + np.arange(count) / scale)


def render(scene: Scene) -> Rendered:
    """Photograph a scene."""
    stage = make_stage(scene)
    view, sheet = stage.view, scene.sheet
    scale = sheet.px_per_mm
    window_raw, ambient_raw = stage.to_raw()
    towards = stage.field.towards_light
    page = make_page(scene)
    h, w = page.level.shape
    x, y = _axis(0.5 / scale, w, scale), _axis(0.5 / scale, h, scale)
    direct, reflected = stage.light(x, y, 0.0)
    cells = {c["name"]: c for c in sheet.layout["cells"]}
    drawn: list[tuple[Any, Texture, PieceTruth, float]] = []
    for piece in scene.pieces:
        texture, truth = make_texture(piece, cells[piece.cell], scale, towards)
        middle = box_corners(cells[piece.cell]).mean(axis=0)
        lift = float(stage.curl.height(middle[:1], middle[1:])[0])
        _cast_shadow(direct, texture, piece.height_mm, towards)
        drawn.append((piece, texture, truth, lift + piece.height_mm))
    tags = []
    for tag in scene.tags:
        texture = tag_texture(tag, cells[tag.cell], scale)
        _cast_shadow(direct, texture, tag.height_mm, towards)
        tags.append((texture, tag.height_mm))
    lit = lit_page(page, [(window_raw, direct), (ambient_raw, reflected)])

    width, height = view.size_px
    full = (0, 0, width, height)
    px, py = view.places(full)
    image = _lit_table(scene, stage, px, py, window_raw, ambient_raw)
    px, py = view.places(full, 0.0, stage.curl)
    _lay(image, full, px, py, lit, np.ones((h, w), np.float32), (x[0], y[0]), scale)
    for _, texture, _, z in sorted(drawn, key=lambda item: item[3]):
        _photograph_piece(image, stage, texture, z, window_raw, ambient_raw)
    for texture, z in tags:
        _photograph_piece(image, stage, texture, z, window_raw, ambient_raw)

    raw = sensor.exposed(sensor.flared(image, scene.flare), scene)
    value = sensor.coded(raw, scene_development(scene), scene)
    data, upright = write_photo(value, raw, scene)
    return Rendered(scene, data, upright, truth_of(scene, stage, page, drawn))


def _lit_table(
    scene: Scene, stage: Stage, px: Field, py: Field, window_raw: Array, ambient_raw: Array
) -> Field:
    spectrum = SPECTRA[scene.table]
    factor = table_factor(scene.table, px, py)
    # The field is coarse enough to be worked on a small copy of the photo.
    window, reflected = stage.field.parts(px[::40, ::40], py[::40, ::40])
    size = (px.shape[1], px.shape[0])
    # The paper's own thin shadow on the table.
    w, h = scene.sheet.size_mm
    beside = np.maximum(np.abs(px[::4, ::4] - w / 2) - w / 2, np.abs(py[::4, ::4] - h / 2) - h / 2)
    shade = (1 - 0.4 * np.exp(-np.clip(beside, 0, None) / 2.5)).astype(np.float32)
    factor = factor * cv2.resize(shade, size, interpolation=cv2.INTER_LINEAR)
    colour = window[..., None] * (spectrum @ window_raw)
    colour = (colour + reflected[..., None] * (spectrum @ ambient_raw)).astype(np.float32)
    return np.asarray(cv2.resize(colour, size, interpolation=cv2.INTER_LINEAR) * factor[..., None])


def _lay(
    image: Field,
    box: tuple[int, int, int, int],
    px: Field,
    py: Field,
    premultiplied: Field,
    alpha: Field,
    origin: tuple[float, float],
    scale: float,
) -> None:
    """Put a lit surface into the photo where its pixels see it."""
    left, top, right, bottom = box
    mx = (px - np.float32(origin[0])) * np.float32(scale)
    my = (py - np.float32(origin[1])) * np.float32(scale)
    both = np.dstack([premultiplied, alpha])
    seen = cv2.remap(both, mx, my, cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT)
    part = image[top:bottom, left:right]
    part *= 1 - seen[..., 3:]
    part += seen[..., :3]


def _photograph_piece(
    image: Field, stage: Stage, texture: Texture, z: float, window_raw: Array, ambient_raw: Array
) -> None:
    place = texture.place
    h, w = texture.alpha.shape
    scale = place.px_per_mm
    x = _axis(place.origin_mm[0], w, scale)
    y = _axis(place.origin_mm[1], h, scale)
    corners = np.array([[x[0], y[0]], [x[-1], y[0]], [x[-1], y[-1]], [x[0], y[-1]]])
    pixels = stage.view.project(corners, z)
    low = np.maximum(np.floor(pixels.min(axis=0)).astype(int) - 2, 0)
    high = np.minimum(np.ceil(pixels.max(axis=0)).astype(int) + 2, stage.view.size_px)
    if np.any(high <= low):
        return
    direct, reflected = stage.light(x, y, max(z, 1e-3))
    lit = (texture.weights @ (texture.spectra @ window_raw).astype(np.float32)) * direct[..., None]
    lit += (texture.weights @ (texture.spectra @ ambient_raw).astype(np.float32)) * reflected[
        ..., None
    ]
    box = (int(low[0]), int(low[1]), int(high[0]), int(high[1]))
    px, py = stage.view.places(box, z)
    _lay(image, box, px, py, lit, texture.alpha, place.origin_mm, scale)
