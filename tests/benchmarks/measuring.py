"""How long measuring a photo takes, and how much memory, beside what no program could do without.

Run from the checkout's top; takes five minutes or so::

    python -m tests.benchmarks.measuring                  # 24 photos for the two workers
    python -m tests.benchmarks.measuring --photos 100 --runs 9
    python -m tests.benchmarks.measuring --only jpeg memory --folder FOLDER

Printed are ratios, each within one run and warm, what is compared taken by turns; the middle one of
several. "By the clock" is what a person waits; "of the processors" leaves out what else the machine
does, and is the one to trust on a busy one. The photos are rendered (``tests/render``): the six
cochineal skeins of the example images at 12 megapixels, with the grain of a phone's sensor and
without, and the same enlarged to 48. With ``--folder`` they stay there, and are found there the
next time.
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import cv2
import numpy as np
import pillow_heif
from PIL import Image

from dyeshade.photo.heif import read_heif
from dyeshade.work.measure_photos import measure_file, measure_photos
from tests.benchmarks import THREADS
from tests.photo.raw_files import heic10
from tests.render.make_examples import example_scenes, print_sheet
from tests.render.photograph import render

PARTS = ("jpeg", "heic", "memory", "workers", "cold")
BARE_IMPORTS = "import cv2, numpy, PIL, colour"
_PX_PER_MM = 14.0
_LONG_SIDE_12 = 4000
_GRAIN_12 = 5.0
"""Of 255 codes. With it the JPEG of quality 95 has 4 MB. Phones' photos of 12 megapixels have 3 to
5 (common practice, no source), most of which is the grain of their sensors; the same rendered
without is not half of that, and decoded the sooner for it."""

_NOISE_48 = 3.0
"""Of 1023 codes: noise that enlarging has smoothed away, and that a decoder has to unpack."""

_MEMORY_OF_ONE = """
import sys
import dyeshade.measure.photo_to_shade, dyeshade.photo.read
from dyeshade.work.measure_photos import measure_file
def most():
    lines = open("/proc/self/status").read().splitlines()
    return next(int(line.split()[1]) for line in lines if line.startswith("VmHWM"))
before = most()
found = measure_file(sys.argv[1]).found
assert not isinstance(found, Exception), found
print((most() - before) * 1024)
"""
"""Linux tells a process's own peak there; what `resource` tells, a new process inherits."""


@dataclass(frozen=True)
class Row:
    """A line of the table; `by_clock` and `of_processors` are what the heading says of them."""

    what: str
    goal: str
    by_clock: float
    of_processors: float | None = None


def with_grain(smooth: Path) -> Path:
    """The same JPEG as a sensor would have seen it, beside the one without grain."""
    path = smooth.with_name("12 megapixels with grain.jpg")
    if not path.exists():
        codes = np.asarray(Image.open(smooth), np.float32)
        noise = np.random.default_rng(12).standard_normal(codes.shape, np.float32)
        codes = np.clip(np.rint(codes + np.float32(_GRAIN_12) * noise), 0, 255)
        Image.fromarray(codes.astype(np.uint8)).save(path, quality=95)
    return path


def make_photos(folder: Path, heic: bool) -> tuple[Path, Path]:
    """A JPEG of 12 megapixels and, where wanted, a HEIC of 48 with ten bits; both in `folder`."""
    jpeg, big = folder / "12 megapixels.jpg", folder / "48 megapixels.heic"
    if jpeg.exists() and (big.exists() or not heic):
        return jpeg, big
    sheets = [print_sheet(cells, folder, _PX_PER_MM) for cells in ("six", "one")]
    scene, _ = example_scenes(*sheets)["ph_series_wool.jpg"]
    done = render(scene.with_(long_side_px=_LONG_SIDE_12, quality=92))
    done.save(jpeg)
    if heic:
        fine = cv2.resize(
            np.asarray(done.upright, np.uint8), None, fx=2, fy=2, interpolation=cv2.INTER_CUBIC
        )
        noise = np.random.default_rng(48).standard_normal(fine.shape, np.float32)
        codes = np.rint(fine * np.float32(1023.0 / 255.0) + np.float32(_NOISE_48) * noise)
        codes = np.clip(codes, 0, 1023)
        big.write_bytes(heic10(codes.astype(np.uint16), quality=85, chroma=420))
    return jpeg, big


def ratio_by_turns(
    own: Callable[[], object], bare: Callable[[], object], runs: int
) -> tuple[float, float]:
    """Middle ratio of `own` to `bare`, by the clock and of the processors; both warm."""
    own(), bare()
    told = [(_seconds(own), _seconds(bare)) for _ in range(runs)]
    return (
        statistics.median(mine[0] / other[0] for mine, other in told),
        statistics.median(mine[1] / other[1] for mine, other in told),
    )


def _seconds(work: Callable[[], object]) -> tuple[float, float]:
    begun = time.perf_counter(), _processors()
    work()
    return time.perf_counter() - begun[0], _processors() - begun[1]


def _processors() -> float:
    """Seconds that this process and those that it has waited for have had of the processors."""
    who = resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN
    return sum(sum(resource.getrusage(one)[:2]) for one in who)


def measured(path: Path) -> None:
    """Measure as a worker does; a photo that is refused would be no measure of anything."""
    found = measure_file(str(path)).found
    if isinstance(found, Exception):
        raise found


def bare_jpeg(path: Path) -> None:
    """Pillow decodes, and that is all."""
    with Image.open(path) as image:
        image.load()


def bare_heic(path: Path) -> None:
    """The decoder decodes, to ten bits, and that is all."""
    np.asarray(pillow_heif.open_heif(path, convert_hdr_to_8bit=False))


def bytes_a_pixel(path: Path, pixels: float) -> float:
    """Peak memory of measuring one photo, beyond what the process had after its imports."""
    command = [sys.executable, "-c", _MEMORY_OF_ONE, str(path)]
    told = subprocess.run(command, check=True, capture_output=True, text=True)
    return int(told.stdout) / pixels


def workers_row(path: Path, photos: int) -> Row:
    """Many photos with one worker and with two."""

    def with_workers(workers: int) -> Callable[[], None]:
        def work() -> None:
            for outcome in measure_photos([str(path)] * photos, workers=workers):
                if isinstance(outcome.found, Exception):
                    raise outcome.found
            # What the workers had of the processors is told once they are waited for.
            for child in multiprocessing.active_children():
                child.join()

        return work

    one, two = _seconds(with_workers(1)), _seconds(with_workers(2))
    # Two processors would do the work of `two` in half its time, were nobody else there.
    gain = one[0] / two[0], 2 * one[1] / two[1]
    return Row(f"{photos} photos: two workers, times as quick as one", ">= 1.8", *gain)


def cold_row(path: Path, runs: int) -> Row:
    """The command on one photo, to the bare imports; each a new process."""

    # As whoever types it has it, without what `tests/benchmarks` sets.
    plain = {name: value for name, value in os.environ.items() if name not in THREADS}

    def run(*words: str) -> Callable[[], None]:
        def work() -> None:
            subprocess.run([sys.executable, *words], check=True, capture_output=True, env=plain)

        return work

    own = run("-m", "dyeshade", "measure", str(path))
    ratio = ratio_by_turns(own, run("-c", BARE_IMPORTS), runs)
    return Row(f"`dyeshade measure`, cold, to `{BARE_IMPORTS}`", "<= 2.0", *ratio)


def rows(folder: Path, parts: set[str], runs: int, photos: int) -> list[Row]:
    """The table."""
    jpeg, heic = make_photos(folder, heic=bool({"heic", "memory"} & parts))
    told = []
    if "jpeg" in parts:
        grain = with_grain(jpeg)
        ratio = ratio_by_turns(lambda: measured(grain), lambda: bare_jpeg(grain), runs)
        what = "a JPEG of 12 megapixels with a sensor's grain, to Pillow's decoding"
        told.append(Row(what, "<= 2.0", *ratio))
        ratio = ratio_by_turns(lambda: measured(jpeg), lambda: bare_jpeg(jpeg), runs)
        told.append(Row("(the same rendered without grain)", "", *ratio))
    if "heic" in parts:
        few = max(2, runs // 2)
        ratio = ratio_by_turns(lambda: measured(heic), lambda: bare_heic(heic), few)
        told.append(Row("a HEIC of 48 megapixels, to its decoding", "<= 1.5", *ratio))
        bare = ratio_by_turns(lambda: read_heif(heic.read_bytes()), lambda: bare_heic(heic), few)
        told.append(Row("(reading that HEIC alone)", "", *bare))
    if "memory" in parts:
        told.append(
            Row("peak memory of the JPEG, bytes a pixel", "<= 16", bytes_a_pixel(jpeg, 12e6))
        )
        told.append(
            Row("peak memory of the HEIC, bytes a pixel", "<= 16", bytes_a_pixel(heic, 48e6))
        )
    if "workers" in parts:
        told.append(workers_row(jpeg, photos))
    if "cold" in parts:
        told.append(cold_row(jpeg, runs))
    return told


def main() -> None:
    """Make the photos, measure them, and print."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--photos", type=int, default=24)
    parser.add_argument("--folder", type=Path)
    parser.add_argument("--only", nargs="+", choices=PARTS, default=PARTS)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        told = rows(given.folder or Path(scratch), set(given.only), given.runs, given.photos)
    print("| what | goal | by the clock | of the processors |\n| --- | --: | --: | --: |")
    for row in told:
        other = "" if row.of_processors is None else f"{row.of_processors:.2f}"
        print(f"| {row.what} | {row.goal} | {row.by_clock:.2f} | {other} |")


if __name__ == "__main__":
    main()
