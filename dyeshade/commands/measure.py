"""``dyeshade measure``: photos in, shades out."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from dyeshade.commands.options import name
from dyeshade.commands.saving import add_saving, said_by
from dyeshade.commands.telling import (
    ALL_DONE,
    SOME_NOT,
    WRONG_USAGE,
    ProgressBar,
    WrongUsage,
    tell,
)
from dyeshade.errors import DyeshadeError
from dyeshade.measure.lights import KINDS
from dyeshade.words.lights import LIGHTS
from dyeshade.words.refusals import refusal_text

if TYPE_CHECKING:
    from dyeshade.measure.calibrations import Calibrations
    from dyeshade.measure.regions import Regions
    from dyeshade.work.assign_by_tag import ByTags
    from dyeshade.work.measure_photos import PhotoOutcome
    from dyeshade.work.pieces_said import PiecesSaid


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    kinds = "; ".join(f"{kind}: {LIGHTS[kind]}" for kind in KINDS)
    measure = commands.add_parser(
        "measure",
        help="measure the pieces in photos",
        description="Measure the dyed pieces in photos (JPEG, HEIC, PNG, TIFF, raw): L*a*b* for "
        "D65 and the 2 degree observer, with its uncertainty.",
        epilog="Ends with 0 when all photos were measured and kept as asked, 1 when some were not, "
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
        "--library",
        type=name,
        metavar="LIBRARY",
        help="the shade library whose calibrations are used where nothing is kept (default: the "
        "same as for --save)",
    )
    measure.add_argument(
        "--no-calibration",
        action="store_true",
        help="measure as with a camera and a print that were never calibrated",
    )
    measure.add_argument(
        "--json", action="store_true", help="one JSON object a line instead of a table"
    )
    add_saving(measure)
    measure.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Measure the photos, print what came out, and keep what is to be kept.

    Raises
    ------
    WrongUsage
        For options that do not go together.
    """
    from dyeshade.work.regions_file import read_regions

    try:
        regions = None if chosen.regions is None else read_regions(chosen.regions)
        pieces = said_by(chosen)
    except DyeshadeError as error:
        tell(refusal_text(error))
        return WRONG_USAGE
    if pieces is None:
        try:
            known = _known(chosen)
        except DyeshadeError as error:
            tell(refusal_text(error))
            return SOME_NOT
        return _measure(chosen, regions, known)[0]
    if chosen.library is not None:
        raise WrongUsage("--library is for measuring alone: what is kept is kept with --save")
    return _measure_and_keep(chosen, regions, pieces)


def _known(chosen: argparse.Namespace) -> Calibrations | None:
    """Calibrations of the library that was named, or of the usual one where there is one."""
    from dyeshade.library.library import open_library
    from dyeshade.work.calibrate import calibrations_in
    from dyeshade.work.library_place import library_folder

    folder = library_folder()
    if chosen.no_calibration or (chosen.library is None and not folder.is_dir()):
        return None
    try:
        with open_library(chosen.library or folder) as library:
            return calibrations_in(library)
    except DyeshadeError:
        if chosen.library is None:
            # Whoever only measures need not have a library that can be opened.
            return None
        raise


def _measure(
    chosen: argparse.Namespace, regions: Regions | None, known: Calibrations | None
) -> tuple[int, list[PhotoOutcome]]:
    from dyeshade.words import measurement_json, measurement_table
    from dyeshade.work.measure_photos import measure_photos

    bar = ProgressBar()
    code = ALL_DONE
    done: list[PhotoOutcome] = []
    for outcome in measure_photos(
        chosen.photos, regions, chosen.light, progress=bar.show, known=known
    ):
        if isinstance(outcome.found, DyeshadeError):
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
            print("\n".join([*([""] if done else []), *lines]), flush=True)
        done.append(outcome)
    bar.clear()
    return code, done


def _measure_and_keep(
    chosen: argparse.Namespace, regions: Regions | None, pieces: PiecesSaid | ByTags
) -> int:
    from dyeshade.library.library import open_or_create
    from dyeshade.words.saved import saved_by_tag_lines, saved_lines
    from dyeshade.work.assign_by_tag import ByTags, keep_by_tag
    from dyeshade.work.calibrate import calibrations_in
    from dyeshade.work.library_place import library_folder
    from dyeshade.work.pieces_said import keep_outcomes

    try:
        # Opened first: whoever measures for minutes should not learn then that it is locked.
        with open_or_create(chosen.save or library_folder()) as library:
            known = None if chosen.no_calibration else calibrations_in(library)
            code, outcomes = _measure(chosen, regions, known)
            if isinstance(pieces, ByTags):
                by_tag = keep_by_tag(library, outcomes, pieces)
                tell("\n".join(saved_by_tag_lines(library.folder, by_tag)))
                return SOME_NOT if by_tag.unknown or by_tag.untagged else code
            kept = keep_outcomes(library, outcomes, pieces)
            tell("\n".join(saved_lines(library.folder, kept)))
    except DyeshadeError as error:
        tell(refusal_text(error))
        return SOME_NOT
    return SOME_NOT if kept.not_found else code
