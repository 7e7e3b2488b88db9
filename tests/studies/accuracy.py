"""How good the numbers are: the table, and whether what is stated holds.

Run from the checkout's top::

    python -m tests.studies.accuracy            # prints all of it, 10 minutes on one core
    python -m tests.studies.accuracy --readme   # and puts it into README.md
    python -m tests.studies.accuracy --renders  # full renders alone (--raw: raw light alone)

First the signals of many photographs by format, light and reference (``uncertainty``). Then
photographs drawn pixel by pixel (``tests/render``), by cameras that no constant was fitted to, in
daylight from D50 to D75 and under LEDs, with all troubles of the stated range mixed. Beside the
program stand a perfect reader of greys (no noise, exact light and white, this camera's own colours)
and work by hand (one grey, the photo decoded as sRGB).

Renders of JPEGs are held a little more often than their signals. Both have the same looks, prints,
tints and brighteners; but neutrals, which are held least often, are a fifth of the renders' pieces
and a third of the signals', and renders map no tones locally. Signals of the fitting cameras in
daylight, their colours weighed as in renders and without that mapping, hold 97.4 % (96.6 % as they
are); renders of those cameras 97.3 %. What 45 photos hold beyond that is chance: one photo's pieces
share its look.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Iterable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.errors import DyeshadeError
from dyeshade.measure.photo_to_shade import measure_photo
from dyeshade.paper.reference_sheet import write_sheet_pdf
from dyeshade.photo.read import read_photo
from dyeshade.sheet.layout import build_layout
from dyeshade.sheet.layout_json import layout_to_json
from tests.render import (
    Sheet,
    by_hand_lab,
    load_sheet,
    perfect_reader_lab,
    random_scene,
    render,
)
from tests.studies.camera_constants import FITTING
from tests.studies.colour_data import sensitivities
from tests.studies.uncertainty_signals import print_in_light

PHOTOS = 60
LED_PHOTOS = 15
JUDGING = sorted(set(sensitivities()) - set(FITTING))
README = Path(__file__).parents[2] / "README.md"
MARKS = "<!-- accuracy table: start -->", "<!-- accuracy table: end -->"
SIGNAL_MARKS = (
    ("<!-- signals table: start -->", "<!-- signals table: end -->"),
    ("<!-- margins table: start -->", "<!-- margins table: end -->"),
)
LOOKS = {"mild": 0.15, "typical": 0.6, "strong": 0.25}
"""How often each strength of a maker's look: together they err on a chart by 4.5 on average, as
real photographs do (4.6; ``python -m tests.render.calibrate_look``)."""
RAW_FROM = 4000
RAW_LINE = "raw light (DNG), daylight"
EIGHT_KINDS = [(p, c, k) for p in ("A4", "Letter") for c in ("six", "one") for k in (False, True)]


@dataclass(frozen=True)
class Row:
    """One sample of one photo."""

    photo: int
    camera: str
    light: str
    look: str
    piece: str
    error: float
    limit: float
    hand: float
    u95: float
    flags: tuple[str, ...]
    off: tuple[float, ...]
    lab: tuple[float, ...]


@dataclass(frozen=True)
class Refusal:
    """A photo that was not read."""

    photo: int
    code: str


@cache
def sheet_of(paper: str, cells: str, colours: bool, px_per_mm: float = 8) -> Sheet:
    """A printed sheet of one kind, for the renderer; as fine as the finest photo sees it."""
    layout = build_layout(paper, cells, colours, serial="")
    with tempfile.TemporaryDirectory() as folder:
        page = Path(folder) / "sheet.pdf"
        write_sheet_pdf(layout, page)
        return load_sheet(page, layout_to_json(layout), px_per_mm)


def look_of(number: int) -> str:
    """Each strength as often as `LOOKS` says among every twenty photos, in an order by chance."""
    each = [name for name, share in LOOKS.items() for _ in range(round(20 * share))]
    return str(np.random.default_rng([20250314, number // 20, 94]).permutation(each)[number % 20])


def study_photo(
    number: int, led: bool, look: str | None = None, raw: bool = False
) -> list[Row] | Refusal:
    """Render, read and compare one photo of the study; `raw`: what the sensor saw, as a DNG."""
    rng = np.random.default_rng([20250314, number])
    # Four photos in five are of the six-cell sheet, the common one.
    kinds = [kind for kind in EIGHT_KINDS if kind[1] == ("one" if number % 5 == 4 else "six")]
    sheet = sheet_of(*kinds[rng.integers(len(kinds))])
    camera = JUDGING[number % len(JUDGING)]
    if look is None:
        look = look_of(number)
    kind = "led" if led else "daylight"
    of_print = np.random.default_rng([20250314, number, 95])
    printed = print_in_light(kind, of_print, of_print)
    scene = random_scene(rng, sheet, kind, look=look, camera=camera, printed=printed)
    if raw:
        scene = scene.with_(file_format="dng")
    rendered = render(scene)
    with tempfile.TemporaryDirectory() as folder:
        file = rendered.save(Path(folder) / f"photo-{number}")
        try:
            measured = measure_photo(read_photo(file), light="led" if led else None)
        except DyeshadeError as error:
            return Refusal(number, error.code)
    told = tuple(notice.code for notice in measured.notices)
    rows = []
    for sample in measured.samples:
        truth = rendered.truth["cells"].get(sample.name)
        if truth is None:
            rows.append(
                Row(
                    number,
                    camera,
                    scene.light,
                    scene.look,
                    "nothing there",
                    99,
                    0,
                    0,
                    0,
                    (),
                    (),
                    (),
                )
            )
            continue
        true = truth["lab"]
        perfect = perfect_reader_lab(scene, truth["spectrum"])
        rows.append(
            Row(
                number,
                camera,
                scene.light,
                scene.look,
                truth["kind"],
                float(ciede2000(sample.shade.lab, true)),
                float(ciede2000(perfect, true)),
                float(ciede2000(by_hand_lab(rendered, sample.name), true)),
                sample.shade.u95,
                told + tuple(notice.code for notice in sample.notices),
                tuple(np.round(sample.shade.lab - true, 2)),
                tuple(np.round(true, 1)),
            )
        )
    return rows


def _one(job: tuple[int, bool, str | None, bool]) -> list[Row] | Refusal:
    return study_photo(*job)


def run(
    photos: Iterable[int],
    led_from: int,
    look: str | None = None,
    workers: int = 2,
    raw: bool = False,
) -> tuple[list[Row], list[Refusal]]:
    """All photos of the study, those numbered `led_from` and above under LEDs."""
    jobs = [(number, number >= led_from, look, raw) for number in photos]
    with ProcessPoolExecutor(workers) as pool:
        results = list(pool.map(_one, jobs))
    rows = [row for result in results if not isinstance(result, Refusal) for row in result]
    return rows, [result for result in results if isinstance(result, Refusal)]


def table_line(name: str, rows: list[Row]) -> str:
    """One line of the table."""
    error, limit, hand, u95 = (
        np.array([getattr(row, key) for row in rows]) for key in ("error", "limit", "hand", "u95")
    )
    return (
        f"| {name} | {len(rows)} | {np.median(error):.2f} | {np.median(limit):.2f} "
        f"| {np.median(hand):.2f} | {np.percentile(error, 95):.1f} | {np.median(u95):.1f} "
        f"| {100 * np.mean(error <= u95):.0f} % |"
    )


def table(rows: list[Row], plain: list[Row], raw: list[Row]) -> str:
    """The renders' table."""
    led = [row for row in rows if row.light.startswith("LED")]
    day = [row for row in rows if not row.light.startswith("LED")]
    lines = [
        "| photos | samples | measured | perfect reader | by hand | 95 in 100 | u95 | held |",
        "| --- | --: | --: | --: | --: | --: | --: | --: |",
        table_line("JPEG, PNG, TIFF as cameras render them, daylight", day),
        table_line("the same, LED", led),
        table_line("all", rows),
        table_line("cameras that do not embellish, daylight", plain),
        table_line(RAW_LINE, raw),
    ]
    return "\n".join(lines)


def renders(photos: int, workers: int, every_row: bool) -> str:
    """Render and read photos; the table."""
    led_from = photos - photos * LED_PHOTOS // PHOTOS
    rows, refused = run(range(photos), led_from, workers=workers)
    plain, _ = run(range(1000, 1000 + photos // 3), 9999, "none", workers)
    raw, refused_raw = run(range(RAW_FROM, RAW_FROM + photos // 2), 9999, None, workers, raw=True)
    if every_row:
        print(*rows, *plain, *raw, sep="\n")
    print(f"read {photos - len(refused)} of {photos}; refused:", refused, refused_raw)
    return table(rows, plain, raw)


def main() -> None:
    """Run the study, print its tables, say what was refused."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--readme", action="store_true", help="put the tables into README.md")
    parser.add_argument("--renders", action="store_true", help="full renders alone")
    parser.add_argument("--raw", action="store_true", help="renders of raw light alone")
    parser.add_argument("--photos", type=int, default=PHOTOS)
    parser.add_argument("--every", type=int, default=1, help="signals of every so many-th camera")
    parser.add_argument("--rows", action="store_true", help="print every sample of the renders")
    parser.add_argument("--workers", type=int, default=2)
    asked = parser.parse_args()
    if asked.raw:
        photos = range(RAW_FROM, RAW_FROM + asked.photos // 2)
        raw, refused = run(photos, 9999, None, asked.workers, raw=True)
        if asked.rows:
            print(*raw, sep="\n")
        print(table_line(RAW_LINE, raw), "refused:", refused)
        return
    parts = []
    if not asked.renders:
        # Tests take what they need from here: they are spared what only the study needs.
        from tests.studies import uncertainty

        parts = uncertainty.judged(asked.every, asked.workers)
        print(*parts, sep="\n\n", flush=True)
    drawn = renders(asked.photos, asked.workers, asked.rows)
    print(drawn)
    if asked.readme:
        page = README.read_text(encoding="utf-8")
        for marks, text in (*zip(SIGNAL_MARKS, parts, strict=False), (MARKS, drawn)):
            page = between(page, marks, text)
        README.write_text(page, encoding="utf-8")


def between(page: str, marks: tuple[str, str], text: str) -> str:
    """The page with a text between two marks."""
    before, rest = page.split(marks[0])
    after = rest.split(marks[1])[1]
    return f"{before}{marks[0]}\n{text}\n{marks[1]}{after}"


if __name__ == "__main__":
    main()
