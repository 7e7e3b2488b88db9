"""What calibrating brings: a camera learnt from a chart, a sheet learnt beside one.

Run from the checkout's top::

    python -m tests.studies.calibration             # judges, 4 minutes on one core
    python -m tests.studies.calibration --fitting   # constants of sheets, by the fitting cameras

Half of the measured cameras, those of ``camera_constants``, fit: constants and the ways of fitting
were chosen on them. The other half judges. Each camera photographs a chart of 24 patches on a
printed sheet with colours, and then, in other light of the same kind, the 99 test colours of
CIE 224:2017 on the same sheet: as JPEG without and with a maker's look (saturation that depends on
chroma, hue and lightness, S-curves; in every second camera local tone mapping), and raw. Light is
daylight of D50 to D75, another in each photo, or one of six kinds of LED. A perfect reader of greys
(no noise, exact light, white and curve) stands beside.

Sources: as ``tests/render/spectra.py``; the chart's spectra are ISO 17321-1. Real photographs:
``tests/data/real_charts.csv``; of one camera there are two.
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.lab import lab_to_xyz, xyz_to_lab
from dyeshade.cie.spread import u95_of
from dyeshade.measure.calibrate_sheet import SCALE_SPREAD, _greys_of_print
from dyeshade.measure.calibrated_spread import with_spread
from dyeshade.measure.calibrations import SheetCalibration
from dyeshade.measure.chart_light import ChartSignals, solve_chart
from dyeshade.measure.greys import _PRINT_SPREAD
from dyeshade.measure.learn_colours import Learnt, learn_colours
from dyeshade.measure.light_field import field_for_page
from dyeshade.measure.own_colours import OwnColours
from dyeshade.measure.propagate import _BRIGHTENED
from dyeshade.measure.sheet_colours import with_known_greys
from dyeshade.measure.typical_camera import camera_base, camera_light
from dyeshade.measure.typical_colours import typical_colours
from tests.render.spectra import chart_colours, cie224_colours, lab_of
from tests.studies import colour_data
from tests.studies.calibration_signals import (
    COLOUR_PLACES,
    LAYOUT,
    Array,
    Shot,
    grey_signals_of,
    light_of,
    places_in_cell,
    printed_sheet,
    shot,
    solve,
)
from tests.studies.camera_constants import CHART_PAGE, FITTING, real_chart_fit

OUT = Path(__file__).parents[2] / "resources" / "measure" / "calibrated.json"
JUDGING = sorted(set(colour_data.sensitivities()) - set(FITTING))
COVERED = 0.95
LEDS = ("LED-B1", "LED-B2", "LED-B3", "LED-B4", "LED-B5", "LED-V1")
ROWS = [
    (kind, look, raw)
    for kind in ("daylight", "LED")
    for look, raw in (("none", False), ("typical", False), ("none", True))
]


@dataclass(frozen=True, eq=False)
class Case:
    """What one camera got right, each shape (99,) in CIEDE2000 unless told."""

    limit: Array
    greys: Array
    camera: Array
    camera_and_print: Array
    sheet: Array
    learnt: Learnt
    by_sheet: Learnt
    sheet_lab: Array
    seen_by_camera: Array
    seen_by_sheet: Array
    greys_off: float
    scale_off: float
    tint_off: Array
    colours_left_out: float


def case(camera: str, number: int, kind: str, look: str, raw: bool) -> Case:
    """One camera: calibrated on its first photo, judged on its second."""
    seed = 100 + number
    daylight = kind == "daylight"
    named = "window" if daylight else "led"
    # Whatever daylight there was on the two days, within the stated range.
    kelvin = np.random.default_rng([seed, 87]).uniform(5000, 7500, 2)
    first = f"daylight {kelvin[0]:.0f}" if daylight else LEDS[number % 6]
    second = f"daylight {kelvin[1]:.0f}" if daylight else first
    sheet = printed_sheet(seed)
    chart, tests = chart_colours(), cie224_colours()
    one = shot(camera, first, look, raw, 1, seed)
    base = camera_base(one.to_xyz, not raw)
    places = places_in_cell(24, seed)
    signal = one.see(chart, places, 2, 0.5)
    usable = (signal < 0.985).all(axis=1) & (signal > 0).all(axis=1)
    seen = ChartSignals(places, lab_of(chart), signal, 3e-4 + 1.5e-3 * signal, usable)
    field = field_for_page(LAYOUT.paper_mm)
    greys = grey_signals_of(one, sheet)
    solved = solve_chart(seen, field, one.to_xyz, not raw, greys)
    learnt = learn_colours(solved.light[usable], seen.lab[usable], base, not raw)
    kind_of = "raw" if raw else "rendered"
    own = with_spread(learnt, seen.lab[usable], f"camera_{kind_of}", named)
    levels, of_print = _greys_of_print(solved.fit, greys, one.to_xyz)
    colours = _lab_by(one, solved.fit, one.see(sheet.colours, COLOUR_PLACES, 3, 0.5), own)
    print_ = SheetCalibration("S", "A4", "one", "chart", levels, of_print, SCALE_SPREAD)
    two = shot(camera, second, look, raw, 2, seed)
    plain = grey_signals_of(two, sheet)
    fit_plain = solve(two, plain)
    fit = solve(two, with_known_greys(plain, print_, two.to_xyz))
    where = places_in_cell(99, seed + 7)
    shown = two.see(tests, where, 4, 1.0)
    patches = light_of(two, fit, two.see(sheet.colours, COLOUR_PLACES, 5, 0.5), COLOUR_PLACES)
    fine = (patches > 0).all(axis=1)
    by_sheet = learn_colours(patches[fine], colours[fine], base, not raw)
    own_sheet = with_spread(by_sheet, colours[fine], f"sheet_{kind_of}", named)
    true = lab_of(tests)
    light, light_plain = (light_of(two, one_fit, shown, where) for one_fit in (fit, fit_plain))
    by_camera = own.lab(light_plain)
    as_cameras_are = typical_colours(two.to_xyz, not raw, named)
    seen_sheet = own_sheet.lab(light)
    known = with_known_greys(plain, print_, two.to_xyz)
    off = np.log(known.reflectance / (lab_to_xyz(lab_of(sheet.greys))[:, 1]))
    paper = np.log(two.channels(sheet.greys[-1:])[0])
    tint = np.broadcast_to(known.tint, (len(off), 3))[-1]
    return Case(
        ciede2000(two.perfect(tests), true),
        ciede2000(as_cameras_are.lab(light_plain), true),
        ciede2000(by_camera, true),
        ciede2000(own.lab(light), true),
        ciede2000(seen_sheet, true),
        learnt,
        by_sheet,
        colours[fine],
        by_camera,
        seen_sheet,
        float(np.sqrt(np.mean(off**2))),
        float(np.median(off[-4:])),
        (tint - tint[1]) - (paper - paper[1]),
        by_sheet.error,
    )


def _lab_by(photo: Shot, fit: object, signal: Array, own: OwnColours) -> Array:
    return own.lab(light_of(photo, fit, signal, COLOUR_PLACES))  # type: ignore[arg-type]


def covered(cases: list[tuple[Array, Learnt, Array, str]], kind: str) -> float:
    """Share of every seventh test colour within the 95 % that the calibration alone states."""
    true = lab_of(cie224_colours())[::7]
    held = []
    for seen, learnt, lab, light in cases:
        own = with_spread(learnt, lab, kind, light)
        for one, other in zip(seen[::7], true, strict=True):
            limit = u95_of(one, own.covariance(one))
            held.append(float(ciede2000(one, other)) <= limit)
    return float(np.mean(held))


def _triples(cases: dict[tuple[str, str, bool], list[Case]]) -> dict[str, list[tuple]]:
    out: dict[str, list[tuple]] = {}
    lab = lab_of(chart_colours())
    for (light, _, raw), found in cases.items():
        named = "window" if light == "daylight" else "led"
        for one in found:
            end = "raw" if raw else "rendered"
            whole = lab if len(one.learnt.left_out) == len(lab) else lab[: len(one.learnt.left_out)]
            by_camera = one.seen_by_camera, one.learnt, whole, named
            out.setdefault(f"camera_{end}", []).append(by_camera)
            out.setdefault(f"sheet_{end}", []).append(
                (one.seen_by_sheet, one.by_sheet, one.sheet_lab, named)
            )
    return out


def run(cameras: list[str]) -> dict[tuple[str, str, bool], list[Case]]:
    """All rows for some cameras."""
    return {row: [case(name, k, *row) for k, name in enumerate(cameras)] for row in ROWS}


def real_chart_light(photo: dict[str, Array]) -> Array:
    """Camera light (24, 3) of a real photograph's patches, by its six neutrals."""
    fit = real_chart_fit(photo)
    middle = np.tile(np.array(CHART_PAGE) / 2, (24, 1))
    white = np.exp(fit.white - fit.white[1])
    reflectance = fit.reflectance(photo["signal"], middle)
    return camera_light(reflectance, white, colour_data.srgb_matrix())


def real_rows() -> tuple[float, float, float]:
    """Real photographs: leave-one-patch-out over greys alone; one photo's camera on another photo.

    Means of CIEDE2000 over patches 1 to 18: the first is a ratio over all photographs; the others
    are greys alone and calibrated on the other photo of that camera, both ways.
    """
    base = camera_base(colour_data.srgb_matrix())
    photos = {n: (real_chart_light(p), p["lab"]) for n, p in colour_data.real_chart_rows().items()}
    greys, left, before, after = [], [], [], []
    for light, lab in photos.values():
        greys.append(ciede2000(xyz_to_lab(light @ base.T), lab)[:18].mean())
        # Left out all the way: the way of fitting is chosen without the patch as well.
        apart = [
            learn_colours(np.delete(light, k, 0), np.delete(lab, k, 0), base, True).colours.lab(
                light[k]
            )
            for k in range(18)
        ]
        left.append(ciede2000(np.array(apart), lab[:18]).mean())
    for one, other in ((1, 2), (2, 1)):
        light, lab = photos[one]
        own = learn_colours(light, lab, base, rendered=True).colours
        light, lab = photos[other]
        before.append(ciede2000(xyz_to_lab(light @ base.T), lab)[:18].mean())
        after.append(ciede2000(own.lab(light), lab)[:18].mean())
    return float(np.mean(left) / np.mean(greys)), float(np.mean(before)), float(np.mean(after))


def _median(cases: list[Case], key: str) -> float:
    return float(np.median(np.concatenate([getattr(one, key) for one in cases])))


def report(cases: dict[tuple[str, str, bool], list[Case]]) -> None:
    """Print the table and each criterion with its figure."""
    print("| light | look | file | perfect | greys | camera | and print | sheet | greys off |")
    print("| --- | --- | --- | --: | --: | --: | --: | --: | --: |")
    for (kind, look, raw), found in cases.items():
        keys = ("limit", "greys", "camera", "camera_and_print", "sheet")
        medians = " | ".join(f"{_median(found, key):.2f}" for key in keys)
        off = 100 * float(np.median([one.greys_off for one in found]))
        print(f"| {kind} | {look} | {'raw' if raw else 'JPEG'} | {medians} | {off:.1f} % |")
    plain = [one for row in ROWS if row[1:] == ("none", False) for one in cases[row]]
    vendor = [one for row in ROWS if row[1] == "typical" for one in cases[row]]
    day = cases["daylight", "none", True]
    day_plain = cases["daylight", "none", False]
    greys, limit = (_median(plain, key) for key in ("greys", "limit"))
    day_limit = _median(day_plain, "limit")
    wanted = [
        ("JPEG without a look, greys over the perfect reader", greys / limit, 1.1),
        ("the same in daylight alone", _median(day_plain, "greys") / day_limit, 1.1),
        ("JPEG without a look, calibrated camera over it", _median(plain, "camera") / limit, 1.1),
        ("the same in daylight alone", _median(day_plain, "camera") / day_limit, 1.1),
        ("raw, calibrated camera, daylight, median", _median(day, "camera"), 1.2),
        ("the same, print calibrated as well", _median(day, "camera_and_print"), 1.2),
        (
            "JPEG with a look, colours of the sheet over greys alone",
            _median(vendor, "sheet") / _median(vendor, "greys"),
            0.6,
        ),
    ]
    ratio, before, after = real_rows()
    wanted.append(("real photographs, each patch left out, over greys alone", ratio, 0.8))
    for name, value, most in wanted:
        print(f"{'met ' if value <= most else 'NOT '} {name}: {value:.2f} (at most {most})")
    print(f"real camera, other photo: greys {before:.2f}, calibrated {after:.2f}")
    for kind, triples in _triples(cases).items():
        print(f"{kind}: {100 * covered(triples, kind):.0f} % within the calibration's own 95 %")
    left = [one.colours_left_out for found in cases.values() for one in found]
    print(f"sheet's colours left out: median {np.median(left):.1f}, largest {max(left):.1f}")
    scale = [one.scale_off for found in cases.values() for one in found]
    print(f"paper learnt from the chart: off by {100 * np.std(scale):.1f} % (one spread)")
    # What is stated grows with the light that makes brighteners shine.
    tint = [
        one.tint_off[2] / _BRIGHTENED["daylight" if light == "daylight" else "led"]
        for (light, _, _), found in cases.items()
        for one in found
    ]
    print(f"its tint, blue against green: off by {np.sqrt(np.mean(np.square(tint))):.4f}")
    off = [one.greys_off for row in ROWS if not row[2] for one in cases[row]]
    share = float(np.sqrt(np.mean(np.square(off)) / np.mean(_PRINT_SPREAD**2)))
    print(f"levels of grey learnt in a JPEG: {share:.2f} of what they may be off without")


def main() -> None:
    """Judge."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--fitting", action="store_true", help="by the cameras that fit")
    parser.add_argument("--every", type=int, default=1, help="only every so many-th camera")
    asked = parser.parse_args()
    report(run((FITTING if asked.fitting else JUDGING)[:: asked.every]))


if __name__ == "__main__":
    main()
