"""Cloth: wound skeins, woven swatches, felt, whole twisted skeins. Each maker returns a `Weave`."""

from __future__ import annotations

import numpy as np

from .pieces import Piece
from .texture import Field, Place, Weave, noise, per_index, smooth


def _strand_light(t: Field, place: Place, along: Field | float = 0.0) -> tuple[Field, Field]:
    """Diffuse light and openness of a round strand at ``t`` (-1..1) across it."""
    h = np.sqrt(np.clip(1 - t * t, 0, 1))
    lu, lv, lz = (float(c) for c in place.light)
    facing = np.clip(t * lu + along * lv + h * lz, 0, None) / max(lz, 0.3)
    # Neighbours hide part of the sky from the flanks.
    opened = 0.18 + 0.82 * h**0.8
    return np.asarray(0.5 * facing * opened**0.5 + 0.5 * opened), np.asarray(opened)


def _dip(place: Place, piece: Piece, index: Field) -> Field:
    if piece.second is None:
        return np.zeros_like(place.u)
    if piece.split == "strands":
        # Whole bands of strands, as when two yarns were wound one after the other.
        limit = place.half[0] * (1 - 2 * piece.share)
        return smooth(index * np.float32(piece.strand_mm) - np.float32(limit), 0.05)
    limit = place.half[1] * (1 - 2 * piece.share)
    wander = 1.2 * noise(place.u, place.v, 6.0, 1e6, piece.seed + 5)
    return smooth(place.v + wander - np.float32(limit), 1.5)


def _strands(
    u: Field, v: Field, piece: Piece, seed: int, pitch: float, place: Place
) -> tuple[Field, Field, Field, Field]:
    """Light, openness, cover and index of parallel strands along v."""
    d = piece.strand_mm
    u = u + 0.22 * d * noise(u, v, 9.0, 16.0, seed) + 0.08 * d * noise(u, v, 3.0, 5.0, seed + 1)
    index = np.floor(u / pitch)
    jitter = per_index(index, -0.10, 0.10, seed)
    width = d * per_index(index, 0.92, 1.06, seed + 2)
    t = (u - (index + 0.5 + jitter) * pitch) / (width / 2)
    t = t + 0.10 * noise(u, v, 0.5, 1.2, seed + 3)
    cover = smooth(1 - np.abs(t), 0.5 / (place.px_per_mm * d / 2))
    inside = np.clip(t, -1, 1)
    # Plies wind round the strand: bright backs, dark grooves, slanted.
    lay = 2.6 * d
    phase = (v / lay + per_index(index, 0, 1, seed + 4)) * 2 + np.arcsin(inside) / np.pi * 1.1
    ply = 2 * (phase - np.floor(phase)) - 1
    groove = np.sqrt(np.clip(1 - 0.92 * ply * ply, 0, 1))
    light, opened = _strand_light(inside, place, along=0.35 * ply)
    fibres = noise(u + 0.45 * v, v - 0.45 * u, 0.16, 1.1, seed + 6)
    light = light * (0.62 + 0.38 * groove) * (1 + 0.085 * fibres)
    return (
        np.asarray(light * per_index(index, 0.96, 1.04, seed + 7)),
        np.asarray(opened * (0.5 + 0.5 * groove)),
        cover,
        np.asarray(index),
    )


def skein(piece: Piece, place: Place) -> Weave:
    """Yarn wound round a card: strands side by side, a second layer seen in the gaps."""
    d, seed = piece.strand_mm, piece.seed
    slant = np.random.default_rng([seed, 51]).normal(0, 0.02)
    u, v = place.u + slant * place.v, place.v
    pitch = d * (0.97 + 0.22 * piece.gaps)
    light, opened, cover, index = _strands(u, v, piece, seed, pitch, place)
    below = noise(u, v, 14.0, 26.0, seed + 20)
    light2, _, cover2, _ = _strands(u + 0.5 * pitch + 0.04 * v, v, piece, seed + 30, pitch, place)
    cover2 = cover2 * smooth(below + np.float32(1.6 - 2.6 * piece.gaps), 0.3)
    # What lies in a gap gets little light.
    light_all = light * cover + (1 - cover) * cover2 * light2 * 0.42
    cloth = cover + (1 - cover) * cover2
    openness = opened * cover + (1 - cover) * cover2 * 0.25
    edge = 0.3 * noise(u, v, 0.5, 0.5, seed + 8)
    side = smooth(place.half[0] - np.abs(place.u) + edge * 0.6, 0.2)
    end = smooth(place.half[1] - np.abs(place.v), 0.1)
    # The strands bend round the card's ends.
    bow = np.sqrt(np.clip(1 - np.clip(1 - (place.half[1] - np.abs(v)) / d, 0, 1) ** 2, 0.05, 1))
    cloth = cloth * side * end
    total = light_all * bow / np.maximum(cover + (1 - cover) * cover2, 1e-3)
    deep = np.clip(0.55 * (1 - openness), 0, 0.6)
    sheen = 0.010 * np.clip(light - 0.9, 0, None) * 4 * cover
    return Weave(total * (1 - deep), total * deep, sheen, cloth, _dip(place, piece, index))


def swatch(piece: Piece, place: Place) -> Weave:
    """Woven cloth, plain or twill by seed, cut with a frayed edge, slightly creased."""
    seed, p = piece.seed, piece.strand_mm
    rng = np.random.default_rng([seed, 52])
    twill = rng.random() < 0.35
    bow = rng.normal(0, 0.8)
    u = (
        place.u
        + 0.35 * noise(place.u, place.v, 22, 22, seed)
        + bow * (place.v / place.half[1]) ** 2
    )
    v = place.v + 0.35 * noise(place.u, place.v, 22, 22, seed + 1)
    iu, iv = np.floor(u / p), np.floor(v / p)
    fu = 2 * (u / p - iu) - 1 + 0.12 * noise(u, v, 0.9, 0.3, seed + 2)
    fv = 2 * (v / p - iv) - 1 + 0.12 * noise(u, v, 0.3, 0.9, seed + 3)
    warp_on_top = np.mod(iu + iv, 4) < 2 if twill else np.mod(iu + iv, 2) < 1
    across = np.clip(np.where(warp_on_top, fu, fv), -1, 1).astype(np.float32)
    along = np.where(warp_on_top, fv, fu).astype(np.float32)
    lu, lv, lz = (float(c) for c in place.light)
    towards = np.where(warp_on_top, lu, lv) * across * 0.8
    rise = np.where(warp_on_top, lv, lu) * along * 0.3
    round_ = np.sqrt(1 - 0.85 * across**2)
    crown = 0.72 + 0.28 * np.cos(0.5 * np.pi * np.clip(along, -1, 1))
    light = (0.55 * round_ + 0.45 * (round_ * lz + towards + rise).clip(0) / max(lz, 0.3)) * crown
    index = np.where(warp_on_top, iu, iv + 500)
    light = light * per_index(index, 0.93, 1.05, seed + 4)
    light = light * (1 + 0.05 * noise(u, v, 0.18, 0.18, seed + 5))
    crease = noise(u, v, 17, 23, seed + 6)
    light = light * (1 + 0.035 * crease + 0.02 * noise(u, v, 7, 6, seed + 7))
    deep = np.clip(0.5 * (1 - round_ * crown), 0, 0.5)
    # Fray: beyond the last whole thread, the threads of the other direction stick out.
    fray_u = per_index(iv, 0.0, 1.0, seed + 8) ** 3 * 2.6
    fray_v = per_index(iu, 0.0, 1.0, seed + 9) ** 3 * 2.6
    left_u = place.half[0] - np.abs(u)
    left_v = place.half[1] - np.abs(v)
    body = smooth(left_u, 0.12) * smooth(left_v, 0.12)
    weft = smooth(left_u + fray_u, 0.1) * smooth(left_v, 0.12) * smooth(0.55 - np.abs(fv), 0.2)
    warp = smooth(left_v + fray_v, 0.1) * smooth(left_u, 0.12) * smooth(0.55 - np.abs(fu), 0.2)
    hole = piece.gaps * 0.5 * smooth(np.abs(fu) - 0.8, 0.1) * smooth(np.abs(fv) - 0.8, 0.1)
    cloth = np.maximum(np.maximum(body, weft), warp) * (1 - hole)
    sheen = 0.006 * np.clip(light - 0.9, 0, None)
    which = _dip(place, piece, iu * np.float32(1.0))
    return _as32(Weave(light * (1 - deep), light * deep, sheen, cloth, which))


def felt(piece: Piece, place: Place) -> Weave:
    """Felt or fulled wool: a matted surface without threads."""
    u, v, seed = place.u, place.v, piece.seed
    fine = noise(u, v, 0.14, 0.14, seed) + 0.8 * noise(u + 0.6 * v, v, 0.15, 1.0, seed + 1)
    fine = fine + 0.8 * noise(u, v + 0.7 * u, 1.1, 0.15, seed + 2)
    light = 0.86 + 0.07 * fine + 0.03 * noise(u, v, 5, 5, seed + 3)
    left = np.minimum(place.half[0] - np.abs(u), place.half[1] - np.abs(v))
    left = left + 0.35 * noise(u, v, 0.7, 0.7, seed + 4) + 0.4 * noise(u, v, 6, 6, seed + 5)
    round_ = np.clip(left / 1.2, 0.25, 1) ** 0.35
    light = np.clip(light, 0.3, 1.2) * round_
    deep = np.clip(0.22 - 0.06 * fine, 0, 0.5)
    which = _dip(place, piece, u / np.float32(piece.strand_mm))
    return _as32(Weave(light * (1 - deep), light * deep, 0 * light, smooth(left, 0.25), which))


def hank(piece: Piece, place: Place) -> Weave:
    """A whole skein twisted upon itself: two bundles that wind round each other."""
    u, v, seed, d = place.u, place.v, piece.seed, piece.strand_mm
    a, b = place.half
    rng = np.random.default_rng([seed, 53])
    turns = rng.uniform(1.7, 2.3)
    body = a * np.clip(1 - np.abs(v / b) ** 5, 0.02, 1) ** 0.5
    body = body * (0.94 + 0.06 * np.cos(v / b * 2.0))
    angle = np.pi * turns * v / b + rng.uniform(0, 6)
    tops, shades, opens, heights = [], [], [], []
    for side in (0.0, np.pi):
        centre = 0.46 * body * np.cos(angle + side)
        half = 0.58 * body
        t = (u - centre) / half
        inside = np.clip(t, -0.999, 0.999)
        crown = np.sqrt(1 - inside**2)
        height = 0.5 * np.sin(angle + side) + crown * 0.9
        around = np.arcsin(inside) * half * 0.8
        # Strands fan a little as they follow their bundle.
        flow = around + 0.25 * d * noise(u, v, 8, 20, seed + int(side))
        light, opened, cover, _ = _strands(
            flow.astype(np.float32), v, piece, seed + 60 + int(side), d * 1.0, place
        )
        bundle, _ = _strand_light(inside.astype(np.float32), place)
        light = light * cover + 0.35 * (1 - cover)
        tops.append(smooth((1 - np.abs(t)).astype(np.float32), 0.03))
        shades.append(light * (0.35 + 0.65 * bundle))
        opens.append(opened * cover * crown**0.5)
        heights.append(np.where(np.abs(t) < 1, height, -9.0))
    first = smooth((heights[0] - heights[1]).astype(np.float32), 0.04)
    near = np.clip(np.abs(heights[0] - heights[1]) / 0.35, 0, 1) ** 0.5
    light = (first * shades[0] + (1 - first) * shades[1]) * (0.55 + 0.45 * near)
    opened = first * opens[0] + (1 - first) * opens[1]
    cloth = np.maximum(tops[0], tops[1]) * smooth(b - np.abs(v), 0.3)
    deep = np.clip(0.6 * (1 - opened), 0, 0.6)
    sheen = 0.010 * np.clip(light - 0.9, 0, None) * 4
    which = _dip(place, piece, u / np.float32(d))
    return _as32(Weave(light * (1 - deep), light * deep, sheen, cloth, which))


def flat(piece: Piece, place: Place) -> Weave:
    """No texture at all: for studies of colour alone."""
    left = np.minimum(place.half[0] - np.abs(place.u), place.half[1] - np.abs(place.v))
    one = np.ones_like(place.u)
    which = _dip(place, piece, place.u / np.float32(piece.strand_mm))
    return Weave(one, 0 * one, 0 * one, smooth(left, 0.06), which)


def _as32(weave: Weave) -> Weave:
    parts = (weave.base, weave.deep, weave.sheen, weave.cloth, weave.which)
    return Weave(*(np.asarray(p, dtype=np.float32) for p in parts))


MAKERS = {
    "skein": skein,
    "swatch": swatch,
    "felt": felt,
    "hank": hank,
    "cloth_behind": swatch,
    "flat": flat,
}
