"""``dyeshade measure``: photos in, shades out."""

from __future__ import annotations

import argparse

from dyeshade.commands.telling import ALL_DONE, SOME_NOT, WRONG_USAGE, ProgressBar, tell
from dyeshade.errors import DyeshadeError
from dyeshade.measure.lights import KINDS
from dyeshade.words.lights import LIGHTS
from dyeshade.words.refusals import refusal_text


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
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
    measure.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Measure the photos and print what came out."""
    from dyeshade.words import measurement_json, measurement_table
    from dyeshade.work.measure_photos import measure_photos
    from dyeshade.work.regions_file import read_regions

    try:
        regions = None if chosen.regions is None else read_regions(chosen.regions)
    except DyeshadeError as error:
        tell(refusal_text(error))
        return WRONG_USAGE
    bar = ProgressBar()
    code = ALL_DONE
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
