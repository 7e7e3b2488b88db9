"""From light on the sensor to coded pixels: blur, flare, noise, development, sharpening."""

from __future__ import annotations

from typing import TYPE_CHECKING

import cv2
import numpy as np
from numpy.typing import NDArray

from .camera import Development, white_sums
from .ink import srgb_encode
from .texture import Field

if TYPE_CHECKING:
    from .scene import Scene

_ENCODE = srgb_encode(np.linspace(0, 1, 65536)).astype(np.float32)


def flared(light: Field, share: float, paper: float = 0.88) -> Field:
    """Light with veiling glare: mostly the same everywhere, a part from what lies around."""
    if share <= 0:
        return light
    h, w = light.shape[:2]
    small = cv2.resize(light, (max(w // 32, 8), max(h // 32, 8)), interpolation=cv2.INTER_AREA)
    around = cv2.GaussianBlur(small, (0, 0), small.shape[1] / 8, borderType=cv2.BORDER_REFLECT)
    veil = 0.75 * small.mean(axis=(0, 1)) + 0.25 * around
    # Scaled so that `share` is the glare as a share of white paper's light.
    veil = veil * (share * paper / max(float(small[..., 1].mean()), 1e-6))
    veil = cv2.resize(veil.astype(np.float32), (w, h), interpolation=cv2.INTER_LINEAR)
    return light * np.float32(1 - share) + veil


def exposed(light: Field, scene: Scene) -> Field:
    """Raw values with shot and read noise, clipped where the sensor is full; balanced."""
    rng = np.random.default_rng([scene.seed, 71])
    blurred = light
    if scene.blur_px > 0:
        blurred = cv2.GaussianBlur(light, (0, 0), scene.blur_px)
    gains = white_sums(scene.camera, scene.light)
    gains = gains[1] / gains
    # The sensor is full a third of a stop above the curve's white; makers cut all channels there.
    # Of raw light nothing is cut here: each channel is full where its sites are.
    as_raw = scene.file_format == "dng"
    top = np.float32(np.inf if as_raw else 1.25 / scene.exposure)
    out = np.empty_like(blurred)
    for c in range(3):
        signal = blurred[..., c]
        # `noise` is the relative noise at white of a channel with gain 1; shot noise grows as the
        # root of the signal, read noise is a tenth of that.
        relative = np.float32(scene.noise * np.sqrt(gains[c]))
        spread = relative * np.sqrt(np.maximum(signal, 0) + np.float32(0.01))
        grain = rng.standard_normal(signal.shape, dtype=np.float32)
        # Interpolating the mosaic makes noise of neighbours alike.
        grain = cv2.blur(grain, (2, 2)) * np.float32(1.6)
        out[..., c] = np.minimum(signal + spread * grain, top)
    if scene.denoise > 0 and not as_raw:
        grey = out.mean(axis=2, keepdims=True)
        soft = cv2.GaussianBlur(out - grey, (0, 0), 1.6)
        out += np.float32(scene.denoise) * (soft - (out - grey))
    return out


def coded(raw: Field, how: Development, scene: Scene) -> NDArray[np.float32]:
    """Coded values 0..1 (h, w, 3) in the file's primaries, with sharpening halos."""
    shown = how.show(raw)
    index = np.clip(shown * 65535 + 0.5, 0, 65535).astype(np.uint16)
    value = _ENCODE[index]
    if scene.sharpen > 0:
        luma = value @ np.array([0.3, 0.59, 0.11], dtype=np.float32)
        halo = luma - cv2.GaussianBlur(luma, (0, 0), 1.4)
        value = np.clip(value + np.float32(scene.sharpen) * halo[..., None], 0, 1)
    return np.asarray(value, dtype=np.float32)
