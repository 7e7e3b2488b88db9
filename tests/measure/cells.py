"""Straightened cells with known truth, drawn without anything that the reader of cloth assumes.

Each cell is drawn at twice to four times its resolution as layers (paper with its shadows, what
lies behind the strands, cloth, gloss), and only then seen: blurred, sharpened, reduced, wrongly
lit, noisy and squeezed as a JPEG. The truth is taken from the cloth layer alone, before all that.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from dyeshade.photo.vision import cv2
from tests.measure.cell_recipes import BACKINGS, Recipe

Array = NDArray[np.float64]
Picture = NDArray[np.float32]

TRIM_MM = 3.0


@dataclass(frozen=True)
class Cell:
    """A cell as the reader gets it, and its truth.

    `truth` is the mean (3,) of the cloth at least 3 mm from its edge, shadow between strands kept,
    None for an empty cell; `coverage` (h, w) the share of each pixel that is cloth; `parts` the
    means of the two colours.
    """

    recipe: Recipe
    relative: Picture
    clipped: NDArray[np.bool_]
    truth: Array | None
    coverage: Picture
    parts: tuple[Array, ...] = field(default=())


def _cloud(rng: np.random.Generator, shape: tuple[int, int], grain_px: float) -> Picture:
    """Smooth noise of mean 0 and spread 1."""
    step = max(1, int(grain_px / 2))
    small = (shape[0] // step + 3, shape[1] // step + 3)
    noise = cv2.GaussianBlur(rng.normal(size=small).astype(np.float32), (0, 0), grain_px / step / 2)
    large = cv2.resize(noise, (small[1] * step, small[0] * step), interpolation=cv2.INTER_CUBIC)
    large = large[: shape[0], : shape[1]]
    return np.asarray((large - large.mean()) / max(float(large.std()), 1e-6), dtype=np.float32)


def _softened(picture: Picture, sigma_px: float) -> Picture:
    """Blurred; widely on a smaller copy, which takes a fraction of the time."""
    step = max(1, int(sigma_px / 5))
    if step == 1:
        return np.asarray(cv2.GaussianBlur(picture, (0, 0), sigma_px))
    size = picture.shape[1], picture.shape[0]
    small = cv2.resize(picture, (size[0] // step, size[1] // step), interpolation=cv2.INTER_AREA)
    across, down = (
        sigma_px * few / many for few, many in zip(small.shape[1::-1], size, strict=True)
    )
    blurred = cv2.GaussianBlur(small, (0, 0), across, sigmaY=down)
    return np.asarray(cv2.resize(blurred, size, interpolation=cv2.INTER_CUBIC))


def _ramp(distance_px: Picture, width_px: float = 1.0) -> Picture:
    return np.asarray(np.clip(0.5 + distance_px / width_px, 0, 1), dtype=np.float32)


def _threads(
    rng: np.random.Generator, u: Picture, v: Picture, r: Recipe, scale: float
) -> tuple[Picture, Picture]:
    """Light on the cloth (about 1 on the crowns) and how far a place is covered by it."""
    shape = u.shape
    one = np.ones(shape, np.float32)
    if r.kind == "felt":
        fibre = _cloud(rng, shape, 0.25 * scale) + 0.7 * _cloud(rng, shape, 0.8 * scale)
        light = 0.85 + 0.06 * r.texture * fibre + 0.02 * _cloud(rng, shape, 6 * scale)
        return np.clip(light, 0.3, 1.3), one
    wander = 0.15 * r.strand_mm
    u = u + wander * _cloud(rng, shape, 7 * scale)
    v = v + wander * _cloud(rng, shape, 7 * scale)
    if r.kind == "skein":
        phase = u / r.strand_mm
        across = 2 * np.abs(phase - np.floor(phase) - 0.5)
        fill = 1 - r.gaps * np.clip(1 + 0.8 * _cloud(rng, shape, 9 * scale), 0, 2.5)
        round_ = np.sqrt(np.clip(1 - (across / np.maximum(fill, 0.25)) ** 2, 0.02, 1))
        twist = 0.8 + 0.2 * np.cos(2 * np.pi * (v / (2.2 * r.strand_mm) + 0.7 * across))
        light = (1 - r.texture * 0.75 * (1 - round_)) * (1 - r.texture * (1 - twist))
        cover = np.maximum(_ramp((fill - across) * r.strand_mm / 2 * scale, 1.5), fill > 0.97)
    else:
        pitch = 0.55 * r.strand_mm
        x, y = u / pitch, v / pitch
        over = (np.floor(x) + np.floor(y)) % 2
        fx, fy = np.abs(x - np.floor(x) - 0.5), np.abs(y - np.floor(y) - 0.5)
        across, along = np.where(over > 0, fx, fy), np.where(over > 0, fy, fx)
        light = 1 - r.texture * (0.9 * across**2 * 2 + 0.5 * along**2)
        light = light * (1 + 0.05 * r.texture * _cloud(rng, shape, 0.2 * scale))
        hole = (fx > 0.5 - 0.4 * r.gaps) & (fy > 0.5 - 0.4 * r.gaps)
        cover = 1 - cv2.GaussianBlur(hole.astype(np.float32), (0, 0), 0.7)
    light = light * (1 + 0.03 * _cloud(rng, shape, 9 * scale))
    return np.asarray(np.clip(light, 0.03, 1.4), np.float32), np.asarray(cover, np.float32)


def _outline(rng: np.random.Generator, u: Picture, v: Picture, r: Recipe, scale: float) -> Picture:
    """Distance in px to the piece's edge, positive within."""
    if r.kind == "window":
        return np.full(u.shape, 1e3, np.float32)
    half = (r.size_mm[0] / 2 * r.piece[0], r.size_mm[1] / 2 * r.piece[1])
    left, lower = half[0] - np.abs(u), half[1] - np.abs(v)
    if r.kind == "swatch":
        row, column = np.floor(v / 0.9).astype(int) % 512, np.floor(u / 0.9).astype(int) % 512
        fray = rng.exponential(0.35, 512).astype(np.float32)
        left, lower = left - fray[row], lower - fray[column]
    else:
        left = left + 0.25 * _cloud(rng, u.shape, 1.2 * scale)
    return np.asarray(np.minimum(left, lower) * scale, dtype=np.float32)


def _yarn_ends(rng: np.random.Generator, alpha: Picture, r: Recipe, scale: float) -> Picture:
    canvas = np.zeros(alpha.shape, np.uint8)
    rows, columns = np.nonzero(cv2.morphologyEx((alpha > 0.5).astype(np.uint8), 4, np.ones((3, 3))))
    for _ in range(r.ends if len(rows) else 0):
        start = rng.integers(len(rows))
        angle, steps = rng.uniform(0, 2 * np.pi), np.arange(12)
        bend = angle + rng.normal(0, 0.25, 12).cumsum()
        x = columns[start] + (np.cos(bend) * 1.6 * scale * (steps > 0)).cumsum()
        y = rows[start] + (np.sin(bend) * 1.6 * scale * (steps > 0)).cumsum()
        line = np.round(np.stack([x, y], axis=-1)).astype(np.int32)
        width = max(1, round(min(r.strand_mm, 1.6) * 0.7 * scale))
        cv2.polylines(canvas, [line], False, 255, width, cv2.LINE_AA)
    return canvas.astype(np.float32) / 255


def make_cell(r: Recipe) -> Cell:
    """Draw a recipe."""
    rng = np.random.default_rng([r.seed, 3])
    over = 4 if r.px_per_mm < 5 else 2
    scale = r.px_per_mm * over
    w, h = (round(side * r.px_per_mm) * over for side in r.size_mm)
    x = (np.arange(w, dtype=np.float32) + 0.5) / scale - r.size_mm[0] / 2 - r.offset_mm[0]
    y = (np.arange(h, dtype=np.float32) + 0.5) / scale - r.size_mm[1] / 2 - r.offset_mm[1]
    x, y = np.meshgrid(x, y)
    c, s = np.float32(np.cos(np.radians(r.turn_deg))), np.float32(np.sin(np.radians(r.turn_deg)))
    u, v = c * x + s * y, c * y - s * x
    paper = np.ones((h, w, 3), np.float32)
    paper *= 1 + 0.004 * _cloud(rng, (h, w), 0.4 * scale)[..., None]
    if r.neighbour > 0:
        edge = _ramp(x + r.size_mm[0] / 2 - 7 - 0.1 * y, 11.0)
        edge = edge * edge * (3 - 2 * edge)
        paper *= (1 - r.neighbour * (1 - edge))[..., None] ** np.array([1.05, 1, 0.96], np.float32)
    if r.kind == "empty":
        return _seen(rng, r, over, paper, np.zeros((h, w), np.float32), None, ())
    light, cover = _threads(rng, u, v, r, scale)
    distance = _outline(rng, u, v, r, scale)
    solid = _ramp(distance, 1.5)
    second = _second(rng, r, u, v, scale)
    body = np.array(r.body, np.float32) * (1 - second) + second * np.array(
        r.second or r.body, np.float32
    )
    body = body * np.exp(r.slope * v / r.size_mm[1])[..., None]
    # What is lit by light from neighbouring fibres is deeper in colour.
    cloth = body * light[..., None] + 0.35 * body**2 * (1 - np.clip(light, 0, 1))[..., None]
    alpha = np.maximum(solid * cover, _yarn_ends(rng, solid, r, scale) * (distance < 0))
    inside = np.where(distance > TRIM_MM * scale, alpha, 0)
    if not inside.any():
        inside = np.where(distance > 0.5 * distance.max(), alpha, 0)
    truth = _mean(cloth, inside)
    parts = (
        ()
        if r.second is None
        else tuple(_mean(cloth, inside * (second[..., 0] == k)) for k in (0, 1))
    )
    # The shadow on the paper: moved aside and softer for a higher piece, tinted by the sky.
    soft = (0.5 + 0.5 * r.lift_mm) * scale
    shade = _softened(solid, soft)
    move = np.float32([[1, 0, 0.4 * r.lift_mm * scale], [0, 1, 0.3 * r.lift_mm * scale]])
    shade = cv2.warpAffine(shade, move, (w, h), borderMode=cv2.BORDER_REPLICATE)
    paper *= (1 - r.shadow * shade)[..., None] ** np.array([1.08, 1, 0.94], np.float32)
    # Between strands little light reaches what lies behind.
    behind = paper * (1 - 0.35 * solid)[..., None]
    if r.kind == "skein":
        card = np.array(BACKINGS[r.backing], np.float32) * (1 - 0.45 * solid)[..., None]
        half = (r.size_mm[0] / 2 * r.piece[0] + 1.5, r.size_mm[1] / 2 * r.piece[1] - 0.6)
        on_card = _ramp(np.minimum(half[0] - np.abs(u), half[1] + 2.5 - np.abs(v)) * scale, 1.5)
        if r.backing != "paper":
            behind = card * on_card[..., None] + paper * (1 - on_card[..., None])
    shown = cloth
    if r.gloss > 0:
        glint = np.clip(_cloud(rng, (h, w), 1.2 * scale) - 1.3, 0, 2) * (light > 0.8)
        shown = cloth + r.gloss * glint[..., None]
    focus = 0.02 * r.lift_mm * scale
    if focus > 0.5:
        alpha = _softened(alpha, focus)
        shown = _softened(shown, focus)
    picture = shown * alpha[..., None] + behind * (1 - alpha[..., None])
    return _seen(rng, r, over, picture, alpha, truth, parts)


def _second(rng: np.random.Generator, r: Recipe, u: Picture, v: Picture, scale: float) -> Picture:
    if r.second is None:
        return np.zeros((*u.shape, 1), np.float32)
    if r.stripes:
        place = (u / 15.0) % 1.0
        return (place < r.second_share).astype(np.float32)[..., None]
    limit = r.size_mm[1] / 2 * r.piece[1] * (1 - 2 * r.second_share)
    return _ramp((v + 1.0 * _cloud(rng, u.shape, 5 * scale) - limit), 2.0)[..., None]


def _mean(picture: Picture, weight: Picture) -> Array:
    return np.asarray((picture * weight[..., None]).sum(axis=(0, 1), dtype=np.float64)) / max(
        float(weight.sum(dtype=np.float64)), 1e-9
    )


def _seen(
    rng: np.random.Generator,
    r: Recipe,
    over: int,
    picture: Picture,
    alpha: Picture,
    truth: Array | None,
    parts: tuple[Array, ...],
) -> Cell:
    h, w = picture.shape[0] // over, picture.shape[1] // over
    seen = cv2.GaussianBlur(picture, (0, 0), max(r.blur_px * over, 0.3))
    seen = cv2.resize(seen, (w, h), interpolation=cv2.INTER_AREA)
    seen += r.sharpen * (seen - cv2.GaussianBlur(seen, (0, 0), 1.2))
    # The cut line along the cell's border.
    for line in (seen[:1], seen[-1:], seen[:, :1], seen[:, -1:]):
        line *= np.float32(0.7)
    exposure = 0.78
    grain = rng.normal(size=seen.shape) * r.noise
    seen = seen * exposure + grain * np.sqrt(np.maximum(seen, 0) * exposure + 0.003)
    seen = _squeezed(seen, r.quality)
    clipped = np.asarray((seen > 0.995).any(axis=-1))
    ys, xs = np.mgrid[-1 : 1 : h * 1j, -1 : 1 : w * 1j]
    error = rng.normal(0, r.light_error, (3, 1, 1)) * 0.4 + rng.normal(0, r.light_error)
    error = error + 0.6 * (rng.normal(0, r.light_error) * xs + rng.normal(0, r.light_error) * ys)
    wrong = np.exp(np.moveaxis(error, 0, -1)).astype(np.float32)
    relative = np.asarray(seen / exposure * wrong, dtype=np.float32)
    cover = cv2.resize(alpha, (w, h), interpolation=cv2.INTER_AREA)
    middle = wrong[cover > 0.5].mean(axis=0) if (cover > 0.5).any() else np.ones(3)
    return Cell(
        r,
        relative,
        clipped,
        None if truth is None else truth * middle,
        cover,
        tuple(part * middle for part in parts),
    )


def _squeezed(linear: Picture, quality: int) -> Picture:
    """Through an 8-bit JPEG of sRGB coding and back."""
    x = np.clip(linear, 0, 1)
    coded = np.where(x < 0.0031308, 12.92 * x, 1.055 * x ** (1 / 2.4) - 0.055)
    data = cv2.imencode(".jpg", np.round(coded[..., ::-1] * 255).astype(np.uint8), [1, quality])[1]
    back = cv2.imdecode(data, 1)[..., ::-1] / np.float32(255)
    return np.where(back < 0.04045, back / 12.92, ((back + 0.055) / 1.055) ** 2.4)
