"""How long a library of many readings takes to open and to be asked, beside the bare queries.

Run from the checkout's top; takes some seconds::

    python -m tests.benchmarks.library                     # 10,000 readings
    python -m tests.benchmarks.library --readings 100000

"Bare" is SQLite alone: the statement that the question comes down to, its rows as tuples, nothing
made of them. The first question after opening also reads the histories of the pieces it finds; the
ones after it find them in memory until something changes. The ratio is of "then" to "bare".
"""

from __future__ import annotations

import argparse
import random
import sqlite3
import tempfile
import time
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

from dyeshade.library.baths import add_bath, read_bath_ph
from dyeshade.library.dye_records import Bath, DyestuffLot, FibreLot, Piece, Treatment
from dyeshade.library.find import ShadeQuery, find_shades, repeats_of
from dyeshade.library.library import Library, create_library, open_library
from dyeshade.library.pieces import keep_lot
from dyeshade.library.shade_records import KeptPhoto, Reading
from dyeshade.library.store import FILE_NAME
from tests.library.workshop import ALUM, DAY, a_reading

DYES = ("weld", "madder", "dyer's chamomile", "walnut hull", "cochineal", "onion skin", "indigo")
FIBRES = ("wool", "silk", "cotton", "linen")
READINGS_A_PIECE = 5
PIECES_A_BATH = 10


def fill(library: Library, readings: int) -> None:
    """Invented pieces: each in one of many baths, rinsed, read five times over a year."""
    chance = random.Random(3)
    bath = 0
    with library.edit("benchmark") as edit:
        fibres = [keep_lot(edit, FibreLot(name)) for name in FIBRES]
        alum = keep_lot(edit, ALUM)
        for number in range(readings // READINGS_A_PIECE):
            if number % PIECES_A_BATH == 0:
                ph = round(chance.uniform(3.5, 10.0), 1)
                lot = DyestuffLot(chance.choice(DYES))
                bath = add_bath(edit, Bath(f"bath-{number:05d}"), [(lot, 1.0)])
                read_bath_ph(edit, bath, "bath_end", ph)
            piece = edit.add(Piece(f"W-{number:05d}", "", chance.choice(fibres), alum))
            day = DAY + timedelta(days=chance.randrange(1000))
            edit.add(Treatment(piece, "mordant", place=1))
            edit.add(Treatment(piece, "bath", bath, started=day, place=2))
            edit.add(Treatment(piece, "rinse", started=day, place=3))
            for turn in range(READINGS_A_PIECE):
                photo = number * READINGS_A_PIECE + turn + 1
                photo_id = edit.add(KeptPhoto(f"{photo:064x}", ".jpg", f"{photo}.jpg"))
                read = day + timedelta(days=2 + 60 * turn)
                edit.add(a_reading(piece, photo_id=photo_id, method_version=1, read=read))
    library.forget_undo()


BARE = "SELECT reading.* FROM reading"
OF_WELD = """
    JOIN treatment ON treatment.piece_id = reading.piece_id
    JOIN bath_dyestuff USING (bath_id) JOIN dyestuff_lot ON dyestuff_lot.id = dyestuff_lot_id
    WHERE dyestuff_lot.name = 'weld' COLLATE NOCASE"""
OF_WELD_ON_SILK = """
    JOIN piece ON piece.id = reading.piece_id JOIN fibre_lot ON fibre_lot.id = fibre_lot_id
    JOIN treatment ON treatment.piece_id = reading.piece_id
    JOIN bath_dyestuff USING (bath_id) JOIN dyestuff_lot ON dyestuff_lot.id = dyestuff_lot_id
    WHERE dyestuff_lot.name = 'weld' COLLATE NOCASE AND fibre_lot.name = 'silk' COLLATE NOCASE"""
AT_PH = """
    JOIN treatment ON treatment.piece_id = reading.piece_id
    JOIN ph_reading ON ph_reading.bath_id = treatment.bath_id AND which = 'bath_end'
    WHERE ph BETWEEN 8 AND 8.5"""

QUESTIONS: tuple[tuple[str, ShadeQuery, str], ...] = (
    ("all readings", ShadeQuery(), BARE),
    ("weld", ShadeQuery(dyestuff="weld"), BARE + OF_WELD),
    ("weld on silk", ShadeQuery(dyestuff="weld", fibre="silk"), BARE + OF_WELD_ON_SILK),
    (
        "pH 8 to 8.5 at the end",
        ShadeQuery(ph_which="bath_end", ph_least=8, ph_most=8.5),
        BARE + AT_PH,
    ),
    (
        "one month",
        ShadeQuery(from_day=date(2027, 3, 1), to_day=date(2027, 3, 31)),
        BARE + " WHERE read >= '2027-03-01' AND read < '2027-04-01'",
    ),
    (
        "one piece",
        ShadeQuery(piece="W-00123"),
        BARE + " JOIN piece ON piece.id = reading.piece_id WHERE piece.code = 'W-00123'",
    ),
)


def seconds(job: Callable[[], object], least_s: float = 0.3) -> float:
    """The shortest of several runs."""
    best, begun = float("inf"), time.perf_counter()
    while time.perf_counter() - begun < least_s:
        at = time.perf_counter()
        job()
        best = min(best, time.perf_counter() - at)
    return best


def once(job: Callable[[], object]) -> float:
    """A single run."""
    at = time.perf_counter()
    job()
    return time.perf_counter() - at


def main() -> None:
    """Make the library, ask, and print the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--readings", type=int, default=10_000)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "shades"
        with create_library(folder) as library:
            library._connection.execute("PRAGMA synchronous = OFF")
            filling = once(lambda: fill(library, given.readings))
        bare = sqlite3.connect(folder / FILE_NAME)
        at = time.perf_counter()
        library = open_library(folder)
        opening = time.perf_counter() - at
        print(
            f"{given.readings} readings filled in {filling:.1f} s, opened in {opening * 1e3:.1f} ms"
        )
        print(
            f"{'question':26}{'found':>8}{'bare ms':>10}{'first ms':>10}{'then ms':>10}{'ratio':>8}"
        )
        for name, query, sql in QUESTIONS:
            library.memo.clear()
            first = once(lambda query=query: find_shades(library, query))
            then = seconds(lambda query=query: find_shades(library, query))
            alone = seconds(lambda sql=sql: bare.execute(sql).fetchall())
            found, expected = find_shades(library, query), bare.execute(sql).fetchall()
            assert len(found) == len(expected), (name, len(found), len(expected))
            figures = f"{alone * 1e3:10.2f}{first * 1e3:10.1f}{then * 1e3:10.2f}{then / alone:8.1f}"
            print(f"{name:26}{len(found):8}{figures}")
        reading = library.where(Reading, "piece_id = ?", (123,))[0]
        again = seconds(lambda: repeats_of(library, reading.id))
        count = len(repeats_of(library, reading.id))
        print(f"{'repeats of a reading':26}{count:8}{again * 1e3:30.2f}")
        bare.close()
        library.close()


if __name__ == "__main__":
    main()
