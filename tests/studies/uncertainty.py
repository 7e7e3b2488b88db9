"""Whether what is stated holds: by format, light and colour, on the signals of many photographs.

Run from the checkout's top::

    python -m tests.studies.uncertainty               # judges, 5 minutes on one core
    python -m tests.studies.uncertainty --constants   # makes resources/measure/calibrated.json

Half of the measured cameras, those of ``camera_constants``, fit; the other half judges, by numbers
of scenes that no constant was made with. Each camera photographs a chart on the printed sheet, and
another day cloths (a third each neutral, middling and vivid) on the same sheet, in one kind of
light, with looks as often as real photographs have them. What is in the photos:
``uncertainty_signals``. Beside stand a perfect reader of greys and work by hand with one grey.
"""

from __future__ import annotations

import argparse
import json
import pickle
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

import numpy as np
from scipy.optimize import minimize
from scipy.stats import beta

from dyeshade.cie.spread import u95_of
from dyeshade.measure.camera_colours import vividness, weighted_axes
from tests.studies.accuracy import JUDGING, LOOKS
from tests.studies.camera_constants import FITTING
from tests.studies.uncertainty_cases import FORMATS, WITHOUT_LOOK, Array, Reading, case, sort_of

OUT = Path(__file__).parents[2] / "resources" / "measure" / "calibrated.json"
JUDGING_FROM, FITTING_FROM = 90000, 1000
"""Numbers of the first scenes. Nothing was tuned on those that judge."""

LAMPS = {
    "led": ("LED-B1", "LED-B2", "LED-B3", "LED-B4", "LED-B5", "LED-V1"),
    # FL4, FL8 and FL12 were fitted to by nothing.
    "fluorescent": ("FL2", "FL4", "FL7", "FL8", "FL11", "FL12"),
    "incandescent": ("A",),
}
LIGHTS = ("daylight", *LAMPS)
SORTS = ("neutral", "middling", "vivid")
COVERED = 0.95
_USUAL_LOGS = np.array([-0.5, 0.0])
TAUGHT = {
    "camera_rendered": "JPEG, camera calibrated",
    "sheet_rendered": "JPEG, colour sheet",
    "camera_raw": "raw, camera calibrated",
    "sheet_raw": "raw, colour sheet",
}
Job = tuple[str, str, tuple[str, str], str, int]


def jobs(cameras: list[str], first: int) -> list[Job]:
    """One case for each camera and kind of light."""
    out = []
    for k, camera in enumerate(cameras):
        for n, kind in enumerate(LIGHTS):
            seed = first + 4 * k + n
            rng = np.random.default_rng([seed, 98])
            look = str(rng.choice(list(LOOKS), p=list(LOOKS.values())))
            if kind == "daylight":
                kelvin = rng.uniform(5000, 7500, 2)
                light = f"daylight {kelvin[0]:.0f}", f"daylight {kelvin[1]:.0f}"
            else:
                # The lamp in the room stays.
                light = (str(rng.choice(LAMPS[kind])),) * 2
            out.append((camera, kind, light, look, seed))
    return out


def _one(job: Job, sheet_for_raw: bool) -> list[Reading]:
    return case(*job, sheet_for_raw=sheet_for_raw)


def run(cameras: list[str], first: int, workers: int, fits: bool = False) -> list[Reading]:
    """All readings of some cameras."""
    with ProcessPoolExecutor(workers) as pool:
        found = pool.map(partial(_one, sheet_for_raw=fits), jobs(cameras, first))
        return [one for each in found for one in each]


def line(name: str, found: list[Reading]) -> str:
    """One line of the table."""
    error, limit, hand, u95 = (
        np.array([getattr(one, key) for one in found]) for key in ("error", "limit", "hand", "u95")
    )
    return (
        f"| {name} | {len(found)} | {np.median(error):.2f} | {np.median(limit):.2f} "
        f"| {np.median(hand):.2f} | {np.percentile(error, 95):.1f} | {np.median(u95):.1f} "
        f"| {100 * np.mean(error <= u95):.0f} % |"
    )


def table(readings: list[Reading]) -> str:
    """Format by light: measured, limit, by hand, u95 and how often it held."""
    head = "| file, reference | light | samples | measured | perfect reader of greys | by hand "
    lines = [head + "| 95 in 100 | u95 | held |", "| --- | --- " + "| --: " * 7 + "|"]
    for way in (*FORMATS, WITHOUT_LOOK):
        for kind in LIGHTS:
            found = [one for one in readings if one.way == way and one.kind == kind]
            if found:
                lines.append(line(f"{way} | {kind}", found))
    return "\n".join(lines)


def margins(readings: list[Reading]) -> list[tuple[str, list[Reading]]]:
    """What is asked for: each format, light and sort of colour, over all the others."""
    pooled = [one for one in readings if one.way in FORMATS]
    groups: list[tuple[str, Callable[[Reading], bool]]] = [("overall", lambda one: True)]
    groups += [(way, lambda one, way=way: one.way == way) for way in FORMATS]  # type: ignore[misc]
    groups += [(kind, lambda one, kind=kind: one.kind == kind) for kind in LIGHTS]  # type: ignore[misc]
    groups += [
        (sort, lambda one, k=k: int(sort_of(one.true)) == k)  # type: ignore[misc]
        for k, sort in enumerate(SORTS)
    ]
    return [(name, [one for one in pooled if chosen(one)]) for name, chosen in groups]


def margin_lines(readings: list[Reading]) -> str:
    """Coverage with its exact binomial bounds, and u95 over the median error, of each margin."""
    lines = ["| margin | samples | measured | u95 | u95 / measured | held | bounds |"]
    lines.append("| --- " + "| --: " * 6 + "|")
    for name, found in margins(readings):
        error = np.array([one.error for one in found])
        u95 = np.array([one.u95 for one in found])
        count, held = len(found), int((error <= u95).sum())
        # Clopper and Pearson 1934, as if samples of one photo were independent: a little narrow.
        low, high = beta.ppf([0.025, 0.975], [held, held + 1], [count - held + 1, count - held])
        share = held / count
        least, most = (0.93, 0.97) if name == "overall" else (0.90, 0.98)
        ratio = float(np.median(u95) / np.median(error))
        fine = least <= share <= most and ratio <= 3.5
        lines.append(
            f"| {name} | {count} | {np.median(error):.2f} | {np.median(u95):.1f} | {ratio:.2f} "
            f"| {100 * share:.1f} % | {100 * low:.1f} to {100 * high:.1f} % |"
            + ("" if fine else " not met")
        )
    return "\n".join(lines)


def fitted_factors(found: list[Reading]) -> dict[str, list[float]]:
    """Spreads of learnt colours beyond what else is stated, so that all together cover 95 %.

    Of neutrals, and over what leaving out said for vivid colours; for one kind of light.
    """
    lab = np.array([one.lab for one in found])
    axes = np.array([weighted_axes(one) for one in lab])
    inverse = np.linalg.inv(axes)
    off = np.einsum("nab,nb->na", inverse, lab - np.array([one.true for one in found]))
    known = np.einsum("nab,nbc,nac->na", inverse, np.array([one.given for one in found]), inverse)
    vivid = vividness(np.hypot(lab[:, 1], lab[:, 2]))
    grown = np.array([one.size for one in found]) * vivid[:, None]
    factors = np.zeros((2, 3))
    for k in range(3):

        def cost(logs: Array, k: int = k) -> float:
            variance = known[:, k] + np.exp(2 * logs[0]) + np.exp(2 * logs[1]) * grown[:, k] ** 2
            # Student's t with 6 degrees of freedom: some dyes are far off in any camera. What few
            # samples tell is held by a wide prior.
            misfit = (np.log(variance) + 7 * np.log1p(off[:, k] ** 2 / variance / 6)).sum()
            return float(misfit + ((logs - _USUAL_LOGS) ** 2).sum() / 2)

        factors[:, k] = np.exp(minimize(cost, _USUAL_LOGS, method="Nelder-Mead").x)
    scale = _covering(found, axes, factors[0] ** 2 + (factors[1] * grown) ** 2)
    neutral, of_vivid = (scale * factors).round(4).tolist()
    return {"neutral": neutral, "vivid": of_vivid}


def _covering(found: list[Reading], axes: Array, variance: Array) -> float:
    """Factor on spreads (squares (n, 3)) at which 95 % of all are held, by halving the interval."""
    low, high = 0.7, 2.2
    for _ in range(5):
        scale = (low + high) / 2
        held = [
            one.error <= u95_of(one.lab, one.given + (turn * scale**2 * own) @ turn.T)
            for one, turn, own in zip(found, axes, variance, strict=True)
        ]
        low, high = (low, scale) if np.mean(held) >= COVERED else (scale, high)
    return high


def write_constants(readings: list[Reading]) -> None:
    """Fit what is still wrong with learnt colours, and write it."""
    spread = {}
    for kind, way in TAUGHT.items():
        of_way = [one for one in readings if one.way == way]
        spread[kind] = {
            light: fitted_factors([one for one in of_way if one.kind == light]) for light in LIGHTS
        }
        print(kind, spread[kind])
    made = {
        "made_by": "tests/studies/uncertainty.py",
        "sources": "as tests/studies/camera_constants.py",
        "spread": spread,
    }
    OUT.write_text(json.dumps(made, indent=2) + "\n", encoding="utf-8")


def judged(every: int, workers: int) -> list[str]:
    """Both tables of the judging cameras."""
    readings = run(JUDGING[::every], JUDGING_FROM, workers)
    return [table(readings), margin_lines(readings)]


def main() -> None:
    """Judge, or make the constants."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--constants", action="store_true", help="fit, on the fitting cameras")
    parser.add_argument("--fitting", action="store_true", help="print the fitting cameras' table")
    parser.add_argument("--every", type=int, default=1, help="only every so many-th camera")
    parser.add_argument("--workers", type=int, default=1)
    parser.add_argument("--keep", type=Path, help="also write the readings here (pickle)")
    asked = parser.parse_args()
    fits = asked.constants or asked.fitting
    cameras, first = (FITTING, FITTING_FROM) if fits else (JUDGING, JUDGING_FROM)
    readings = run(cameras[:: asked.every], first, asked.workers, fits)
    if asked.keep:
        asked.keep.write_bytes(pickle.dumps(readings))
    print(table(readings))
    print(margin_lines(readings))
    if asked.constants:
        write_constants(readings)


if __name__ == "__main__":
    main()
