"""Light over the sheet: a window as an area source, a soft reflected part, shadows.

The window is a bright rectangle at some distance and height; what it gives to a point on the sheet
(or above it) is the sum over its points of cos(at the window) cos(at the sheet) / distance squared.
To this comes light from walls and ceiling, nearly the same everywhere. Nothing is a polynomial.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .spectra import Array


@dataclass(frozen=True)
class LightField:
    """Light at every place.

    Attributes
    ----------
    centre_mm, half_mm, normal
        The window: its middle (3,), two half edge vectors (2, 3), and its unit normal (3,), in mm;
        z is up from the sheet.
    ambient
        Share of the reflected light at the sheet's middle, 0..1.
    ambient_slope
        Relative change of the reflected light per mm in x and y (2,).
    scale
        Factor that brings the brightest place of the sheet to 1.
    """

    centre_mm: Array
    half_mm: Array
    normal: Array
    ambient: float
    ambient_slope: Array
    middle_mm: Array
    direct_at_middle: float
    scale: float = 1.0

    def direct(self, x: Array, y: Array, z: Array | float = 0.0) -> Array:
        """Light of the window alone at places in mm, any shape."""
        x, y = np.broadcast_arrays(np.asarray(x, dtype=float), np.asarray(y, dtype=float))
        total = np.zeros(x.shape)
        steps = np.array([-0.8, -0.4, 0.0, 0.4, 0.8])
        for s in steps:
            for t in steps:
                point = self.centre_mm + s * self.half_mm[0] + t * self.half_mm[1]
                dx, dy, dz = point[0] - x, point[1] - y, point[2] - z
                r2 = dx**2 + dy**2 + dz**2
                at_window = -(dx * self.normal[0] + dy * self.normal[1] + dz * self.normal[2])
                total += np.clip(dz, 0, None) * np.clip(at_window, 0, None) / r2**2
        return total / steps.size**2

    def parts(self, x: Array, y: Array, z: Array | float = 0.0) -> tuple[Array, Array]:
        """Window light and reflected light at places in mm; their sum is at most 1 on the sheet."""
        window = (1 - self.ambient) * self.direct(x, y, z) / self.direct_at_middle
        slope = self.ambient_slope
        dx, dy = np.asarray(x) - self.middle_mm[0], np.asarray(y) - self.middle_mm[1]
        # A soft bend, as of a nearby wall: it saturates rather than growing linearly.
        reflected = self.ambient * np.exp(0.6 * np.tanh((dx * slope[0] + dy * slope[1]) / 0.6))
        return self.scale * window, self.scale * reflected

    @property
    def towards_light(self) -> Array:
        """Unit vector from the sheet's middle to the window's middle, (3,)."""
        v = self.centre_mm - np.array([*self.middle_mm, 0.0])
        return np.asarray(v / np.linalg.norm(v))


def make_light_field(
    size_mm: tuple[float, float], factor: float, azimuth_deg: float, elevation_deg: float, seed: int
) -> LightField:
    """A field whose brightest place on the sheet is ``factor`` times its darkest.

    Raises
    ------
    ValueError
        When ``factor`` is below 1 or above 4.
    """
    if not 1.0 <= factor <= 4.0:
        raise ValueError("factor must be 1 to 4")
    rng = np.random.default_rng([seed, 11])
    middle = np.array(size_mm) / 2
    azimuth, elevation = np.radians([azimuth_deg, elevation_deg])
    to = np.array(
        [
            np.cos(azimuth) * np.cos(elevation),
            np.sin(azimuth) * np.cos(elevation),
            np.sin(elevation),
        ]
    )
    across = np.array([-np.sin(azimuth), np.cos(azimuth), 0.0])
    up = np.cross(to, across)
    gx, gy = np.meshgrid(np.linspace(0, size_mm[0], 13), np.linspace(0, size_mm[1], 17))
    slope = rng.normal(0.0, 0.0008, size=2) * min(factor - 1, 0.5)
    half_sizes = rng.uniform(0.2, 0.5, size=(2, 1))
    ambient = float(rng.uniform(0.15, 0.45))

    def field(distance: float, ambient: float, scale: float = 1.0) -> LightField:
        half = np.stack([across, up]) * half_sizes * distance
        centre = np.array([*middle, 0.0]) + distance * to
        made = LightField(centre, half, -to, ambient, slope, middle, 1.0)
        at_middle = float(made.direct(middle[0], middle[1]))
        return LightField(centre, half, -to, ambient, slope, middle, at_middle, scale)

    def reached(distance: float) -> tuple[float, float]:
        window, reflected = field(distance, ambient).parts(gx, gy)
        total = window + reflected
        return float(total.max() / total.min()), float(total.max())

    near, far = 350.0, 20000.0
    for _ in range(30):
        distance = np.sqrt(near * far)
        if reached(distance)[0] > factor:
            near = distance
        else:
            far = distance
    return field(far, ambient, 1.0 / reached(far)[1])


def shadow_map(
    x: Array, y: Array, depth: float, edge_mm: float, angle_deg: float, offset_mm: float, seed: int
) -> Array:
    """Factor on the window's light (same shape as ``x``): a soft shadow with a wavy edge.

    ``depth`` 0 is no shadow; the edge lies ``offset_mm`` from the sheet's middle (x, y are taken
    from there) across the direction ``angle_deg`` and is about ``edge_mm`` wide.
    """
    if depth <= 0:
        return np.ones(np.shape(x))
    rng = np.random.default_rng([seed, 12])
    c, s = np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))
    along, across = -s * x + c * y, c * x + s * y
    wave = rng.uniform(4, 15) * np.sin(along / rng.uniform(25, 60) + rng.uniform(0, 6))
    inside = 1 / (1 + np.exp(-(across + wave - offset_mm) * 4 / max(edge_mm, 1.0)))
    return np.asarray(1 - depth * inside)
