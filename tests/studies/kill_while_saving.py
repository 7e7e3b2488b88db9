"""Whether a library stands being killed while it saves, and keeps all that it confirmed.

Run from the checkout's top; takes half a minute::

    python -m tests.studies.kill_while_saving             # 50 times
    python -m tests.studies.kill_while_saving --times 3

A process saves pieces with photos and readings, one job after the other, and says so after each.
It is killed (SIGKILL) at a random moment. Then the library must open, pass SQLite's integrity
check, and hold everything that was said to be saved, with its photo whole and each job whole or not
at all. A rollback journal left behind says that the process died in the middle of writing. This is
about a program that dies; what a power cut does to a disk's own cache can't be tried this way.
"""

from __future__ import annotations

import argparse
import random
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from dyeshade.library.dye_records import Piece, Treatment
from dyeshade.library.library import create_library, open_library
from dyeshade.library.photos import keep_file, keep_photo, photos_gone
from dyeshade.library.pieces import add_piece
from dyeshade.library.readings import keep_reading
from dyeshade.library.shade_records import KeptPhoto, Reading
from dyeshade.library.store import FILE_NAME
from dyeshade.library.treatments import add_treatment, treatments_of
from tests.library.workshop import a_reading

READINGS = 6


@dataclass(frozen=True)
class Outcome:
    """What was found after one kill."""

    confirmed: int
    journal_left: bool
    troubles: tuple[str, ...]


def save_for_ever(folder: Path, begin: int) -> None:
    """What the process does that is killed: save piece after piece, and say each number."""
    with open_library(folder) as library:
        number = begin
        while True:
            source = folder.parent / f"IMG_{number:05d}.jpg"
            source.write_bytes(random.Random(number).randbytes(40_000))
            photo = keep_file(library, source)
            with library.edit("save_readings") as edit:
                photo_id = keep_photo(edit, photo).id
                piece = add_piece(edit, Piece(f"W-{number:05d}"))
                add_treatment(edit, Treatment(piece, "rinse"), ph=7.0)
                for sample in range(READINGS):
                    reading = a_reading(
                        piece, sample=f"A{sample}", photo_id=photo_id, method_version=1
                    )
                    keep_reading(edit, reading)
            print(number, flush=True)
            source.unlink()
            number += 1


def kill_once(folder: Path, begin: int, after_s: float) -> Outcome:
    """Let a process save into a library, kill it, and look."""
    command = [sys.executable, "-m", __spec__.name if __spec__ else __name__]
    process = subprocess.Popen(
        [*command, "--save-into", str(folder), "--begin", str(begin)],
        stdout=subprocess.PIPE,
        text=True,
    )
    with process:
        assert process.stdout is not None
        first = process.stdout.readline()
        time.sleep(after_s)
        process.kill()
        told = first + process.stdout.read()
    confirmed = [int(line) for line in told.splitlines(keepends=True) if line.endswith("\n")]
    journal = folder / f"{FILE_NAME}-journal"
    left = journal.exists() and journal.stat().st_size > 0
    return Outcome(len(confirmed), left, tuple(troubles(folder, confirmed)))


def troubles(folder: Path, confirmed: list[int]) -> list[str]:
    """What is wrong with a library after a kill; empty where all is well."""
    with open_library(folder) as library:
        found = list(library.check())
        pieces = {piece.code: piece for piece in library.where(Piece)}
        found += [f"lost: {number}" for number in confirmed if f"W-{number:05d}" not in pieces]
        found += [f"photo not whole: {photo.name}" for photo in photos_gone(library)]
        if len(library.where(KeptPhoto)) != len(pieces):
            found.append("pieces and photos are not as many")
        for piece in pieces.values():
            readings = library.where(Reading, "piece_id = ?", (piece.id,))
            if len(readings) != READINGS or len(treatments_of(library, piece.id)) != 1:
                found.append(f"half a job: {piece.code}")
        if len(pieces) > 0 and not confirmed:
            found.append("nothing was confirmed")
    return found


def study(times: int, seed: int = 1) -> list[Outcome]:
    """Kill a saving process again and again, always with the same library."""
    chance = random.Random(seed)
    outcomes: list[Outcome] = []
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "shades"
        create_library(folder).close()
        for number in range(times):
            # Over a few jobs, so that every moment of one is as likely as any other.
            outcomes.append(kill_once(folder, number * 1000, chance.uniform(0.0, 0.15)))
    return outcomes


def main() -> int:
    """Run the study and print what came of it."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--times", type=int, default=50)
    parser.add_argument("--save-into", type=Path)
    parser.add_argument("--begin", type=int, default=0)
    given = parser.parse_args()
    if given.save_into is not None:
        save_for_ever(given.save_into, given.begin)
    outcomes = study(given.times)
    wrong = [outcome for outcome in outcomes if outcome.troubles]
    print(f"killed {len(outcomes)} times, {len(wrong)} libraries with troubles")
    kept = "not all of them kept" if wrong else "all of them kept"
    print(f"jobs confirmed: {sum(outcome.confirmed for outcome in outcomes)}, {kept}")
    print(f"killed while the file was written: {sum(o.journal_left for o in outcomes)} times")
    for outcome in wrong:
        print(*outcome.troubles, sep="\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
