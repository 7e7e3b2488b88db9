"""How well two photos of unmoved cloths agree, solved from the signals of both.

Run from the checkout's top; some ten minutes, with renders half an hour; the result is printed::

    python -m tests.studies.drift
    python -m tests.studies.drift --pairs 20 --renders 6

Cloths lie on a sheet with colours and are photographed twice by one camera: another angle of the
light, another exposure, another daylight from D50 to D75 and white balance (or the same daylight
and nearly the same white balance, `WHITE_AGAIN`), with a maker's look or without. Cameras are those
that no constant was fitted to (`--fitting`: the others, to tune with). Pairs are signals
(``tests.studies.photo_signals``); `--renders` draws whole photos by the former, measures them as
the program does and solves what it kept. The wanted figures stand beside (this project's own).
Coverage counts the pairs whose difference from none lies within the stated 95 % ellipsoid, and for
faded cloths (reflectance to the power of 0.85) whose stated difference does so about the true one.
Lines of their own hold exposure, white balance or both to the first photo's, or have the camera
find another white balance in the same light: a look bends a colour elsewhere when the same colour
stands lighter or off white.
"""

from __future__ import annotations

import argparse
import json
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from scipy.stats import chi2

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.spread import u95_of
from dyeshade.measure.difference import difference_of, solve_alone, solve_pair
from dyeshade.measure.kept_signals import KeptSignals, kept_signals
from dyeshade.measure.photo_to_shade import measure_photo
from dyeshade.photo.read import read_photo
from dyeshade.sheet.layout import build_layout
from tests.render import render
from tests.render.pieces import Piece, random_spectrum
from tests.render.scene import Scene, random_scene
from tests.render.sheet import Sheet
from tests.render.spectra import Array, lab_of
from tests.studies.accuracy import JUDGING, LOOKS, sheet_of
from tests.studies.camera_constants import FITTING
from tests.studies.photo_signals import bare_sheet, kept_of, without_colours

LAYOUT = build_layout("A4", "six", True, "")
WANTED = {
    (False, False): (0.5, 1.6),
    (True, False): (0.8, 2.2),
    (False, True): (0.35, 1.0),
    (True, True): (0.35, 1.0),
}
"""By look and same light: median and 95th percentile, CIEDE2000, on a sheet with colours."""
HELD = (("exposure",), ("white balance",), ("exposure", "white balance"), ("nothing",))
"""What is held by hand in the lines that tell how much each adds, under the same light. White
balance held is one that errs alike in both photos, as where it is set by the sheet's paper; with
"nothing" even the white balance of one light is found anew, up to 20 % off in each photo."""
WHITE_AGAIN = 0.03
"""How far a camera's white balance comes out elsewhere in another photo under the same light. In
``tests/data/real_charts.csv`` photos 1 and 2 are by one camera in one light, and so, by all
appearance, are 3 and 4: white differs by at most 0.9 % in red and in blue against green, in the
median of their patches (``tests/main_job/test_real_chart_rows.py``). Here it is up to three times
that."""
FADE = 0.85


@dataclass(frozen=True, eq=False)
class Found:
    """One cloth in two photos: error of its difference, the statement, whether that held."""

    colours: bool
    error: float
    u95: float
    held: bool


def phone_scenes(
    rng: np.random.Generator,
    sheet: Sheet,
    number: int,
    cameras: Sequence[str],
    look: bool,
    count: int,
) -> tuple[list[Scene], dict[str, object]]:
    """Daylight photos of one sheet, and what they share, being of one phone and print."""
    camera = cameras[number % len(cameras)]
    name = str(rng.choice(list(LOOKS), p=list(LOOKS.values()))) if look else "none"
    drawn = [random_scene(rng, sheet, "daylight", look=name, camera=camera) for _ in range(count)]
    first = drawn[0]
    common: dict[str, object] = {
        "camera_seed": number,
        "print_seed": number,
        "printed": first.printed,
        "curve": first.curve,
        "curve_strength": first.curve_strength,
        "primaries": first.primaries,
        "file_format": "jpeg",
        "shadow_depth": 0.0,
    }
    return drawn, common


def two_scenes(
    number: int,
    look: bool,
    same_light: bool,
    sheet: Sheet,
    held: tuple[str, ...] = (),
    cameras: Sequence[str] = JUDGING,
) -> tuple[Scene, Scene]:
    """Two photos of one sheet by one camera.

    `held` tells what its owner has set by hand: "exposure" (within 5 %), "white balance" (it errs
    alike in both); with "nothing" not even the camera finds its white balance again.
    """
    rng = np.random.default_rng([20250602, number])
    (first, second), common = phone_scenes(rng, sheet, number, cameras, look, 2)
    common |= {"strands_over": 0, "leaf_over": False}
    if same_light:
        common |= {"light": first.light, "ambient_light": first.ambient_light}
    exposure = min(first.exposure, 1.0)
    later = exposure * rng.uniform(0.95, 1.05) if "exposure" in held else min(second.exposure, 1.0)
    white = second.white_error
    if "white balance" in held:
        white = first.white_error
    elif same_light and "nothing" not in held:
        white = white_again(rng, first.white_error)
    return (
        first.with_(exposure=exposure, **common),
        second.with_(exposure=later, white_error=white, **common),
    )


def white_again(rng: np.random.Generator, white_error: tuple[float, float]) -> tuple[float, float]:
    """The white balance of another photo by the same camera in the same light."""
    red, blue = white_error * (1 + WHITE_AGAIN * rng.uniform(-1, 1, 2))
    return float(red), float(blue)


def cloths_of(number: int) -> Array:
    """Reflectances of six cloths, shape (6, 81)."""
    rng = np.random.default_rng([20250603, number])
    # Mixtures of extrapolated spectra may fall a little below zero.
    return np.maximum([random_spectrum(rng) for _ in range(6)], 1e-3)


def signal_pair(
    number: int,
    look: bool,
    same_light: bool,
    faded: float = 1.0,
    held: tuple[str, ...] = (),
    cameras: Sequence[str] = JUDGING,
) -> tuple[KeptSignals, KeptSignals]:
    """Two photos as signals; the second shows the cloths faded where told."""
    first, second = two_scenes(number, look, same_light, bare_sheet(LAYOUT), held, cameras)
    cloths = cloths_of(number)
    return kept_of(first, LAYOUT, cloths), kept_of(second, LAYOUT, cloths**faded)


def rendered_pair(number: int, look: bool, same_light: bool) -> tuple[KeptSignals, KeptSignals]:
    """Two photos drawn, written, read and measured as the program does."""
    sheet = sheet_of("A4", "six", True)
    rng = np.random.default_rng([20250604, number])
    pieces = tuple(
        Piece(cell.name, "swatch", spectrum, height_mm=1.0, seed=int(rng.integers(2**31)))
        for cell, spectrum in zip(LAYOUT.cells, cloths_of(number), strict=True)
    )
    found = []
    for scene in two_scenes(number, look, same_light, sheet):
        with tempfile.TemporaryDirectory() as folder:
            file = render(scene.with_(pieces=pieces)).save(Path(folder) / "photo")
            measured = measure_photo(read_photo(file), light="window")
        kept = kept_signals(json.loads(json.dumps(measured.signals())))
        assert kept is not None
        found.append(kept)
    return found[0], found[1]


def judged(
    pair: tuple[KeptSignals, KeptSignals], true: dict[str, Array] | None = None
) -> Iterator[Found]:
    """What is stated of each cloth, by the colours and by greys alone, against the true change."""
    alone = [solve_alone(one, LAYOUT.paper_mm) for one in pair]
    first, second = alone
    if first is None or second is None:
        return
    for colours in (True, False):
        both = (first, second)
        if not colours:
            both = (
                replace(first, kept=without_colours(first.kept)),
                replace(second, kept=without_colours(second.kept)),
            )
        solved = solve_pair(*both)
        assert solved is not None
        for name in sorted(set(pair[0].samples) & set(pair[1].samples)):
            told = difference_of(solved, pair[0].samples[name], pair[1].samples[name], "window")
            gap = told.lab_to - told.lab_from - (np.zeros(3) if true is None else true[name])
            held = float(gap @ np.linalg.solve(told.covariance, gap)) <= chi2.ppf(0.95, 3)
            error = float(ciede2000(told.lab_to, told.lab_to - gap))
            yield Found(colours, error, u95_of(told.lab_to, told.covariance), held)


def report(name: str, found: list[Found], wanted: tuple[float, float] | None = None) -> None:
    """Print a line for the sheet with colours, and one for greys alone."""
    for colours in (True, False):
        of = [one for one in found if one.colours == colours]
        if not of:
            continue
        error = np.array([one.error for one in of])
        asked = ""
        if wanted is not None and colours:
            asked = f" (wanted {wanted[0]} and {wanted[1]})"
        print(
            f"{name}, {'colours' if colours else 'greys alone'}: {len(of)} cloths, median "
            f"{np.median(error):.2f}, 95 in 100 {np.percentile(error, 95):.2f}{asked}; "
            f"median u95 {np.median([one.u95 for one in of]):.2f}, within it "
            f"{np.mean([one.error <= one.u95 for one in of]):.3f}, within the ellipsoid "
            f"{np.mean([one.held for one in of]):.3f}",
            flush=True,
        )


def main() -> None:
    """Draw, solve and print."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--pairs", type=int, default=60)
    parser.add_argument("--renders", type=int, default=0)
    parser.add_argument("--first", type=int, default=0, help="number of the first pair")
    parser.add_argument("--fitting", action="store_true", help="the cameras to tune with")
    given = parser.parse_args()
    cameras = FITTING if given.fitting else JUDGING
    numbers = range(given.first, given.first + given.pairs)
    for look, same_light in WANTED:
        name = (
            f"{'maker’s looks' if look else 'no looks'}, {'same' if same_light else 'other'} light"
        )
        pairs = (signal_pair(number, look, same_light, cameras=cameras) for number in numbers)
        report(name, [one for pair in pairs for one in judged(pair)], WANTED[look, same_light])
        drawn = (rendered_pair(number, look, same_light) for number in numbers[: given.renders])
        report(f"rendered: {name}", [one for pair in drawn for one in judged(pair)])
    for held in HELD:
        pairs = (signal_pair(number, True, True, held=held, cameras=cameras) for number in numbers)
        name = f"maker’s looks, same light, held by hand: {' and '.join(held)}"
        report(name, [one for pair in pairs for one in judged(pair)], WANTED[True, True])
    found: list[Found] = []
    for number in numbers:
        cloths = cloths_of(number)
        change = lab_of(cloths**FADE) - lab_of(cloths)
        true = {cell.name: one for cell, one in zip(LAYOUT.cells, change, strict=True)}
        found += judged(signal_pair(number, True, False, FADE, cameras=cameras), true)
    report("faded, maker's looks, other light", found)


if __name__ == "__main__":
    main()
