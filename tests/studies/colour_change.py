"""Makes ``resources/measure/colour_change.json``: how lights change the colours a camera tells.

Run from the checkout's top; half a minute::

    python -m tests.studies.colour_change

Measured cameras see the CIE 224:2017 test colours, which stand for cloths, and a print of the
sheet's colours under pairs of lights of one kind, the white divided out of each. The changes that
go together in all of them are their principal components; what each does to a colour is written as
a smooth field, one over inks and one over cloths, whose reach is the one that best tells a colour's
change from all others'. What that leaves is told apart into what neighbours in colour share and
what each has alone. Every other camera, in the order of their names, is used; the rest judge
(``tests.studies.drift``).

Sources: as ``tests.studies.camera_constants``.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from itertools import combinations, product
from pathlib import Path

import numpy as np
from scipy.optimize import minimize

from dyeshade.measure import colour_change
from dyeshade.measure.camera_colours import vividness, weighted_axes
from dyeshade.measure.colour_change import nearness
from dyeshade.measure.propagate import lab_of
from dyeshade.paper.patch_colours import PATCH_COLOURS
from tests.render.ink import Print, colour_spectrum
from tests.studies import colour_data
from tests.studies.camera_constants import FITTING
from tests.studies.colour_data import LIGHTS, Array

OUT = Path(__file__).parents[2] / "resources" / "measure" / "colour_change.json"
DAYLIGHTS = tuple(f"D{kelvin}" for kelvin in range(5000, 7501, 500))
MODES = 3
"""Changes that go together: more are told in the cameras that they come of, and less in others."""

_INKS = (20.0, 0.03)
"""Reach and ridge of fields over inks (ours): a sheet's are these, but for how it is printed."""

_RIDGES = (0.03, 0.1, 0.3, 1.0)
_LEAST_SPREAD = 1e-3
_REACHES = (8.0, 12.0, 18.0, 27.0, 40.0)
_SHARES = (0.0, 0.2, 0.4, 0.6, 0.8, 0.9, 0.95, 0.98)


def lights_of(kind: str) -> tuple[str, ...]:
    """Lights of a kind; daylight in even steps, so that near pairs are among them."""
    return DAYLIGHTS if kind == "daylight" else LIGHTS[kind]


@cache
def all_colours() -> Array:
    """Reflectances: the CIE test colours, then a print of the sheet's colours, shape (n, 81)."""
    inks = [colour_spectrum(np.array(one) / 255, Print()) for one in PATCH_COLOURS]
    return np.concatenate([colour_data.test_colours(), inks])


def white_error(rng: np.random.Generator) -> Array:
    """How far a camera's own white balance is off, per channel: the range that is stated."""
    wide = bool(rng.random() < 0.5)
    off = 0.2 * rng.uniform(-1, 1, 2) if wide else np.clip(0.05 * rng.normal(size=2), -0.2, 0.2)
    return np.array([1 + off[0], 1.0, 1 + off[1]])


def told_by(camera: str, light: str, spectra: Array, rng: np.random.Generator) -> Array:
    """Lab of spectra (n, 81) as a camera tells them and the program divides its white out."""
    off = white_error(rng)
    matrix = colour_data.own_matrix(camera) * off
    seen = colour_data.balanced(camera, light, spectra) @ matrix.T
    white = matrix.sum(axis=1)
    return lab_of(seen / white, np.log(white), colour_data.srgb_matrix())


@dataclass(frozen=True, eq=False)
class Changes:
    """How colours change between two lights, in m pairs of lights and cameras.

    Attributes
    ----------
    middle, change : ndarray, shape (m, n, 3)
        Lab, and change of Lab.
    """

    middle: Array
    change: Array

    @property
    def steps(self) -> Array:
        """Changes (m, n, 3) in what CIEDE2000 counts as one, along lightness, chroma and hue."""
        every = in_steps(self.middle.reshape(-1, 3), self.change.reshape(-1, 3))[0]
        return every.reshape(self.change.shape)


def changes_of(kind: str) -> Changes:
    """Of all colours, under all pairs of lights of a kind, by all fitting cameras."""
    first, second = [], []
    rng = np.random.default_rng(30)
    for camera in FITTING:
        told = {light: told_by(camera, light, all_colours(), rng) for light in lights_of(kind)}
        for one, other in combinations(told, 2):
            first.append(told[one])
            second.append(told[other])
    change = np.array(second) - np.array(first)
    assert np.isfinite(change).all()
    return Changes((np.array(first) + np.array(second)) / 2, change)


_CLOTHS = len(colour_data.test_colours())
CLOTHS, INKS = slice(0, _CLOTHS), slice(_CLOTHS, None)


def strengths_of(changes: Changes, count: int) -> Array:
    """How strong each of the changes that go together is in each pair, shape (m, count).

    They are principal components, of variance 1 each; inks weigh as much as cloths.
    """
    parts = [changes.steps[:, which] for which in (CLOTHS, INKS)]
    rows = [part.reshape(len(part), -1) / np.sqrt(part.shape[1]) for part in parts]
    left = np.linalg.svd(np.concatenate(rows, axis=1), full_matrices=False)[0]
    return np.asarray(left[:, :count] * np.sqrt(len(left)))


@dataclass(frozen=True, eq=False)
class Field:
    """A smooth field over colours, of what each of k changes does to them.

    Attributes
    ----------
    told : dict
        As `dyeshade.measure.colour_change.by_mode` takes it.
    missing, alone : ndarray, shape (n, 3, k)
        What is missing of each known colour's changes, in Lab; and what would be were the field
        made of all others.
    """

    told: dict[str, object]
    missing: Array
    alone: Array


def field_over(at: Array, wanted: Array, reach: float, ridge: float) -> Field:
    """The field whose changes (n, 3, k) of known colours (n, 3) come near those that are wanted.

    References
    ----------
    Rasmussen and Williams (2006), 2.2 and 5.4.2 (leaving one out).
    """
    inverse = np.linalg.inv(nearness(at, at, reach) + ridge * np.eye(len(at)))
    weights = inverse @ wanted.reshape(len(at), -1)
    told = {
        "at": [rounded(lab) for lab in at],
        "weights": [rounded(row) for row in weights],
        "reach": reach,
    }
    alone = weights / np.diag(inverse)[:, None]
    return Field(told, ridge * weights.reshape(wanted.shape), alone.reshape(wanted.shape))


def fields_of(changes: Changes, count: int) -> tuple[list[dict[str, object]], list[Changes]]:
    """Fields over inks and over cloths, and what is left of each.

    Of a cloth that is what a field over all others leaves.
    """
    strengths = strengths_of(changes, count)
    by_colour = np.einsum("mk,mnc->nck", strengths, changes.change) / len(strengths)
    at = changes.middle.mean(axis=0)
    inks = field_over(at[INKS], by_colour[INKS], *_INKS)
    axes = np.array([weighted_axes(lab) for lab in at[CLOTHS]])
    cloths = min(
        (field_over(at[CLOTHS], by_colour[CLOTHS], *how) for how in product(_REACHES, _RIDGES)),
        key=lambda one: float((np.linalg.solve(axes, one.alone) ** 2).sum()),
    )
    left = []
    for which, missing in ((INKS, inks.missing), (CLOTHS, cloths.alone)):
        by_changes = np.einsum("mk,nck->mnc", strengths, by_colour[which] - missing)
        left.append(Changes(changes.middle[:, which], changes.change[:, which] - by_changes))
    return [inks.told, cloths.told], left


def told_of(kind: str) -> dict[str, object]:
    """All constants of one kind of light; prints what other numbers of changes leave."""
    changes = changes_of(kind)
    print(f"{kind}: change {_long(changes)}")
    for count in (1, 2, 3, 4, 6):
        inks, cloths = fields_of(changes, count)[1]
        print(f"  {count} changes leave {_long(inks)} of inks, {_long(cloths)} of cloths")
    fields, left = fields_of(changes, MODES)
    return {
        name: {**field, "left": parts_of_field(one.middle, one.change)}
        for name, field, one in zip(("inks", "cloths"), fields, left, strict=True)
    }


def _long(changes: Changes) -> str:
    return middle_and_end(np.linalg.norm(changes.steps, axis=-1))


def nothing() -> dict[str, object]:
    """Constants where lights of a kind differ little from one another."""
    left = {"neutral": [0.0] * 3, "vivid": [0.0] * 3, "reach": 1.0, "share": 0.0}
    one = {"at": [[50.0, 0.0, 0.0]], "weights": [[0.0] * 3], "reach": 1.0, "left": left}
    return {"inks": one, "cloths": one}


def parts_of_field(colours: Array, left: Array) -> dict[str, object]:
    """A smooth field and what each colour has alone, by how alike neighbours are.

    Parameters
    ----------
    colours, left : ndarray, shape (m, n, 3)
        Lab, and what is to be told apart, in Lab.
    """
    seen = np.isfinite(left).all(axis=-1)
    neutral, vivid = normal_spread(*in_steps(colours[seen], left[seen]))
    # Spreads are searched for by their logarithms: one that is none comes out as hardly any.
    neutral, vivid = (np.where(one < _LEAST_SPREAD, 0.0, one) for one in (neutral, vivid))
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
    root = np.linalg.cholesky(share * nearness(lab, lab, reach) + (1 - share) * np.eye(len(lab)))
    weighted = np.linalg.solve(root, standing)
    scale = float((weighted**2).mean())
    return float(3 * 2 * np.log(np.diag(root)).sum() + weighted.size * np.log(scale))


def rounded(values: Array) -> list[float]:
    return [float(f"{value:.4g}") for value in np.ravel(values)]


def main() -> None:
    """Fit, print and write the constants."""
    told: dict[str, object] = {}
    for kind in LIGHTS:
        told[kind] = told_of(kind) if len(LIGHTS[kind]) > 1 else nothing()
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
