"""The command line: two commands, words for people on a terminal, JSON lines for programs.

What is slow to import is imported by the command that needs it, so that ``--help`` answers at once.
"""

from __future__ import annotations

import argparse
import io
import os
import sys
from collections.abc import Sequence

from dyeshade import __version__
from dyeshade.errors import DyeshadeError
from dyeshade.measure.lights import KINDS
from dyeshade.words.lights import LIGHTS
from dyeshade.words.refusals import refusal_text

ALL_MEASURED, SOME_NOT, WRONG_USAGE = 0, 1, 2
INTERRUPTED = 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command ``dyeshade``.

    Parameters
    ----------
    arguments : sequence of str, optional
        As after the command's name; those of the process unless told.

    Returns
    -------
    int
        0 all done, 1 some photos not measured or a file not written, 2 wrong usage,
        130 interrupted.

    Raises
    ------
    SystemExit
        By argparse: with 2 for wrong usage, with 0 after ``--help`` and ``--version``.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A file's name may hold what the terminal's encoding does not.
            stream.reconfigure(errors="backslashreplace")
    parser = _parser()
    chosen = parser.parse_args(arguments)
    if chosen.run is _sheet and chosen.layout == chosen.out:
        parser.error("--out and --layout name the same file")
    try:
        code: int = chosen.run(chosen)
        # A pipe that was closed early shows when what is left is written.
        sys.stdout.flush()
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        # Whoever read our output has gone, as `head` does; Python would complain once more at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return SOME_NOT
    return code


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="dyeshade",
        description="From a photo of dyed pieces beside a printed grey reference to their shades.",
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"dyeshade {__version__}")
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")
    _add_sheet(commands)
    _add_measure(commands)
    return parser


def _add_sheet(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    sheet = commands.add_parser(
        "sheet",
        help="make a reference sheet to print",
        description="Make a reference sheet to print at 100 %, with a serial number of its own.",
        allow_abbrev=False,
    )
    sheet.add_argument("--paper", required=True, choices=("A4", "Letter"), help="size of the paper")
    sheet.add_argument(
        "--cells",
        default="six",
        choices=("six", "one"),
        help="six cells for pieces, or one large cell for a skein or a cloth (default: six)",
    )
    sheet.add_argument(
        "--colours", action="store_true", help="print colour patches around the cells too"
    )
    sheet.add_argument("--out", required=True, metavar="SHEET.pdf", help="where the page goes")
    sheet.add_argument(
        "--layout", metavar="SHEET.json", help="where everything stands on it, for other programs"
    )
    sheet.set_defaults(run=_sheet)


def _add_measure(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    kinds = "; ".join(f"{kind}: {LIGHTS[kind]}" for kind in KINDS)
    measure = commands.add_parser(
        "measure",
        help="measure the pieces in photos",
        description="Measure the dyed pieces in photos (JPEG, PNG, TIFF): L*a*b* for D65 and the "
        "2 degree observer, with its uncertainty.",
        epilog="Ends with 0 when all photos were measured, 1 when some were not, "
        "2 for wrong usage.",
        allow_abbrev=False,
    )
    measure.add_argument("photos", nargs="+", metavar="PHOTO", help="a photo of pieces")
    measure.add_argument(
        "--regions",
        metavar="REGIONS.json",
        help="greys and samples drawn by hand, for photos without a reference sheet",
    )
    measure.add_argument(
        "--light",
        choices=KINDS,
        metavar="KIND",
        help=f"the light the photos were taken in ({kinds})",
    )
    measure.add_argument(
        "--json", action="store_true", help="one JSON object a line instead of a table"
    )
    measure.set_defaults(run=_measure)


def _sheet(chosen: argparse.Namespace) -> int:
    from dyeshade.work.make_sheet import make_sheet

    try:
        layout = make_sheet(chosen.paper, chosen.cells, chosen.colours, chosen.out, chosen.layout)
    except DyeshadeError as error:
        _tell(refusal_text(error))
        return SOME_NOT
    _tell(f"Reference sheet {layout.serial} is in {chosen.out}. Print it at 100 % on matte paper.")
    return ALL_MEASURED


def _measure(chosen: argparse.Namespace) -> int:
    from dyeshade.words import measurement_json, measurement_table
    from dyeshade.work.measure_photos import measure_photos
    from dyeshade.work.regions_file import read_regions

    try:
        regions = None if chosen.regions is None else read_regions(chosen.regions)
    except DyeshadeError as error:
        _tell(refusal_text(error))
        return WRONG_USAGE
    bar = _ProgressBar()
    code = ALL_MEASURED
    parted = False
    for outcome in measure_photos(chosen.photos, regions, chosen.light, progress=bar.show):
        refused = isinstance(outcome.found, DyeshadeError)
        if refused:
            code = SOME_NOT
        bar.clear()
        if chosen.json:
            record = (
                measurement_json.refused(outcome.path, outcome.found)
                if isinstance(outcome.found, DyeshadeError)
                else measurement_json.measured(outcome.path, outcome.found)
            )
            print(measurement_json.as_line(record), flush=True)
        else:
            lines = (
                measurement_table.refused(outcome.path, outcome.found)
                if isinstance(outcome.found, DyeshadeError)
                else measurement_table.measured(outcome.path, outcome.found)
            )
            print("\n".join([*([""] if parted else []), *lines]), flush=True)
            parted = True
    bar.clear()
    return code


def _tell(text: str) -> None:
    """Words for people, off the way of what programs read."""
    print(text, file=sys.stderr)


class _ProgressBar:
    """How far the photos are, in one line that is wiped again; nothing where nobody watches."""

    def __init__(self) -> None:
        self._watched = sys.stderr.isatty()
        self._wide = 0

    def show(self, done: int, count: int) -> None:
        """Draw it for `done` of `count` photos."""
        if not self._watched or done == count:
            return
        filled = 24 * done // count
        text = f"[{'#' * filled}{'.' * (24 - filled)}] {done} of {count} photos"
        print("\r" + text, end="", file=sys.stderr, flush=True)
        self._wide = len(text)

    def clear(self) -> None:
        """Wipe it, so that other lines can be written."""
        if self._wide:
            print("\r" + " " * self._wide + "\r", end="", file=sys.stderr, flush=True)
            self._wide = 0
