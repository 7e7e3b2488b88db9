"""The light across the sheet: smooth, uneven, told by bare paper and greys.

Log light is a polynomial of third order over the page plus a smooth remainder, a Gaussian process
whose size the greys themselves tell. Both are written as features of the place, so that light, tone
curve and white are solved together as one small linear problem.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_LENGTH = 0.55
"""Length over which the remainder changes, in half page heights: shadows of a hand or frame."""


@dataclass(frozen=True)
class LightField:
    """Features of a place on the page.

    Attributes
    ----------
    centre_mm, half_mm : tuple of float
        Middle of the page, and the half height by which places are scaled, in mm.
    centres : ndarray, shape (k, 2)
        Where the remainder's features sit, in scaled places.
    root : ndarray, shape (k, k)
        Whitens the features, so that each weight has the same prior.
    """

    centre_mm: tuple[float, float]
    half_mm: float
    centres: Array
    root: Array

    def scaled(self, places_mm: Array) -> Array:
        """Places in half page heights from the middle, shape (..., 2)."""
        return np.asarray((np.asarray(places_mm, float) - self.centre_mm) / self.half_mm)

    @property
    def size(self) -> int:
        """How many weights the field has."""
        return 9 + int(self.root.shape[1])

    def features(self, places_mm: Array) -> Array:
        """Features, shape (..., size): nine of the polynomial, then those of the remainder."""
        place = self.scaled(places_mm)
        x, y = place[..., 0], place[..., 1]
        poly = [x, y, x * x, x * y, y * y, x**3, x * x * y, x * y * y, y**3]
        gaps = ((place[..., None, :] - self.centres) ** 2).sum(axis=-1)
        remainder = np.exp(-0.5 * gaps / _LENGTH**2) @ self.root
        return np.concatenate([np.stack(poly, axis=-1), remainder], axis=-1)

    def prior_spread(self, remainder: float) -> Array:
        """Spread of each weight before any grey is seen, shape (size,).

        Parameters
        ----------
        remainder : float
            Spread of the remainder in log light.
        """
        poly = [0.2, 0.2, 0.1, 0.1, 0.1, 0.05, 0.05, 0.05, 0.05]
        return np.concatenate([poly, np.full(self.root.shape[1], remainder)])


def field_for_page(page_mm: tuple[float, float]) -> LightField:
    """The field's features for a page of the given width and height in mm."""
    width, height = page_mm
    half = height / 2
    across = np.linspace(-1.1, 1.1, 5) * width / height
    down = np.linspace(-1.1, 1.1, 6)
    centres = np.stack(np.meshgrid(across, down), axis=-1).reshape(-1, 2)
    gaps = ((centres[:, None] - centres[None]) ** 2).sum(axis=-1)
    kernel = np.exp(-0.5 * gaps / _LENGTH**2)
    values, vectors = np.linalg.eigh(kernel + 1e-6 * np.eye(len(centres)))
    keep = values > 1e-3 * values[-1]
    root = vectors[:, keep] / np.sqrt(values[keep])
    return LightField((width / 2, height / 2), half, centres, root)
