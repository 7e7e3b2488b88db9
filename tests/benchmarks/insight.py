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
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.insight.drift import drift_of
from dyeshade.insight.nearest import nearest_shades
from dyeshade.insight.ph_curve import fit_curve
from dyeshade.insight.ph_series import find_series
from dyeshade.insight.repeatability import find_repeatability
from dyeshade.library.find import ShadeQuery
from dyeshade.library.library import Library, create_library
from dyeshade.library.shade_columns import shade_columns
from dyeshade.library.store import FILE_NAME
from tests.benchmarks.library import BARE, OF_WELD, OF_WELD_ON_SILK, fill, seconds

WANTED = np.array([70.0, 0.0, 50.0])
README = Path(__file__).parents[2] / "README.md"


def rows_of(readings: int, folder: Path) -> list[tuple[str, float, float]]:
    """Each question with its seconds and those of what it stands beside."""
    with create_library(folder) as library:
        library._connection.execute("PRAGMA synchronous = OFF")
        fill(library, readings)
        spread_out(library)
        bare = sqlite3.connect(folder / FILE_NAME)
        columns = shade_columns(library)
        told = [
            (
                "nearest shade, to bare CIEDE2000 over the array",
                seconds(lambda: nearest_shades(columns, WANTED)),
                seconds(lambda: ciede2000(columns.lab, WANTED)),
            )
        ]

        def beside_sqlite(name: str, sql: str, ask: Callable[[], object]) -> None:
            # The first question also reads histories; the ones after it find them in memory.
            ask()
            told.append((name, seconds(ask), seconds(lambda: bare.execute(sql).fetchall())))

        beside_sqlite(
            "all shades as arrays",
            "SELECT id, piece_id, lab_l, lab_a, lab_b, covariance_photo, covariance_common"
            " FROM reading",
            lambda: shade_columns(library),
        )
        code, piece_id = bare.execute("SELECT code, id FROM piece WHERE id = 123").fetchone()
        beside_sqlite(
            "drift of a piece",
            f"SELECT * FROM reading WHERE piece_id = {piece_id}",
            lambda: drift_of(library, code),
        )
        weld = ShadeQuery(dyestuff="weld")
        beside_sqlite(
            "pH series of weld: finding them",
            BARE + OF_WELD,
            lambda: find_series(library, weld, "bath_end"),
        )
        series = find_series(library, weld, "bath_end")[0]
        beside_sqlite(
            f"the curve of one, {len(series.points)} readings",
            BARE + OF_WELD,
            lambda: fit_curve(series),
        )
        beside_sqlite(
            "repeatability of weld on silk",
            BARE + OF_WELD_ON_SILK,
            lambda: find_repeatability(library, replace(weld, fibre="silk")),
        )
        bare.close()
    return told


def spread_out(library: Library) -> None:
    """The library's readings are all of one shade: lay them all over, invented."""
    random = np.random.default_rng(4)
    ids = [row[0] for row in library.rows("SELECT id FROM reading")]
    labs = random.uniform([15, -40, -40], [90, 50, 70], (len(ids), 3))
    library._connection.executemany(
        "UPDATE reading SET lab_l = ?, lab_a = ?, lab_b = ? WHERE id = ?",
        [(*map(float, lab), one) for lab, one in zip(labs, ids, strict=True)],
    )


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
    if given.readme:
        text = README.read_text(encoding="utf-8")
        start, end = (text.index(f"<!-- insight speed: {mark} -->") for mark in ("start", "end"))
        start += len("<!-- insight speed: start -->")
        table = "\n".join(["", *lines, ""])
        README.write_text(text[:start] + table + text[end:], encoding="utf-8")


if __name__ == "__main__":
    main()
