"""The unknowns of a photo's camera as numbers, and what they put where, with derivatives."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from dyeshade.photo.vision import cv2
from dyeshade.sheet.camera import CURL_DEGREES, Array, PageCamera

# Where each unknown stands among the numbers. Before them the pose: three of rotation, two for
# where the page's middle is shown, and the log of distance over focal length, which is the page's
# size in the photo. So what the photo shows at once stays put while the rest is sought.
TURN, MIDDLE, SIZE = slice(0, 3), slice(3, 5), 5
FOCAL, CENTRE, BEND, STRETCH, GROWTH = 6, slice(7, 9), slice(9, 11), 11, 12
CURL = slice(13, 13 + len(CURL_DEGREES))


@dataclass(frozen=True)
class Points:
    """Page points from the page's middle, mm, as middle of their mark and way from it (n, 2).

    Attributes
    ----------
    middles, from_middle : ndarray (n, 2)
    basis : ndarray (n, 12)
        Shapes of curl there, as `dyeshade.sheet.camera.curl_basis` gives them.
    """

    middles: Array
    from_middle: Array
    basis: Array


@dataclass(frozen=True)
class SeenPoints:
    """Page points as a camera sees them.

    Attributes
    ----------
    numbers : ndarray (25,)
    points : Points
    start : PageCamera
        Rotations count from its own.
    rotation : ndarray (3, 3)
        From page axes to camera axes.
    turned : ndarray (3, 3, 3)
        Derivatives of `rotation` by the numbers of rotation, which come first.
    paper, seen : ndarray (n, 3)
        The points on the page and in camera axes, mm.
    straight : ndarray (n, 2)
        As an unbent lens shows them, half diagonals.
    shown : ndarray (n, 2)
        In the photo, pixels.
    """

    numbers: Array
    points: Points
    start: PageCamera
    rotation: Array
    turned: Array
    paper: Array
    seen: Array
    straight: Array
    shown: Array

    def slopes(self) -> Array:
        """Derivatives of `shown` by all numbers, (n, 2, 25)."""
        numbers, rotation = self.numbers, self.rotation
        nearness = float(np.exp(numbers[SIZE]))
        flat = self.points.middles[:, 1] + (1.0 + numbers[GROWTH]) * self.points.from_middle[:, 1]
        moved = np.zeros((len(self.seen), 3, len(numbers)))
        moved[:, :, TURN] = np.einsum("kij,nj->nik", self.turned, self.paper)
        # The page's middle stands at `nearness` times (what is shown less the lens's middle, focal
        # length).
        moved[:, [0, 1], [3, 4]] = nearness
        moved[:, [0, 1], [7, 8]] = -nearness
        moved[:, :, SIZE] = self.seen - self.paper @ rotation.T
        moved[:, 2, FOCAL] = nearness * np.exp(numbers[FOCAL])
        moved[:, :, STRETCH] = flat[:, None] * rotation[:, 1]
        longer = self.points.from_middle * [1.0, 1.0 + numbers[STRETCH]]
        moved[:, :, GROWTH] = longer @ rotation[:, :2].T
        moved[:, :, CURL] = rotation[:, 2, None] * self.points.basis[:, None, :]
        focal = float(np.exp(numbers[FOCAL]))
        depth = self.seen[:, 2, None, None]
        u = self.straight
        ray = (self.seen[:, :2] / self.seen[:, 2:])[..., None]
        by_lens = (focal / depth) * (moved[:, :2] - ray * moved[:, 2:])
        by_lens[..., FOCAL] += u
        k1, k2 = numbers[BEND]
        squared = (u * u).sum(axis=1)
        scale, growing = 1.0 + squared * (k1 + squared * k2), 2.0 * (k1 + 2.0 * k2 * squared)
        along = np.einsum("ni,nim->nm", u, by_lens)
        found = scale[:, None, None] * by_lens
        found += u[..., None] * (growing[:, None] * along)[:, None]
        found[..., BEND] += u[..., None] * np.stack([squared, squared**2], axis=-1)[:, None]
        found[:, [0, 1], [7, 8]] += 1.0
        return np.asarray(self.start.half_diagonal_px * found)


def seen_by(numbers: Array, points: Points, start: PageCamera) -> SeenPoints:
    """Page points as the camera sees them that numbers (25,) stand for."""
    nearness, focal = float(np.exp(numbers[SIZE])), float(np.exp(numbers[FOCAL]))
    position = nearness * np.array([*(numbers[MIDDLE] - numbers[CENTRE]), focal])
    turned, by_turn = cv2.Rodrigues(np.array(numbers[TURN], dtype=float).reshape(3, 1))
    rotation = start.rotation @ turned
    paper = np.empty((len(points.middles), 3))
    paper[:, :2] = points.middles + (1.0 + numbers[GROWTH]) * points.from_middle
    paper[:, 1] *= 1.0 + numbers[STRETCH]
    paper[:, 2] = points.basis @ numbers[CURL]
    seen = paper @ rotation.T + position
    straight = focal * seen[:, :2] / seen[:, 2:]
    squared = (straight * straight).sum(axis=1, keepdims=True)
    k1, k2 = numbers[BEND]
    bent = straight * (1.0 + squared * (k1 + squared * k2))
    shown = start.frame_centre_px + start.half_diagonal_px * (numbers[CENTRE] + bent)
    by_turn = start.rotation @ by_turn.reshape(3, 3, 3)
    return SeenPoints(
        numbers, points, start, rotation, by_turn, paper, seen, straight, np.asarray(shown)
    )
