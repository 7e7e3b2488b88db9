"""``dyeshade read-again``: the library's photos measured anew, and what that has changed."""

from __future__ import annotations

import argparse
import json
from typing import TYPE_CHECKING

from dyeshade.commands.answering import answer, asking_parser
from dyeshade.commands.telling import ALL_DONE, SOME_NOT, ProgressBar, tell
from dyeshade.errors import DyeshadeError
from dyeshade.words.refusals import refusal_text

if TYPE_CHECKING:
    from dyeshade.library.library import Library
    from dyeshade.work.read_again import ReadAnew


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    again = asking_parser(
        commands,
        "read-again",
        "measure the library's photos anew",
        "Measure all photos of the library anew that an older way of measuring has read, or whose "
        "camera or sheet was calibrated since. Both values stay, the newer one is shown, and each "
        "change is told. What is done is kept photo by photo: stopped with Ctrl-C, it goes on "
        "there the next time.",
    )
    again.add_argument(
        "--list",
        action="store_true",
        help="measure nothing; tell all that was read anew before, and what it changed",
    )
    again.add_argument(
        "--no-calibration",
        action="store_true",
        help="leave out what was learnt of cameras and sheets; what was read with it stays",
    )
    again.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Read again, or list what was read anew."""
    from dyeshade.library.library import open_library
    from dyeshade.words.read_again_words import anew_line, anew_record, summary_line
    from dyeshade.work.library_place import library_folder
    from dyeshade.work.read_again import all_read_anew

    if chosen.list:
        return answer(
            chosen,
            all_read_anew,
            lambda found: [anew_line(one) for one in found] or ["Nothing was read anew yet."],
            lambda found: [anew_record(one) for one in found],
        )
    try:
        with open_library(chosen.library or library_folder()) as library:
            code, anew = _read(chosen, library)
    except DyeshadeError as error:
        tell(refusal_text(error))
        return SOME_NOT
    if not chosen.json and (anew or code == ALL_DONE):
        print(summary_line(anew))
    return code


def _read(chosen: argparse.Namespace, library: Library) -> tuple[int, list[ReadAnew]]:
    from dyeshade.words.read_again_words import photo_lines, photo_records
    from dyeshade.work.read_again import read_again

    bar = ProgressBar()
    code = ALL_DONE
    anew: list[ReadAnew] = []
    try:
        calibrated = not chosen.no_calibration
        for photo in read_again(library, progress=bar.show, calibrated=calibrated):
            bar.clear()
            if photo.error is not None or photo.not_seen:
                code = SOME_NOT
            anew += photo.anew
            lines = photo_lines(photo)
            if chosen.json:
                lines = [json.dumps(one, allow_nan=False) for one in photo_records(photo)]
            if lines:
                print("\n".join(lines), flush=True)
    finally:
        bar.clear()
    return code, anew
