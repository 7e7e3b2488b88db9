"""Where the camera stands: a tilted pinhole camera with lens bend over a sheet that may be curled.

Page coordinates are millimetres from the page's top left, x right, y down, z up from the table.
Image coordinates are pixels of the upright photo; the middle of the top left pixel is (0, 0).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .spectra import Array

_STEP = 8


@dataclass(frozen=True)
class Curl:
    """Height of the paper above the table: corners that lift and a bend, all smooth.

    ``corners`` (4,) mm, from top left clockwise; ``bend`` mm in the middle.
    """

    size_mm: tuple[float, float]
    corners: Array
    bend: float

    def height(self, x: Array, y: Array) -> Array:
        """Height in mm at places (same shape)."""
        w, h = self.size_mm
        z = np.zeros(np.broadcast(x, y).shape)
        if self.bend:
            inside = np.clip(np.asarray(x) / w, 0, 1)
            z = z + self.bend * np.sin(np.pi * inside) ** 2
        for lift, (cx, cy) in zip(self.corners, [(0, 0), (w, 0), (w, h), (0, h)], strict=True):
            if lift:
                d2 = ((x - cx) / (0.45 * w)) ** 2 + ((y - cy) / (0.35 * h)) ** 2
                z = z + lift * np.exp(-2.2 * d2)
        return z

    @property
    def flat(self) -> bool:
        """Whether the paper lies flat."""
        return not (self.bend or np.any(self.corners))


@dataclass(frozen=True)
class Viewpoint:
    """A camera.

    Attributes
    ----------
    rotation
        (3, 3) from (x, y, -z) to camera axes (right, down, forward).
    position
        (3,) of the camera as (x, y, -z) in mm.
    focal_px
        Focal length in pixels.
    k1, k2
        Radial lens bend in units of the focal length: r (1 + k1 r^2 + k2 r^4).
    size_px
        Width and height of the photo.
    """

    rotation: Array
    position: Array
    focal_px: float
    k1: float
    k2: float
    size_px: tuple[int, int]

    def project(self, points_mm: Array, z_mm: Array | float = 0.0) -> Array:
        """Pixels (n, 2) of places (n, 2) in mm at heights ``z_mm``."""
        points = np.asarray(points_mm, dtype=float)
        z = np.broadcast_to(np.asarray(z_mm, dtype=float), points.shape[:1])
        seen = (np.column_stack([points, -z]) - self.position) @ self.rotation.T
        flat = seen[:, :2] / seen[:, 2:]
        r2 = np.sum(flat**2, axis=1, keepdims=True)
        flat = flat * (1 + self.k1 * r2 + self.k2 * r2**2)
        middle = (np.array(self.size_px) - 1) / 2
        return np.asarray(self.focal_px * flat + middle)

    def _rays(self, u: Array, v: Array) -> Array:
        """Directions (..., 3) in (x, y, -z) of pixels."""
        bent_x = (u - (self.size_px[0] - 1) / 2) / self.focal_px
        bent_y = (v - (self.size_px[1] - 1) / 2) / self.focal_px
        x, y = bent_x, bent_y
        for _ in range(8):
            r2 = x * x + y * y
            f = 1 + self.k1 * r2 + self.k2 * r2 * r2
            x, y = bent_x / f, bent_y / f
        return np.stack([x, y, np.ones_like(x)], axis=-1) @ self.rotation

    def places(
        self, box: tuple[int, int, int, int], z_mm: float = 0.0, curl: Curl | None = None
    ) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
        """Page places (x, y) in mm seen by the pixels of a box (left, top, right, bottom).

        Seen on the plane at ``z_mm``, or on the curled paper. The mapping is smooth, so it is
        worked on every 8th pixel and filled in linearly (error below 0.001 px).
        """
        left, top, right, bottom = box
        us = np.arange(left, right + _STEP, _STEP, dtype=float)
        vs = np.arange(top, bottom + _STEP, _STEP, dtype=float)
        rays = self._rays(*np.meshgrid(us, vs))
        z: Array | float = z_mm
        for _ in range(6 if curl is not None and not curl.flat else 1):
            t = (-z - self.position[2]) / rays[..., 2]
            x = self.position[0] + t * rays[..., 0]
            y = self.position[1] + t * rays[..., 1]
            if curl is not None:
                z = z_mm + curl.height(x, y)
        return _fill(x, right - left, bottom - top), _fill(y, right - left, bottom - top)


def _fill(coarse: Array, width: int, height: int) -> NDArray[np.float32]:
    def parts(count: int, cells: int) -> tuple[NDArray[np.intp], Array]:
        where = np.arange(count) / _STEP
        below = np.minimum(where.astype(np.intp), cells - 2)
        return below, where - below

    i, t = parts(height, coarse.shape[0])
    rows = coarse[i] * (1 - t)[:, None] + coarse[i + 1] * t[:, None]
    j, s = parts(width, coarse.shape[1])
    rows = rows.astype(np.float32)
    s = s.astype(np.float32)
    return np.asarray(rows[:, j] * (1 - s) + rows[:, j + 1] * s)


def _turned(axis: Array, angle: float) -> Array:
    x, y, z = axis
    k = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    return np.asarray(np.eye(3) + np.sin(angle) * k + (1 - np.cos(angle)) * k @ k)


def make_viewpoint(
    page_mm: tuple[float, float],
    size_px: tuple[int, int],
    tilt_deg: float,
    tilt_towards_deg: float,
    turn_deg: float,
    distance_mm: float,
    fill: float,
    k1: float,
    aim_mm: tuple[float, float] = (0.0, 0.0),
) -> Viewpoint:
    """A camera aimed at the page's middle (plus ``aim_mm``), zoomed until the page fills ``fill``.

    ``tilt_deg`` is the angle between the line of sight and the upright; ``turn_deg`` turns the page
    in the photo clockwise.
    """
    phi, theta, turn = np.radians([tilt_towards_deg, tilt_deg, turn_deg])
    tilt = _turned(np.array([np.cos(phi), np.sin(phi), 0.0]), theta)
    rotation = _turned(np.array([0.0, 0.0, 1.0]), turn) @ tilt
    aim = np.array([page_mm[0] / 2 + aim_mm[0], page_mm[1] / 2 + aim_mm[1], 0.0])
    position = aim - distance_mm * rotation[2]
    unit = Viewpoint(rotation, position, 1.0, 0.0, 0.0, (1, 1))
    w, h = page_mm
    corners = unit.project(np.array([[0, 0], [w, 0], [w, h], [0, h]], dtype=float))
    extent = np.abs(corners).max(axis=0)
    focal = fill * float(np.min(np.array(size_px) / 2 / extent))
    r2 = float(np.max(np.sum(corners**2, axis=1)))
    focal /= max(1.0, 1 + k1 * r2)
    return Viewpoint(rotation, position, focal, k1, -0.3 * k1, size_px)
