"""How far the looks are from the truth on a chart, beside real photographs: run as a script.

For each real photograph in ``tests/data/real_charts.csv`` the neutral axis is fixed with a monotone
curve for each channel on patches 19 to 24, and the error of the colours 1 to 18 is averaged. The
same is done for charts seen by the measured cameras with each strength of look. "typical" should
land where the real ones are, "mild" at about half.

    python -m tests.render.calibrate_look
"""

from __future__ import annotations

import csv

import numpy as np
from scipy.interpolate import PchipInterpolator

from .camera import balanced, development
from .curves import FAMILIES
from .look import STRENGTHS
from .spectra import (
    DATA,
    Array,
    cameras,
    chart_colours,
    delta_e,
    lab_of_linear,
    linear_srgb_of,
)


def _neutral_fixed(shown: Array, truth_linear: Array, truth_lab: Array) -> float:
    """Mean CIEDE2000 of patches 1 to 18 after fixing the greys 19 to 24; inputs (24, 3)."""
    fixed = np.empty_like(shown)
    for c in range(3):
        order = np.argsort(shown[18:, c])
        x = np.log(np.maximum(shown[18:, c][order], 1e-4))
        y = np.log(np.maximum(truth_linear[18:, c][order], 1e-4))
        keep = np.concatenate([[True], np.diff(x) > 1e-3])
        x, y = x[keep], y[keep]
        curve = PchipInterpolator(x, y)
        at = np.log(np.maximum(shown[:, c], 1e-4))
        inside = curve(np.clip(at, x[0], x[-1]))
        # Beyond the greys the end slopes go on.
        low, high = curve.derivative()(x[0]), curve.derivative()(x[-1])
        value = inside + np.minimum(at - x[0], 0) * low + np.maximum(at - x[-1], 0) * high
        fixed[:, c] = np.exp(value)
    return float(np.mean(delta_e(lab_of_linear(fixed), truth_lab)[:18]))


def real_errors() -> Array:
    """Mean colour error of each real photograph, greys fixed; (11,)."""
    import colour

    charts: dict[str, list[dict[str, str]]] = {}
    with (DATA / "real_charts.csv").open(newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            charts.setdefault(row["photo"], []).append(row)
    errors = []
    d50 = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D50"]
    d65 = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
    for rows in charts.values():
        rows = sorted(rows, key=lambda r: int(r["patch"]))
        shown = np.array([[float(r[f"{c}_linear"]) for c in "rgb"] for r in rows])
        lab50 = np.array([[float(r[f"{c}_published_D50"]) for c in "Lab"] for r in rows])
        xyz = colour.Lab_to_XYZ(lab50, d50)
        xyz = colour.chromatic_adaptation(
            xyz,
            colour.xy_to_XYZ(d50),
            colour.xy_to_XYZ(d65),
            method="Von Kries",
            transform="Bradford",
        )
        linear = colour.XYZ_to_RGB(xyz, "sRGB", apply_cctf_encoding=False)
        errors.append(_neutral_fixed(shown, linear, colour.XYZ_to_Lab(xyz, d65)))
    return np.array(errors)


def rendered_errors(strength: str, seeds: int = 1) -> Array:
    """The same for the measured cameras under daylight with looks of one strength."""
    spectra = chart_colours()
    truth = linear_srgb_of(spectra)
    lab = lab_of_linear(truth)
    errors = []
    for seed in range(seeds):
        for k, camera in enumerate(cameras()):
            rng = np.random.default_rng([seed, k])
            how = development(
                camera,
                strength,
                str(rng.choice(FAMILIES[1:])),
                1000 * seed + k,
                float(rng.uniform(0.7, 0.95)),
                (1.0, 1.0),
                "sRGB",
            )
            light = f"daylight {rng.uniform(5000, 7500):.0f}"
            shown = how.show(balanced(spectra, camera, light))
            errors.append(_neutral_fixed(shown, truth, lab))
    return np.array(errors)


def main() -> None:
    """Print quartiles of the mean colour error for real photographs and for each look."""
    print("mean CIEDE2000 of 18 colours after the greys are fixed: quartiles over photographs")
    for name, errors in [("real photographs", real_errors())] + [
        (f'look "{s}"', rendered_errors(s)) for s in STRENGTHS
    ]:
        quarters = " ".join(f"{q:5.2f}" for q in np.percentile(errors, [0, 25, 50, 75, 100]))
        print(f"{name:18s} n={errors.size:3d}  min..max {quarters}   mean {errors.mean():.2f}")


if __name__ == "__main__":
    main()
