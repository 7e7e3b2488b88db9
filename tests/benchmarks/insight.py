"""How long questions to a large library take, as ratios.

Run from the checkout's top; some seconds, or a minute::

    python -m tests.benchmarks.insight                     # 10,000 readings
    python -m tests.benchmarks.insight --readings 100000
    python -m tests.benchmarks.insight --readings 100000 --readme

Nearest shade stands beside the bare CIEDE2000 over the same array. The others stand beside SQLite
reading the rows that they are about, nothing made of them. ``--readme`` puts the table between its
marks in the README.
"""

from __future__ import annotations

import argparse
import sqlite3
import tempfile
from pathlib import Path

import numpy as np

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.insight.nearest import nearest_shades
from dyeshade.library.library import create_library
from dyeshade.library.shade_columns import shade_columns
from dyeshade.library.store import FILE_NAME
from tests.benchmarks.library import fill, seconds

WANTED = np.array([70.0, 0.0, 50.0])
README = Path(__file__).parents[2] / "README.md"


def rows_of(readings: int, folder: Path) -> list[tuple[str, float, float]]:
    """Each question with its seconds and those of what it stands beside."""
    with create_library(folder) as library:
        library._connection.execute("PRAGMA synchronous = OFF")
        fill(library, readings)
        random = np.random.default_rng(4)
        bare = sqlite3.connect(folder / FILE_NAME)
        columns = shade_columns(library)
        # The library's readings are all of one shade: here they lie all over.
        columns.lab[:] = random.uniform([15, -40, -40], [90, 50, 70], columns.lab.shape)
        told = [
            (
                "nearest shade, to bare CIEDE2000",
                seconds(lambda: nearest_shades(columns, WANTED)),
                seconds(lambda: ciede2000(columns.lab, WANTED)),
            ),
            (
                "all shades as arrays, to SQLite's rows",
                seconds(lambda: shade_columns(library)),
                seconds(
                    lambda: bare.execute(
                        "SELECT id, piece_id, lab_l, lab_a, lab_b, covariance_photo,"
                        " covariance_common FROM reading"
                    ).fetchall()
                ),
            ),
        ]
        bare.close()
    return told


def main() -> None:
    """Make a library, ask, and print."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--readings", type=int, default=10_000)
    parser.add_argument("--readme", action="store_true")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        told = rows_of(given.readings, Path(scratch) / "shades")
    lines = [
        f"| question to {given.readings:,} readings | ms | bare ms | ratio |",
        "| --- | --: | --: | --: |",
        *(
            f"| {name} | {own * 1e3:.1f} | {other * 1e3:.1f} | {own / other:.1f} |"
            for name, own, other in told
        ),
    ]
    print("\n".join(lines))


if __name__ == "__main__":
    main()
