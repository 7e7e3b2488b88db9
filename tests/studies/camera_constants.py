"""Makes ``resources/measure/constants.json``: a typical camera, and how far cameras err.

Run from the checkout's top::

    python -m tests.studies.camera_constants           # makes them: half a minute
    python -m tests.studies.camera_constants --chroma  # how well other `CHROMA_SCALE` would fit

Every other camera, in the order of their names, is used; the rest judge
(``tests.studies.accuracy``).

Sources
-------
- camera sensitivities: RAW to ACES data repository, AcademySoftwareFoundation, Apache-2.0
  (``tests/data/camera_sensitivities.csv``);
- reflectances: CIE 224:2017 test colours and the 24-patch chart of ISO 17321-1, as colour-science
  carries them;
- illuminants: CIE 15:2018 daylight by temperature, A, FL and LED series, as colour-science carries
  them;
- real photographs of a chart of published values (``tests/data/real_charts.csv``).
"""

from __future__ import annotations

import argparse
import json
from pathlib import Path

import numpy as np
from scipy.optimize import OptimizeResult, minimize

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.spread import u95_of
from dyeshade.measure.camera_colours import vividness, weighted_axes
from dyeshade.measure.grey_fit import GreyFit, GreySignals
from dyeshade.measure.greys import fit_greys
from dyeshade.measure.light_field import field_for_page
from dyeshade.measure.propagate import lab_of
from dyeshade.measure.typical_colours import typical_colours
from tests.studies import colour_data
from tests.studies.colour_data import LIGHTS, Array
from tests.studies.typical_fit import DEGREE, base_of, seen_lab, typical_light, typical_terms

OUT = Path(__file__).parents[2] / "resources" / "measure" / "constants.json"
FITTING = sorted(colour_data.sensitivities())[::2]
"""The cameras that may be fitted to."""

CHART_PAGE = (210.0, 297.0)
COVERED = 0.95


def typical_camera(cameras: list[str] = FITTING) -> Array:
    """Median matrix of some cameras, balanced light to linear sRGB; rows sum to one."""
    median = np.median([colour_data.own_matrix(name) for name in cameras], axis=0)
    return np.asarray(median / median.sum(axis=1, keepdims=True))


def camera_errors(kind: str, matrix_known: bool = True) -> tuple[Array, Array]:
    """Seen and true Lab of the CIE test colours by the fitting cameras, each shape (n, 3).

    Typical camera and terms are of one half of these cameras and the errors those of the other, so
    that no camera is judged by itself. `matrix_known` False: raw light read as a typical camera's.
    """
    colours = colour_data.test_colours()
    true = colour_data.lab_of(colour_data.xyz_of(colours))
    seen = []
    for half in (0, 1):
        typical = typical_camera(FITTING[half::2])
        weights = typical_terms(FITTING[half::2], kind, typical)
        for name in FITTING[1 - half :: 2]:
            for light in LIGHTS[kind]:
                if matrix_known:
                    shown = typical_light(name, light, colours, typical)
                else:
                    shown = colour_data.balanced(name, light, colours)
                seen.append(seen_lab(shown, weights, base_of(typical)))
    return np.concatenate(seen), np.tile(true, (len(seen), 1))


def rendering_errors() -> tuple[Array, Array]:
    """Seen and true Lab of the coloured patches in real photographs, each shape (n, 3).

    The six neutrals are read as greys laid where the patches are: light across the chart was not
    evened out, and what that adds stays in.
    """
    seen, true = [], []
    for photo in colour_data.real_chart_rows().values():
        seen.append(read_real_chart(photo)[:18])
        true.append(photo["lab"][:18])
    return np.concatenate(seen), np.concatenate(true)


def read_real_chart(photo: dict[str, Array]) -> Array:
    """Lab of the 24 patches of a real photograph, read by its six neutrals, shape (24, 3)."""
    fit = real_chart_fit(photo)
    middle = np.tile(np.array(CHART_PAGE) / 2, (24, 1))
    to_xyz = colour_data.srgb_matrix()
    reflectance = fit.reflectance(photo["signal"], middle)
    return lab_of(reflectance, fit.white, to_xyz, own=typical_colours(to_xyz, True, "window"))


def real_chart_fit(photo: dict[str, Array]) -> GreyFit:
    """Light, curve and white of a real photograph by its chart's six neutrals.

    They are read as greys laid where the patches are.
    """
    signal = photo["signal"][18:]
    middle = np.tile(np.array(CHART_PAGE) / 2, (6, 1))
    usable = np.repeat((photo["clipped"][18:] < 0.02)[:, None], 3, axis=1) & (signal < 0.985)
    # 1 %: the light over the chart, as far as neighbours share it.
    signals = GreySignals(middle, photo["y"][18:], signal, 0.01 * signal + 1e-4, usable)
    return fit_greys(signals, field_for_page(CHART_PAGE))


def parts_of(seen: Array, true: Array) -> Array:
    """Errors along lightness, chroma and hue in CIEDE2000's weights, shape (n, 3)."""
    return np.array(
        [
            np.linalg.solve(weighted_axes(one), one - other)
            for one, other in zip(seen, true, strict=True)
        ]
    )


def fitted_spread(parts: Array, chroma: Array, given: Array) -> tuple[Array, Array]:
    """Spreads at neutral and added at vivid, by maximum likelihood on top of a given variance."""
    vivid = vividness(chroma)
    fits = [np.exp(_best(parts[:, k], given[:, k], vivid).x) for k in range(3)]
    spreads = np.array(fits)
    return spreads[:, 0], spreads[:, 1]


def _best(part: Array, known: Array, vivid: Array) -> OptimizeResult:
    """Logs of both spreads (n,) errors are likeliest with, on top of a known variance."""

    def cost(logs: Array) -> float:
        variance = known + np.exp(2 * logs[0]) + (np.exp(logs[1]) * vivid) ** 2
        # Student's t with 6 degrees of freedom: some dyes are far off in any camera.
        return float((np.log(variance) + 7 * np.log1p(part**2 / variance / 6)).sum())

    return minimize(cost, np.log([0.3, 1.0]), method="Nelder-Mead")


def print_chroma_scales() -> None:
    """Misfit of the errors (less is better), a colour, by the chroma over which spreads grow.

    By kind of light, and of the real photographs. One scale serves all: that of daylight.
    """
    found = {kind: camera_errors(kind) for kind in LIGHTS}
    found["real photographs"] = rendering_errors()
    for scale in (8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0):
        costs = {}
        for name, (seen, true) in found.items():
            parts, chroma = parts_of(seen, true), np.hypot(seen[:, 1], seen[:, 2])
            vivid = 1 - np.exp(-chroma / scale)
            fits = [_best(parts[:, k], np.zeros(len(vivid)), vivid) for k in range(3)]
            costs[name] = round(sum(fit.fun for fit in fits) / len(seen), 3)
        print(scale, costs)


def _rounded(values: Array) -> list[float]:
    return [round(float(value), 4) for value in values]


def covering_scale(seen: Array, true: Array, spread: tuple[Array, Array]) -> float:
    """Factor on a spread at which 95 % of some four hundred errors lie within what it states."""
    some = slice(None, None, max(1, len(seen) // 400) | 1)
    error = ciede2000(seen[some], true[some])
    vivid = vividness(np.hypot(seen[some, 1], seen[some, 2]))[:, None]
    variance = spread[0] ** 2 + (spread[1] * vivid) ** 2
    turns = [weighted_axes(one) for one in seen[some]]
    limits = [
        u95_of(one, (turn * own) @ turn.T)
        for one, turn, own in zip(seen[some], turns, variance, strict=True)
    ]
    # Near enough in proportion to the spread.
    return float(np.quantile(error / np.array(limits), COVERED))


def main() -> None:
    """Fit, print and write the constants."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--chroma", action="store_true", help="print how other scales would fit")
    if parser.parse_args().chroma:
        print_chroma_scales()
        return
    typical = typical_camera()
    spreads, weights, further = {}, {}, []
    for kind in LIGHTS:
        weights[kind] = [_rounded(row) for row in typical_terms(FITTING, kind, typical)]
        seen, true = camera_errors(kind)
        fitted = fitted_spread(
            parts_of(seen, true), np.hypot(seen[:, 1], seen[:, 2]), np.zeros_like(seen)
        )
        scale = covering_scale(seen, true, fitted)
        neutral, vivid = (scale * part for part in fitted)
        spreads[kind] = {"neutral": _rounded(neutral), "vivid": _rounded(vivid)}
        error = ciede2000(seen, true)
        print(kind, spreads[kind], f"scaled by {scale:.2f}, median {np.median(error):.2f}")
        without = ciede2000(*camera_errors(kind, matrix_known=False))
        further.append([np.quantile(without, q) / np.quantile(error, q) for q in (0.5, 0.95)])
    print("without the camera's own matrix, times further off:", np.round(further, 2).tolist())
    constants = {
        "made_by": "tests/studies/camera_constants.py",
        "sources": (__doc__ or "").split("-------\n")[1].strip(),
        "typical_camera_to_srgb": [_rounded(row) for row in typical],
        "typical_terms": {"degree": DEGREE, "weights": weights},
        "camera_spread": spreads,
        # Daylight comes first.
        "unknown_camera": round(float(np.mean(further[0])), 2),
        "rendering_spread": {"neutral": [0.0, 0.0, 0.0], "vivid": [0.0, 0.0, 0.0]},
    }
    # Reading the real photographs needs the typical camera in its place.
    _write(constants)
    constants["rendering_spread"] = rendering_spread(spreads["daylight"])
    _write(constants)


def rendering_spread(daylight: dict[str, list[float]]) -> dict[str, list[float]]:
    """What a maker's rendering adds, scaled so that 95 % of the real patches are covered."""
    seen, true = rendering_errors()
    camera, added = rendering_parts(daylight, seen, true)
    error = ciede2000(seen, true)

    def covered(scale: float) -> float:
        return float(np.mean(error <= rendering_limits(seen, camera, scale * added)))

    scales = np.arange(0.6, 1.5, 0.02)
    scale = next((float(s) for s in scales if covered(float(s)) >= COVERED), float(scales[-1]))
    print(f"real patches: median {np.median(error):.2f}, 95 % {np.percentile(error, 95):.2f}")
    print(f"rendering adds {added.round(2)} times {scale:.2f}, covers {covered(scale):.3f}")
    return {"neutral": [0.0, 0.0, 0.0], "vivid": _rounded(scale * added)}


def rendering_parts(
    daylight: dict[str, list[float]], seen: Array, true: Array
) -> tuple[Array, Array]:
    """Variance of cameras' own errors (n, 3), and what rendering adds to a vivid colour's (3,)."""
    vivid = vividness(np.hypot(seen[:, 1], seen[:, 2]))[:, None]
    camera = np.array(daylight["neutral"]) ** 2 + (np.array(daylight["vivid"]) * vivid) ** 2
    # The neutrals were read exactly by construction, so all of it grows with chroma.
    parts = parts_of(seen, true)
    added = np.sqrt(np.maximum((parts**2 - camera).sum(axis=0) / (vivid**2).sum(), 0.0))
    return camera, added


def rendering_limits(seen: Array, camera: Array, added: Array) -> Array:
    """CIEDE2000 within which 95 in 100 lie, by both; shape (n,)."""
    vivid = vividness(np.hypot(seen[:, 1], seen[:, 2]))[:, None]
    variance = camera + (added * vivid) ** 2
    axes = [weighted_axes(one) for one in seen]
    return np.array(
        [
            u95_of(one, (turn * spread) @ turn.T)
            for one, turn, spread in zip(seen, axes, variance, strict=True)
        ]
    )


def _write(constants: dict[str, object]) -> None:
    OUT.parent.mkdir(parents=True, exist_ok=True)
    OUT.write_text(json.dumps(constants, indent=2) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
