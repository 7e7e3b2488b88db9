"""Render a scene: print, lay, light, photograph, and keep the truth of everything."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from . import sensor
from .camera import balanced, development, own_matrix
from .lighting import LightField, make_light_field, shadow_map
from .page_surface import Page, lit_page, make_page
from .photo_file import file_suffix, write_photo
from .piece_texture import PieceTruth, make_texture
from .scene import Scene
from .sheet import box_corners
from .spectra import WAVELENGTHS, Array, lab_of
from .table import SPECTRA, table_factor
from .texture import Field, Texture
from .viewpoint import Curl, Viewpoint, make_viewpoint


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
        See `_truth`.
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


@dataclass(frozen=True, eq=False)
class _Stage:
    scene: Scene
    view: Viewpoint
    curl: Curl
    field: LightField

    def light(self, x: Array, y: Array, z: float) -> tuple[Field, Field]:
        """Window and reflected light at a grid of places, shadow included (x (w,), y (h,))."""
        gx = np.linspace(x[0], x[-1], 25)
        gy = np.linspace(y[0], y[-1], 33)
        xx, yy = np.meshgrid(gx, gy)
        window, reflected = self.field.parts(xx, yy, z)
        if not self.curl.flat and z == 0:
            h = self.curl.height(xx, yy)
            sy, sx = np.gradient(h, gy, gx)
            lx, ly, lz = self.field.towards_light
            window = window * np.clip(1 - (sx * lx + sy * ly) / max(lz, 0.3), 0.3, 1.7)
        size = (x.size, y.size)

        def grown(values: Array) -> Field:
            # Corner to corner, which cv2.resize does not do by itself.
            mx = np.linspace(0, 24, size[0], dtype=np.float32)
            my = np.linspace(0, 32, size[1], dtype=np.float32)
            maps = np.meshgrid(mx, my)
            fine = cv2.resize(values.astype(np.float32), None, fx=1, fy=1)
            return np.asarray(cv2.remap(fine, *maps, cv2.INTER_CUBIC, borderMode=cv2.BORDER_REFLECT))

        direct = grown(window)
        s = self.scene
        if s.shadow_depth > 0:
            w, h_mm = s.sheet.size_mm
            xs, ys = np.meshgrid(x - w / 2, y - h_mm / 2)
            direct = direct * shadow_map(
                xs.astype(np.float32),
                ys.astype(np.float32),
                s.shadow_depth,
                s.shadow_edge_mm,
                s.shadow_angle_deg,
                s.shadow_offset_mm,
                s.seed,
            ).astype(np.float32)
        return np.asarray(direct, dtype=np.float32), grown(reflected)

    def to_raw(self) -> tuple[Array, Array]:
        """Matrices (81, 3) from reflectance to balanced raw under window and reflected light."""
        one = np.eye(WAVELENGTHS.size)
        s = self.scene
        ambient = s.ambient_light or s.light
        return balanced(one, s.camera, s.light), balanced(one, s.camera, ambient, s.light)


def image_size(scene: Scene) -> tuple[int, int]:
    """Width and height of the upright photo, 4 : 3, upright sheets in upright photos."""
    long, short = scene.long_side_px, round(scene.long_side_px * 0.75)
    lying = 45 < scene.turn_deg % 180 < 135
    return (long, short) if lying else (short, long)


def make_stage(scene: Scene) -> _Stage:
    """Viewpoint, paper shape and light of a scene."""
    size_mm = scene.sheet.size_mm
    view = make_viewpoint(
        size_mm,
        image_size(scene),
        scene.tilt_deg,
        scene.tilt_towards_deg,
        scene.turn_deg,
        scene.distance_mm,
        scene.fill,
        scene.lens_k1,
        scene.aim_mm,
    )
    rng = np.random.default_rng([scene.seed, 81])
    curl = Curl(size_mm, scene.curl_mm * rng.uniform(0, 1, 4) ** 0.7, scene.bend_mm)
    field = make_light_field(
        size_mm, scene.light_factor, scene.light_from_deg, scene.light_height_deg, scene.seed
    )
    return _Stage(scene, view, curl, field)


def _cast_shadow(page: Field, texture: Texture, height: float, towards: Array) -> None:
    """Darken the page beside a raised piece: shifted away from the light, softer when higher."""
    if height <= 0:
        return
    place = texture.place
    scale = place.px_per_mm
    h, w = texture.alpha.shape
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
    lit = lit_page(page, [(window_raw, direct), (ambient_raw, reflected)])

    width, height = view.size_px
    full = (0, 0, width, height)
    px, py = view.places(full)
    image = _lit_table(scene, stage, px, py, window_raw, ambient_raw)
    px, py = view.places(full, 0.0, stage.curl)
    _lay(image, full, px, py, lit, np.ones((h, w), np.float32), (x[0], y[0]), scale)
    for _, texture, _, z in sorted(drawn, key=lambda item: item[3]):
        _photograph_piece(image, stage, texture, z, window_raw, ambient_raw)

    raw = sensor.exposed(sensor.flared(image, scene.flare), scene)
    value = sensor.coded(raw, scene_development(scene), scene)
    data, upright = write_photo(value, scene)
    return Rendered(scene, data, upright, _truth(scene, stage, page, drawn))


def _lit_table(
    scene: Scene, stage: _Stage, px: Field, py: Field, window_raw: Array, ambient_raw: Array
) -> Field:
    spectrum = SPECTRA[scene.table]
    factor = table_factor(scene.table, px, py)
    # The field is coarse enough to be worked on a small copy of the photo.
    window, reflected = stage.field.parts(px[::40, ::40], py[::40, ::40])
    size = (px.shape[1], px.shape[0])
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
    image: Field, stage: _Stage, texture: Texture, z: float, window_raw: Array, ambient_raw: Array
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


def scene_development(scene: Scene) -> Any:
    """The camera's way from balanced raw to shown light for a scene."""
    return development(
        scene.camera,
        scene.look,
        scene.curve,
        scene.seed,
        scene.exposure,
        scene.white_error,
        scene.primaries,
        scene.curve_strength,
    )


def _truth(
    scene: Scene,
    stage: _Stage,
    page: Page,
    drawn: list[tuple[Any, Texture, PieceTruth, float]],
) -> dict[str, Any]:
    """Truth of a render.

    "cells": cell name to {"lab", "spectrum", "shades", "kind", "height_mm", "outline_px"};
    "patches": name to {"reflectance", "lab", "corners_px", "hidden"}; "marks": ident to {"corners_px",
    "hidden"}; "cell_corners_px"; "page_corners_px"; "camera", "light"; "matrix".
    """
    layout, view, curl = scene.sheet.layout, stage.view, stage.curl

    def pixels(box: dict[str, Any]) -> Array:
        corners = box_corners(box)
        return view.project(corners, curl.height(corners[:, 0], corners[:, 1]))

    cells = {
        piece.cell: {
            "lab": truth.lab,
            "spectrum": truth.spectrum,
            "shades": truth.shades,
            "kind": piece.kind,
            "height_mm": piece.height_mm,
            "outline_px": view.project(truth.outline_mm, z),
        }
        for piece, _, truth, z in drawn
    }
    patches = {
        p["name"]: {
            "spectrum": page.patch_spectra[p["name"]],
            "reflectance": float(page.patch_spectra[p["name"]] @ _luminance()),
            "lab": lab_of(page.patch_spectra[p["name"]]),
            "corners_px": pixels(p),
            "hidden": page.hidden.get(p["name"], 0.0),
        }
        for p in [*layout["patches"], *layout.get("colours", [])]
    }
    marks = {
        int(m["ident"]): {"corners_px": pixels(m), "hidden": page.hidden[f"mark {m['ident']}"]}
        for m in layout["marks"]
    }
    w, h = scene.sheet.size_mm
    return {
        "cells": cells,
        "patches": patches,
        "marks": marks,
        "cell_corners_px": {c["name"]: pixels(c) for c in layout["cells"]},
        "page_corners_px": pixels({"x_mm": 0, "y_mm": 0, "w_mm": w, "h_mm": h}),
        "camera": scene.camera,
        "light": scene.light,
        "matrix": own_matrix(scene.camera),
    }


def _luminance() -> Array:
    from .spectra import xyz_of

    return np.asarray(xyz_of(np.eye(WAVELENGTHS.size))[:, 1])
