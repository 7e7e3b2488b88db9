"""A pinhole camera with a bent lens looking at a sheet of paper that may curl.

The camera is kept physical (pose, focal length, lens bend, height of the paper) rather than as a
free homography, because then every unknown has a range known beforehand. Four marks along one
edge of the page fix a homography badly; together with those ranges they still fix the page.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2

Array = npt.NDArray[np.float64]

CURL_DEGREES: tuple[tuple[int, int], ...] = tuple(
    (total - j, j) for total in (2, 3, 4) for j in range(total + 1)
)
"""Legendre degrees (along x, along y) of the paper's height; plane terms are the pose itself."""

_NEWTON_STEPS = 8
_HALVES = np.array([[0.1, 0.0], [-0.1, 0.0], [0.0, 0.1], [0.0, -0.1]])
"""Steps either way along both axes, mm, over which a slope is taken."""


@dataclass(frozen=True)
class PageCamera:
    """How page millimetres become photo pixels.

    Attributes
    ----------
    frame_px : (int, int)
        Height and width of the photo in pixels.
    page_mm : (float, float)
        Width and height of the page in mm.
    rotation : ndarray (3, 3)
        From page axes (x right, y down, z into the page) to camera axes.
    position_mm : ndarray (3,)
        The page's centre in camera axes, mm.
    focal : float
        Focal length in half diagonals of the photo.
    centre : ndarray (2,)
        Where the lens axis meets the photo, from the photo's centre, in half diagonals.
    bend : (float, float)
        Radial terms k1 and k2: a point at radius r (half diagonals) of an unbent picture lands at
        r (1 + k1 r^2 + k2 r^4).
    stretch : float
        How much longer the print is along y than along x, as a share (paper feed).
    curl_mm : ndarray (12,)
        Legendre coefficients of the paper's height, mm, in the order of `CURL_DEGREES`.
    """

    frame_px: tuple[int, int]
    page_mm: tuple[float, float]
    rotation: Array
    position_mm: Array
    focal: float
    centre: Array
    bend: tuple[float, float]
    stretch: float
    curl_mm: Array

    @property
    def half_diagonal_px(self) -> float:
        """Half the photo's diagonal in pixels, the unit of the lens terms."""
        return 0.5 * float(np.hypot(*self.frame_px))

    @property
    def frame_centre_px(self) -> Array:
        """(2,) The photo's centre; pixel centres have integer coordinates."""
        height, width = self.frame_px
        return np.array([(width - 1) / 2.0, (height - 1) / 2.0])

    def height_mm(self, points_mm: npt.ArrayLike) -> Array:
        """Height of the paper out of its mean plane, away from the camera positive.

        Parameters
        ----------
        points_mm : (..., 2)
            Page points in mm.

        Returns
        -------
        ndarray (...)
            Height in mm.
        """
        points = np.asarray(points_mm, dtype=float)
        if not self.curl_mm.any():
            return np.zeros(points.shape[:-1])
        return curl_basis(points, self.page_mm) @ self.curl_mm

    def to_pixels(self, points_mm: npt.ArrayLike) -> Array:
        """Where page points are in the photo.

        Parameters
        ----------
        points_mm : (..., 2)
            Page points in mm, origin top left, y down.

        Returns
        -------
        ndarray (..., 2)
            Photo points in pixels, x right and y down; pixel centres at integer coordinates.
        """
        points = np.asarray(points_mm, dtype=float)
        flat = points - 0.5 * np.asarray(self.page_mm)
        flat = flat * np.array([1.0, 1.0 + self.stretch])
        seen = flat @ self.rotation[:, :2].T + self.position_mm
        if self.curl_mm.any():
            seen = seen + self.height_mm(points)[..., None] * self.rotation[:, 2]
        bent = through_lens(seen, self.focal, np.asarray(self.bend))
        return self.frame_centre_px + self.half_diagonal_px * (self.centre + bent)

    def to_page(self, points_px: npt.ArrayLike) -> Array:
        """Which page points are seen at photo points; the inverse of `to_pixels`.

        Parameters
        ----------
        points_px : (..., 2)
            Photo points in pixels, pixel centres at integer coordinates.

        Returns
        -------
        ndarray (..., 2)
            Page points in mm.
        """
        wanted = np.asarray(points_px, dtype=float)
        page = self._flat_page(wanted)
        step = 0.01
        for _ in range(_NEWTON_STEPS):
            here = self.to_pixels(page)
            missed = wanted - here
            right = (self.to_pixels(page + np.array([step, 0.0])) - here) / step
            down = (self.to_pixels(page + np.array([0.0, step])) - here) / step
            area = right[..., 0] * down[..., 1] - right[..., 1] * down[..., 0]
            move = np.stack(
                [
                    (missed[..., 0] * down[..., 1] - missed[..., 1] * down[..., 0]) / area,
                    (right[..., 0] * missed[..., 1] - right[..., 1] * missed[..., 0]) / area,
                ],
                axis=-1,
            )
            page = page + move
            if float(np.max(np.abs(move), initial=0.0)) < 1e-7:
                break
        return page

    def scale(self, points_mm: npt.ArrayLike) -> Array:
        """Local scale: the square root of how many square pixels a square mm fills.

        Parameters
        ----------
        points_mm : (..., 2)
            Page points in mm.

        Returns
        -------
        ndarray (...)
            Pixels per mm.
        """
        jacobian = self.jacobian(points_mm)
        return np.asarray(np.sqrt(np.abs(np.linalg.det(jacobian))))

    def jacobian(self, points_mm: npt.ArrayLike) -> Array:
        """(..., 2, 2) Change of the photo point (rows x, y; px) by the page point (columns; mm)."""
        points = np.asarray(points_mm, dtype=float)[..., None, :]
        # All at once: what a call costs is mostly not its points.
        beyond, before, below, above = np.moveaxis(self.to_pixels(points + _HALVES), -2, 0)
        return np.asarray(np.stack([beyond - before, below - above], axis=-1) / 0.2)

    def tilt_degrees(self) -> float:
        """Angle between the line of sight to the page's middle and the page's normal."""
        sight = self.position_mm / np.linalg.norm(self.position_mm)
        return float(np.degrees(np.arccos(min(1.0, abs(float(sight @ self.rotation[:, 2]))))))

    def _flat_page(self, points_px: Array) -> Array:
        """Page points of a flat page under an unbent lens: near enough to start from."""
        bent = (points_px - self.frame_centre_px) / self.half_diagonal_px - self.centre
        straight = unbend(bent, self.bend) / self.focal
        to_photo = np.column_stack([self.rotation[:, :2], self.position_mm])
        rays = np.concatenate([straight, np.ones_like(straight[..., :1])], axis=-1)
        plane = rays @ np.linalg.inv(to_photo).T
        flat = plane[..., :2] / plane[..., 2:] / np.array([1.0, 1.0 + self.stretch])
        return np.asarray(flat + 0.5 * np.asarray(self.page_mm))


def unbend(bent: npt.ArrayLike, bend: tuple[float, float]) -> Array:
    """Take the lens bend away.

    Parameters
    ----------
    bent : (..., 2)
        Points from the lens axis, in half diagonals.
    bend : (float, float)
        k1 and k2 as in `PageCamera`.

    Returns
    -------
    ndarray (..., 2)
        Points as an unbent lens would show them, in half diagonals.
    """
    points = np.asarray(bent, dtype=float)
    straight = points
    for _ in range(12):
        squared = np.sum(straight * straight, axis=-1, keepdims=True)
        straight = points / np.maximum(1.0 + squared * (bend[0] + squared * bend[1]), 0.3)
    return straight


def through_lens(seen: Array, focal: float | Array, bend: Array) -> Array:
    """Points in camera axes to half diagonals from the lens axis.

    Parameters
    ----------
    seen : (..., 3)
        Points in camera axes, any unit.
    focal : float or (..., 1)
        Focal length in half diagonals.
    bend : (..., 2)
        k1 and k2 as in `PageCamera`.

    Returns
    -------
    ndarray (..., 2)
        Points in half diagonals.
    """
    straight = focal * seen[..., :2] / seen[..., 2:]
    squared = np.sum(straight * straight, axis=-1, keepdims=True)
    return np.asarray(straight * (1.0 + squared * (bend[..., :1] + squared * bend[..., 1:])))


def turn(vector: Array) -> Array:
    """(3, 3) Rotation by a rotation vector (radians times axis)."""
    return np.asarray(cv2.Rodrigues(np.asarray(vector, dtype=float).reshape(3, 1))[0], dtype=float)


def curl_basis(points_mm: Array, page_mm: tuple[float, float]) -> Array:
    """Shapes of curl at page points.

    Parameters
    ----------
    points_mm : (..., 2)
        Page points in mm.
    page_mm : (float, float)
        Width and height of the page.

    Returns
    -------
    ndarray (..., 12)
        Products of Legendre polynomials in the order of `CURL_DEGREES`.
    """
    # Polynomials run away outside the page; the margin around it is not measured anyway.
    along = np.clip(2.0 * points_mm / np.asarray(page_mm) - 1.0, -1.1, 1.1)
    by_x, by_y = _legendre(along[..., 0]), _legendre(along[..., 1])
    return np.stack([by_x[i] * by_y[j] for i, j in CURL_DEGREES], axis=-1)


def _legendre(x: Array) -> list[Array]:
    """Legendre polynomials of degree 0 to 4."""
    s = x * x
    return [
        np.ones_like(x),
        x,
        1.5 * s - 0.5,
        x * (2.5 * s - 1.5),
        s * (4.375 * s - 3.75) + 0.375,
    ]
