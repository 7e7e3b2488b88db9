"""Two yardsticks beside the reader that is tested: a perfect reader of greys, and a hand's work."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from .camera import balanced, own_matrix
from .ink import srgb_decode
from .photograph import Rendered
from .scene import Scene
from .spectra import Array, lab_of_linear
from .stage import scene_development


def perfect_reader_lab(scene: Scene, spectrum: Array) -> Array:
    """CIELAB that a perfect reader of greys gets for a colour in this scene's camera.

    No noise, no flare, exact light field and white (to the camera the perfect diffuser is exactly
    [1, 1, 1]), tone curve undone exactly on greys; what is left is how this camera sees the colour
    in this light, its own matrix and its maker's look. Of raw light no look and no curve is left.

    Parameters
    ----------
    scene
        Gives camera, light, look, curve and exposure.
    spectrum
        Reflectances (..., 81).
    """
    if scene.file_format == "dng":
        raw = balanced(np.asarray(spectrum), scene.camera, scene.light)
        return lab_of_linear(raw @ own_matrix(scene.camera).T)
    how = scene_development(scene.with_(white_error=(1.0, 1.0)))
    raw = balanced(np.asarray(spectrum), scene.camera, scene.light)
    shown = how.show(raw)
    # Greys go through the curve alone, in whichever way it works on colours.
    linear = how.curve.inverse(shown) / how.exposure
    return lab_of_linear(linear, how.to_xyz)


def _mean(linear: NDArray[np.floating], corners_px: Array, shrink: float) -> Array:
    middle = corners_px.mean(axis=0)
    corners = middle + shrink * (corners_px - middle)
    mask = np.zeros(linear.shape[:2], dtype=np.uint8)
    cv2.fillPoly(mask, [np.round(corners).astype(np.int32)], 1)
    return np.asarray(linear[mask > 0].mean(axis=0))


def by_hand_lab(rendered: Rendered, cell: str, reflectance: float | None = None) -> Array:
    """CIELAB by hand: sRGB decode, means of drawn regions, scaled by one mid grey patch.

    Parameters
    ----------
    rendered, cell
        The photo and the name of the cell whose piece is read (the middle of its outline).
    reflectance
        What the hand believes of the grey; by default what the layout says of a plain print. Of the
        patches near 0.2 the one nearest to the piece is taken, unless something lies over it.
    """
    pixels = rendered.upright
    linear = srgb_decode(pixels / (65535 if pixels.dtype == np.uint16 else 255))
    truth, layout = rendered.truth, rendered.scene.sheet.layout
    outline = truth["cells"][cell]["outline_px"]
    here = outline.mean(axis=0)
    open_ = [p for p in layout["patches"] if truth["patches"][p["name"]]["hidden"] < 0.02]
    best = min(abs(p["reflectance"] - 0.2) for p in open_)
    near = [p for p in open_ if abs(p["reflectance"] - 0.2) < best + 0.01]

    def distance(patch: dict[str, float]) -> float:
        middle = truth["patches"][patch["name"]]["corners_px"].mean(axis=0)
        return float(np.linalg.norm(middle - here))

    grey = min(near, key=distance)
    believed = grey["reflectance"] if reflectance is None else reflectance
    seen = _mean(linear, truth["patches"][grey["name"]]["corners_px"], 0.6)
    return lab_of_linear(_mean(linear, outline, 0.6) * believed / seen)
