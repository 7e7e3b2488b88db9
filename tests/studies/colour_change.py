"""Makes ``resources/measure/colour_change.json``: how lights change the colours a camera tells.

Run from the checkout's top; half a minute::

    python -m tests.studies.colour_change

Measured cameras see the CIE 224:2017 test colours under pairs of lights of one kind, the white
divided out of each. The change of all colours is written as terms of a root-polynomial; how its
weights vary from camera to camera and pair to pair is their covariance, and what the terms leave
is told apart into what neighbours in colour share and what each colour has alone. Every other
camera, in the order of their names, is used; the rest judge (``tests.studies.drift``).

Sources: as ``tests.studies.camera_constants``.
"""

from __future__ import annotations

import json
from functools import cache
from itertools import combinations, product
from pathlib import Path

import numpy as np
from scipy.optimize import minimize

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.measure import colour_change
from dyeshade.measure.camera_colours import vividness, weighted_axes
from dyeshade.measure.colour_change import features
from dyeshade.measure.propagate import lab_of
from dyeshade.measure.root_polynomial import DEGREES
from dyeshade.paper.patch_colours import PATCH_COLOURS
from tests.render.ink import Print, colour_spectrum
from tests.studies import colour_data
from tests.studies.camera_constants import FITTING
from tests.studies.colour_data import LIGHTS, Array

OUT = Path(__file__).parents[2] / "resources" / "measure" / "colour_change.json"
DAYLIGHTS = tuple(f"D{kelvin}" for kelvin in range(5000, 7501, 500))
_REACHES = (8.0, 12.0, 18.0, 27.0, 40.0)
_SHARES = (0.0, 0.2, 0.4, 0.6, 0.8, 0.9, 0.95, 0.98)


def lights_of(kind: str) -> tuple[str, ...]:
    """Lights of a kind; daylight in even steps, so that near pairs are among them."""
    return DAYLIGHTS if kind == "daylight" else LIGHTS[kind]


@cache
def all_colours() -> Array:
    """Reflectances: the CIE test colours, and a print of the sheet's colours, shape (123, 81).

    Inks are of other spectra than cloth of equal colour: what the two do not share has to count.
    """
    inks = [colour_spectrum(np.array(one) / 255, Print()) for one in PATCH_COLOURS]
    return np.concatenate([colour_data.test_colours(), inks])


def white_error(rng: np.random.Generator) -> Array:
    """How far a camera's own white balance is off, per channel: the range that is stated."""
    wide = bool(rng.random() < 0.5)
    off = 0.2 * rng.uniform(-1, 1, 2) if wide else np.clip(0.05 * rng.normal(size=2), -0.2, 0.2)
    return np.array([1 + off[0], 1.0, 1 + off[1]])


def told_by(camera: str, light: str, rng: np.random.Generator) -> Array:
    """Lab of all colours as a camera tells them and the program divides its white out."""
    off = white_error(rng)
    matrix = colour_data.own_matrix(camera) * off
    seen = colour_data.balanced(camera, light, all_colours()) @ matrix.T
    white = matrix.sum(axis=1)
    return lab_of(seen / white, np.log(white), colour_data.srgb_matrix())


Pairs = list[tuple[Array, Array]]


def pairs_of_lights(kind: str) -> Pairs:
    """Lab of all colours under two lights each, by all fitting cameras, (123, 3) each."""
    found = []
    rng = np.random.default_rng(30)
    for camera in FITTING:
        told = {light: told_by(camera, light, rng) for light in lights_of(kind)}
        found += [(told[one], told[other]) for one, other in combinations(told, 2)]
    return found


def changes(pairs: Pairs, degree: int) -> tuple[Array, Array, Array]:
    """Weights (m, w), colours (m, n, 3), and what the terms leave of their changes, the same."""
    weights, colours, left = [], [], []
    for first, second in pairs:
        middle = (first + second) / 2
        rows = features(middle, degree)
        change = second - first
        seen = np.isfinite(change).all(axis=1)
        axes = np.linalg.inv([weighted_axes(lab) for lab in middle[seen]])
        design = (axes @ rows[seen]).reshape(-1, rows.shape[-1])
        wanted = np.einsum("nij,nj->ni", axes, change[seen]).ravel()
        # A little pull towards none: terms that these colours hardly tell apart stay small.
        pull = 1e-3 * np.trace(design.T @ design) / design.shape[1]
        found = np.linalg.solve(
            design.T @ design + pull * np.eye(design.shape[1]), design.T @ wanted
        )
        weights.append(found)
        colours.append(middle)
        left.append(change - rows @ found)
    return np.array(weights), np.array(colours), np.array(left)


def field_of(name: str, pairs: Pairs) -> dict[str, object]:
    """All constants of one cause of change; prints how well terms of each degree do."""
    before = np.concatenate([ciede2000(one, other) for one, other in pairs])
    print(f"{name}: change {middle_and_end(before)}")
    for degree in DEGREES:
        _, colours, left = changes(pairs, degree)
        after = ciede2000(colours - left / 2, colours + left / 2)
        print(f"  degree {degree} leaves {middle_and_end(after)}")
    weights, colours, left = changes(pairs, colour_change.DEGREE)
    scatter = weights.T @ weights / len(weights)
    parts = parts_of_field(colours, left)
    print(" ", parts)
    return {"weights": [rounded(row) for row in (scatter + scatter.T) / 2], **parts}


def parts_of_field(colours: Array, left: Array) -> dict[str, object]:
    """A smooth field and what each colour has alone, by how alike neighbours are.

    Parameters
    ----------
    colours, left : ndarray, shape (m, n, 3)
        Lab, and what is to be told apart, in Lab.
    """
    seen = np.isfinite(left).all(axis=-1)
    neutral, vivid = normal_spread(*in_steps(colours[seen], left[seen]))
    best = (np.inf, _REACHES[0], 0.0)
    chosen = range(0, len(colours), max(1, len(colours) // 60))
    for reach, share in product(_REACHES, _SHARES):
        unlikely = sum(
            _unlikeliness(colours[k][seen[k]], left[k][seen[k]], neutral, vivid, reach, share)
            for k in chosen
        )
        best = min(best, (unlikely, reach, share))
    _, reach, share = best
    return {
        "neutral": rounded(neutral),
        "vivid": rounded(vivid),
        "reach": reach,
        "share": share,
    }


def in_steps(colours: Array, left: Array) -> tuple[Array, Array]:
    """Changes (n, 3) in Lab along lightness, chroma and hue, and the chroma of their colours."""
    axes = np.array([weighted_axes(lab) for lab in colours])
    return np.linalg.solve(axes, left[..., None])[..., 0], np.hypot(colours[:, 1], colours[:, 2])


def normal_spread(parts: Array, chroma: Array) -> tuple[Array, Array]:
    """Standard deviations at neutral and added at vivid, of parts (n, 3) that are taken as normal.

    Two photos are solved as normal fields, whose variance has to be that of all changes. (The
    likeliest scale of a distribution with longer tails is smaller than its standard deviation.)
    """
    vivid = vividness(chroma)

    def cost(logs: Array, part: Array) -> float:
        variance = np.exp(2 * logs[0]) + (np.exp(logs[1]) * vivid) ** 2
        return float((np.log(variance) + part**2 / variance).sum())

    start = np.log([0.3, 1.0])
    found = np.array(
        [np.exp(minimize(cost, start, args=(part,), method="Nelder-Mead").x) for part in parts.T]
    )
    return found[:, 0], found[:, 1]


def _unlikeliness(
    lab: Array, left: Array, neutral: Array, vivid: Array, reach: float, share: float
) -> float:
    """Of one pair's changes as such a field whose size is not known (three fields alike)."""
    size = np.sqrt((colour_change.axes_of(lab, neutral, vivid) ** 2).sum(axis=2))
    standing = left / np.maximum(size, 0.02)
    root = np.linalg.cholesky(
        share * colour_change.nearness(lab, reach) + (1 - share) * np.eye(len(lab))
    )
    weighted = np.linalg.solve(root, standing)
    scale = float((weighted**2).mean())
    return float(3 * 2 * np.log(np.diag(root)).sum() + weighted.size * np.log(scale))


def rounded(values: Array) -> list[float]:
    return [float(f"{value:.4g}") for value in np.ravel(values)]


def main() -> None:
    """Fit, print and write the constants."""
    told: dict[str, object] = {}
    for kind in LIGHTS:
        if len(LIGHTS[kind]) < 2:
            count = features(np.array([[50.0, 0.0, 0.0]])).shape[-1]
            # Filament lamps differ little from one another.
            none = [0.0] * 3
            told[kind] = {
                "weights": [[0.0] * count] * count,
                "neutral": none,
                "vivid": none,
                "reach": 1.0,
                "share": 0.0,
            }
            continue
        told[kind] = field_of(kind, pairs_of_lights(kind))
    text = {
        "made_by": "tests/studies/colour_change.py",
        "sources": "as resources/measure/constants.json",
        "light": told,
    }
    OUT.write_text(json.dumps(text) + "\n", encoding="utf-8")


def middle_and_end(values: Array) -> str:
    values = values[np.isfinite(values)]
    return f"{np.median(values):.2f} (95 %: {np.percentile(values, 95):.2f})"


if __name__ == "__main__":
    main()
