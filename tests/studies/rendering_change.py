"""Makes ``resources/measure/rendering_change.json``: what a maker's rendering changes.

Run from the checkout's top; half a minute::

    python -m tests.studies.rendering_change

One camera takes several photos of colours in one light: exposure and white balance fall as they do,
and the tone curve and the white are read exactly. What all colours moved by from photo to photo is
written as one field of bends for each camera (`dyeshade.measure.rendering_change`); how its weights
vary from camera to camera is their covariance (the likeliest one, by expectation maximization), and
what the field leaves is told apart into what neighbours in colour share and what each has alone.

No published data tell what makers do: real photographs of a chart in
``tests/data/real_charts.csv`` are by different cameras, but for two. It is taken from the looks of
``tests/render``, whose strength was set by those charts, with seeds that nothing else uses. Every
other camera, in the order of their names, is used; the rest judge (``tests.studies.drift``).

Sources: as ``tests.studies.camera_constants``.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.measure import rendering_change
from dyeshade.measure.camera_colours import weighted_axes
from dyeshade.measure.propagate import lab_of
from dyeshade.measure.rendering_change import apart, camera_light_of, change_by_weights
from tests.render.camera import Development, development
from tests.render.curves import FAMILIES
from tests.studies import colour_data
from tests.studies.camera_constants import FITTING, read_real_chart
from tests.studies.colour_change import middle_and_end, parts_of_field, rounded, white_error
from tests.studies.colour_data import Array

OUT = Path(__file__).parents[2] / "resources" / "measure" / "rendering_change.json"
LOOK_SEEDS = range(90_000, 90_240)
LOOKS = (("mild", 0.15), ("typical", 0.6), ("strong", 0.25))
PHOTOS = 5
_ROUNDS = 60
_LEAST_SHARE = 1e-3
"""Of the variance of all weights, what may be left out to write them with fewer numbers."""


@dataclass(frozen=True, eq=False)
class Shown:
    """One camera's photos of the same colours.

    Attributes
    ----------
    lab : ndarray, shape (photos, n, 3)
        As the program tells them; NaN for colours that are cut off.
    light : ndarray, shape (photos, 3)
        Log of the light on a perfect white, in a typical camera's channels.
    """

    lab: Array
    light: Array


def photos_of_looks() -> list[Shown]:
    """Photos by each of `LOOK_SEEDS`, a camera with a look and a tone curve of its own."""
    found = []
    rng = np.random.default_rng(31)
    names, shares = zip(*LOOKS, strict=True)
    spectra = np.concatenate([colour_data.test_colours(), colour_data.chart_spectra()])
    for seed in LOOK_SEEDS:
        camera = FITTING[seed % len(FITTING)]
        raw = colour_data.balanced(camera, "D5500", spectra)
        look, curve = str(rng.choice(names, p=shares)), str(rng.choice(FAMILIES[1:]))
        strength = rng.uniform(0.4, 1.0)
        photos = []
        for _ in range(PHOTOS):
            red, _, blue = white_error(rng)
            how = development(
                camera, look, curve, seed, rng.uniform(0.55, 1.0), (red, blue), "sRGB", strength
            )
            photos.append(_photo(how, raw))
        lab, light = zip(*photos, strict=True)
        found.append(Shown(np.array(lab), np.array(light)))
    return found


def _photo(how: Development, raw: Array) -> tuple[Array, Array]:
    """Lab of one photo, its tone curve and white read exactly, and the light that was told."""

    def straight(light: Array) -> Array:
        return np.asarray(how.curve.inverse(np.maximum(how.show(light), 0)))

    # White as greys of middling lightness tell it: what the look does to them goes with it.
    white = straight(np.full(3, 0.3)) / 0.3
    lab = lab_of(straight(raw) / white, np.log(white), how.to_xyz)
    shown = how.show(raw)
    lab[((shown <= 1e-3) | (shown >= 0.98)).any(axis=1)] = np.nan
    return lab, camera_light_of(np.log(white), how.to_xyz)


@dataclass(frozen=True, eq=False)
class Moves:
    """How colours moved between two photos, in steps that CIEDE2000 counts as one.

    Attributes
    ----------
    middle : ndarray, shape (n, 3)
        Lab of the colours that both show.
    axes : ndarray, shape (n, 3, 3)
    moved : ndarray, shape (n, 3)
    by_weight : ndarray, shape (n, 3, w)
    apart : ndarray, shape (n,)
        How far the whites are apart.
    """

    middle: Array
    axes: Array
    moved: Array
    by_weight: Array
    apart: Array


def moves_of(shown: Shown, count: int) -> list[Moves]:
    """Each photo beside the next, the last beside the first."""
    found = []
    for k, (one, light) in enumerate(zip(shown.lab, shown.light, strict=True)):
        other, later = shown.lab[k - 1], shown.light[k - 1]
        seen = np.isfinite(one).all(axis=1) & np.isfinite(other).all(axis=1)
        middle = (one[seen] + other[seen]) / 2
        lights = [np.tile(which, (len(middle), 1)) for which in (light, later)]
        axes = np.array([weighted_axes(lab) for lab in middle])
        moved = np.linalg.solve(axes, (other - one)[seen][..., None])[..., 0]
        rows = np.linalg.solve(axes, change_by_weights(middle, lights, count))
        found.append(Moves(middle, axes, moved, rows, apart(lights)))
    return found


def weights_of(cameras: list[list[Moves]]) -> tuple[Array, Array]:
    """Covariance (w, w) of the field's weights, and the likeliest weights (m, w) of each camera.

    References
    ----------
    Laird, N. M. and Ware, J. H. (1982). Random-effects models for longitudinal data. Biometrics 38.
    """
    products, sums, squares, numbers = [], [], 0.0, 0
    for moves in cameras:
        rows = np.concatenate([one.by_weight.reshape(-1, one.by_weight.shape[-1]) for one in moves])
        moved = np.concatenate([one.moved.ravel() for one in moves])
        products.append(rows.T @ rows)
        sums.append(rows.T @ moved)
        squares += float(moved @ moved)
        numbers += len(moved)
    product, total = np.array(products), np.array(sums)
    covariance, noise = np.eye(product.shape[-1]) * 0.01, 0.1
    for _ in range(_ROUNDS):
        spread = np.linalg.inv(np.linalg.inv(covariance) + product / noise)
        mean = (spread @ total[..., None])[..., 0] / noise
        second = spread + mean[:, :, None] * mean[:, None]
        left = squares - 2 * float((mean * total).sum()) + float((second * product).sum())
        # Hardly more than zero: what no camera has stays invertible.
        covariance = second.mean(axis=0) + 1e-9 * np.eye(len(covariance))
        noise = left / numbers
    return covariance, mean


def left_of(cameras: list[list[Moves]], weights: Array) -> list[list[Array]]:
    """What the field leaves of all moves, each (n, 3), in steps of CIEDE2000."""
    return [
        [one.moved - one.by_weight @ own for one in moves]
        for moves, own in zip(cameras, weights, strict=True)
    ]


def left_field(cameras: list[list[Moves]], left: list[list[Array]]) -> dict[str, object]:
    """What the field leaves as a smooth one, for whites that are one apart in log light."""
    most = max(len(one.middle) for moves in cameras for one in moves)
    colours, changes = [], []
    for moves, kept in zip(cameras, left, strict=True):
        for one, steps in zip(moves[::2], kept[::2], strict=True):
            missing = ((0, most - len(steps)), (0, 0))
            change = np.einsum("nij,nj->ni", one.axes, steps) / one.apart[:, None]
            colours.append(np.pad(one.middle, missing, constant_values=np.nan))
            changes.append(np.pad(change, missing, constant_values=np.nan))
    return parts_of_field(np.array(colours), np.array(changes))


def root_of(covariance: Array) -> Array:
    """Rows whose products are the covariance, without what hardly counts; shape (w, r)."""
    values, vectors = np.linalg.eigh(covariance)
    kept = np.cumsum(values) > _LEAST_SHARE * values.sum()
    return np.asarray(vectors[:, kept] * np.sqrt(values[kept]))


def main() -> None:
    """Fit, print and write the constants."""
    photos = photos_of_looks()
    for count in (1, 2, 3, 4):
        cameras = [moves_of(one, count) for one in photos]
        covariance, weights = weights_of(cameras)
        left = left_of(cameras, weights)
        if count == 1:
            moved = np.concatenate([one.moved for moves in cameras for one in moves])
            print("from photo to photo:", middle_and_end(np.linalg.norm(moved, axis=1)))
        after = np.concatenate([one for kept in left for one in kept])
        print(f"  {count} waves leave", middle_and_end(np.linalg.norm(after, axis=1)))
        if count == rendering_change.WAVES:
            root, field = root_of(covariance), left_field(cameras, left)
            print(" ", root.shape, field)
    real = colour_data.real_chart_rows()
    pair = [read_real_chart(real[number])[:18] for number in (1, 2)]
    print("two real photographs by one camera:", middle_and_end(ciede2000(*pair)))
    text = {
        "made_by": "tests/studies/rendering_change.py",
        "sources": "as resources/measure/constants.json; looks: tests/render/look.py",
        "root": [rounded(row) for row in root],
        "left": field,
    }
    OUT.write_text(json.dumps(text) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
