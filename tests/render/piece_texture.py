"""From a piece in its cell to a finished texture and its truth."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np

from .cloth import MAKERS
from .pieces import Piece
from .sheet import box_corners
from .spectra import Array, lab_of
from .texture import CARDS, Field, Place, Texture, hairs, smooth

TRIM_MM = 3.0


@dataclass(frozen=True, eq=False)
class PieceTruth:
    """The truth of one piece.

    Attributes
    ----------
    spectrum, lab
        Mean linear reflectance (81,) over the visible cloth at least 3 mm from the piece's edge,
        with the shadow between strands, without card or paper; its CIELAB (D65, 2 degrees).
    shades
        For a piece of two colours: (lab, spectrum, share) of each; else one entry.
    outline_mm
        (n, 2) outline of the cloth on the page, at the piece's own height.
    """

    spectrum: Array
    lab: Array
    shades: tuple[tuple[Array, Array, float], ...]
    outline_mm: Array


def _place(piece: Piece, cell: dict[str, float], px_per_mm: float, towards: Array) -> Place:
    corners = box_corners(cell)
    margin = 6.0
    low, high = corners.min(axis=0) - margin, corners.max(axis=0) + margin
    count = np.ceil((high - low) * px_per_mm).astype(int)
    x = low[0] + (np.arange(count[0]) + 0.5) / px_per_mm
    y = low[1] + (np.arange(count[1]) + 0.5) / px_per_mm
    middle = corners.mean(axis=0) + np.array(piece.offset_mm)
    gx, gy = np.meshgrid(x - middle[0], y - middle[1])
    angle = np.radians(piece.angle_deg)
    half = (cell["w_mm"] / 2 * piece.size[0], cell["h_mm"] / 2 * piece.size[1])
    if piece.kind == "cloth_behind":
        half = (cell["w_mm"], cell["h_mm"])
    c, s = np.cos(angle), np.sin(angle)
    light = np.array(
        [c * towards[0] + s * towards[1], -s * towards[0] + c * towards[1], towards[2]]
    )
    return Place(
        (float(x[0]), float(y[0])),
        px_per_mm,
        (c * gx + s * gy).astype(np.float32),
        (-s * gx + c * gy).astype(np.float32),
        half,
        light,
    )


def _card(piece: Piece, place: Place) -> Field:
    if piece.kind != "skein" or not piece.card:
        return np.zeros_like(place.u)
    wide, tall = place.half[0] + 2.0, place.half[1] - 0.4
    return smooth(np.minimum(wide - np.abs(place.u), tall - np.abs(place.v)), 0.08)


def make_texture(
    piece: Piece, cell: dict[str, float], px_per_mm: float, towards: Array
) -> tuple[Texture, PieceTruth]:
    """Draw a piece in its cell (a box of the layout), lit from ``towards`` (3,)."""
    place = _place(piece, cell, px_per_mm, towards)
    weave = MAKERS[piece.kind](piece, place)
    cloth = weave.cloth
    solid = cloth
    if piece.kind in ("skein", "felt", "hank"):
        cloth = np.maximum(cloth, hairs(place, cloth, int(sum(place.half) * 2.5), piece.seed))
    if piece.kind == "cloth_behind":
        solid = cloth = _window(cell, place)
    card = _card(piece, place) * (1 - cloth)
    # The card between strands lies in shadow.
    card_light = np.where(np.abs(place.u) < place.half[0], 0.6, 0.95).astype(np.float32)
    own = [piece.spectrum, piece.spectrum**2, np.ones_like(piece.spectrum)]
    first, second = 1 - weave.which, weave.which
    layers = [weave.base * first, weave.deep * first, weave.sheen]
    if piece.second is not None:
        own += [piece.second, piece.second**2]
        layers += [weave.base * second, weave.deep * second]
    weights = np.stack([layer * cloth for layer in layers] + [card * card_light], axis=-1)
    spectra = np.array([*own, CARDS[piece.card or "white"]])
    texture = Texture(place, weights, cloth + card, cloth, weave.which, spectra)
    return texture, _truth(texture, solid, len(own))


def _window(cell: dict[str, float], place: Place) -> Field:
    corners = box_corners(cell)
    h, w = place.u.shape
    x = place.origin_mm[0] + np.arange(w, dtype=np.float32) / place.px_per_mm
    y = place.origin_mm[1] + np.arange(h, dtype=np.float32) / place.px_per_mm
    in_x = np.minimum(x - corners[0, 0], corners[1, 0] - x)
    in_y = np.minimum(y - corners[0, 1], corners[2, 1] - y)
    return smooth(np.minimum(in_x[None, :], in_y[:, None]), 0.06)


def _truth(texture: Texture, solid: Field, own: int) -> PieceTruth:
    scale = texture.place.px_per_mm
    # Small gaps within the cloth don't count as its edge.
    size = 2 * int(1.5 * scale) + 1
    filled = cv2.morphologyEx(
        (solid > 0.5).astype(np.uint8), cv2.MORPH_CLOSE, np.ones((size, size), np.uint8)
    )
    contours, _ = cv2.findContours(filled, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    border = np.pad(filled, 1)
    inside = cv2.distanceTransform(border, cv2.DIST_L2, 5)[1:-1, 1:-1] / scale > TRIM_MM
    weight = np.where(inside, solid, 0).astype(float)

    def mean(chosen: Array) -> Array:
        sums = np.einsum("hw,hwk->k", chosen / np.maximum(texture.cloth, 1e-6), texture.weights)
        return np.asarray(sums[:own] @ texture.spectra[:own] / chosen.sum())

    whole = mean(weight)
    shades = []
    for chosen in (weight * (texture.which <= 0.1), weight * (texture.which >= 0.9)):
        share = float(chosen.sum() / weight.sum())
        if share > 0.02:
            spectrum = mean(chosen)
            shades.append((lab_of(spectrum), spectrum, share))
    outline = max(contours, key=cv2.contourArea)[:, 0, :].astype(float)
    outline = cv2.approxPolyDP(outline.astype(np.float32), 0.3 * scale, True)[:, 0, :]
    return PieceTruth(
        whole, lab_of(whole), tuple(shades), outline / scale + np.array(texture.place.origin_mm)
    )
