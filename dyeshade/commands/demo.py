"""``dyeshade demo``: the example photos measured into a shade library, and the window on it."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from dyeshade.commands.options import name
from dyeshade.commands.telling import ALL_DONE, SOME_NOT, ProgressBar, tell
from dyeshade.errors import DyeshadeError
from dyeshade.words.refusals import refusal_text

if TYPE_CHECKING:
    from dyeshade.library.find import FoundShade
    from dyeshade.library.library import Library


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    demo = commands.add_parser(
        "demo",
        help="measure the example photos and look at their shades",
        description="Measure the example photos of an invented workshop into a shade library of "
        "their own, print the readings, and open the window on it where there is a display.",
        allow_abbrev=False,
    )
    demo.add_argument(
        "--library",
        type=name,
        metavar="LIBRARY",
        help="the folder of that library (default: one among your documents)",
    )
    demo.add_argument("--no-window", action="store_true", help="print the readings only")
    demo.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Make the library, print what is in it, and open the window."""
    import shlex

    from dyeshade import window
    from dyeshade.library.find import find_shades
    from dyeshade.library.library import open_library
    from dyeshade.words.shades_table import shades_table
    from dyeshade.work.demo_library import make_demo_library

    bar = ProgressBar()
    try:
        made = make_demo_library(chosen.library, bar.show)
        bar.clear()
        with open_library(made.folder, read_only=True) as library:
            found = find_shades(library)
            drifts = _drifts(library, found)
    except DyeshadeError as error:
        bar.clear()
        tell(refusal_text(error))
        return SOME_NOT
    code = ALL_DONE
    for outcome in made.outcomes:
        if isinstance(outcome.found, DyeshadeError):
            tell(f"{outcome.path}: {refusal_text(outcome.found)}")
            code = SOME_NOT
    print("The Hollow Weir Dye Room is invented, like its pieces and baths; its photos are")
    print("renders. The shades are what dyeshade measured in them:\n")
    print("\n".join([*shades_table(found), *drifts]), flush=True)
    tell(f"\nThe demo library is in {made.folder}.")
    if chosen.no_window:
        return code
    if window.has_display():
        return window.main(library=made.folder) or code
    place = shlex.quote(str(made.folder))
    tell(
        "There is no display to open the window on. These commands work without one:\n"
        f"  dyeshade shades --library {place} --dyestuff cochineal --ph 8:9.5\n"
        "  dyeshade sheet --paper A4 --out sheet.pdf\n"
        "  dyeshade measure PHOTO..."
    )
    return code


def _drifts(library: Library, found: Sequence[FoundShade]) -> list[str]:
    """How pieces that were read more than once have moved."""
    from dyeshade.words.shade_lines import drift_words, state_words
    from dyeshade.work.piece_story import story_of

    last = {one.reading.piece_id: one for one in found}
    lines = []
    for one in last.values():
        for entry in story_of(library, one.reading.id).entries:
            if entry.drift is not None and entry.reading is not None:
                code = one.history.piece.code
                lines.append(f"{code}, {state_words(entry.reading)}. {drift_words(entry.drift)}")
    return ["", *lines] if lines else []
