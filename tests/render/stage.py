"""Where everything stands: viewpoint, paper shape and light of a scene, made from its fields."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np

from .camera import Development, balanced, development
from .lighting import LightField, make_light_field, shadow_map
from .scene import Scene
from .spectra import WAVELENGTHS, Array
from .texture import Field
from .viewpoint import Curl, Viewpoint, make_viewpoint


@dataclass(frozen=True, eq=False)
class Stage:
    """Viewpoint, paper shape and light of a scene."""

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
            fine = values.astype(np.float32)
            return np.asarray(
                cv2.remap(fine, maps[0], maps[1], cv2.INTER_CUBIC, borderMode=cv2.BORDER_REFLECT)
            )

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


def make_stage(scene: Scene) -> Stage:
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
    return Stage(scene, view, curl, field)


def scene_development(scene: Scene) -> Development:
    """The camera's way from balanced raw to shown light for a scene."""
    return development(
        scene.camera,
        scene.look,
        scene.curve,
        scene.seed if scene.camera_seed < 0 else scene.camera_seed,
        scene.exposure,
        scene.white_error,
        scene.primaries,
        scene.curve_strength,
    )
