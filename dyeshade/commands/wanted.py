"""A wanted colour on the command line: typed, or picked from a photo."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from dyeshade.commands.options import finite, name, number
from dyeshade.commands.telling import WrongUsage
from dyeshade.measure.lights import KINDS

if TYPE_CHECKING:
    from dyeshade.library.library import Library
    from dyeshade.work.wanted_colour import Wanted

COLOUR = "L*,a*,b* as 60,20,30, an sRGB colour as #d6c84a, or a piece's id"


def add_photo(parser: argparse.ArgumentParser) -> None:
    """Add the options that pick a colour from a photo."""
    group = parser.add_argument_group("a colour from a photo of the sheet, in place of COLOUR")
    group.add_argument("--photo", type=name, metavar="PHOTO", help="the photo's file")
    group.add_argument(
        "--sample", type=name, metavar="NAME", help="which cell (default: the only one)"
    )
    group.add_argument(
        "--at",
        type=place,
        metavar="X,Y",
        help="a spot instead: pixels of the upright photo, from its left and from its top",
    )
    group.add_argument(
        "--across",
        type=number(2, 200),
        metavar="MM",
        help="how wide that spot is, in mm on the sheet (default: 8)",
    )
    group.add_argument(
        "--light",
        choices=KINDS,
        metavar="LIGHT",
        help=f"the light it was taken in, as for measuring ({', '.join(KINDS)})",
    )


def place(text: str) -> tuple[float, float]:
    """A place in a photo as "1200,840"."""
    x, comma, y = text.partition(",")
    if not comma:
        raise argparse.ArgumentTypeError(f"{text} is not a place as 1200,840")
    return finite(x), finite(y)


def check_wanted(chosen: argparse.Namespace, colour: str | None, needed: bool = True) -> None:
    """See that a colour was given in one way.

    Raises
    ------
    WrongUsage
    """
    if chosen.photo is None:
        if chosen.sample or chosen.at or chosen.across or chosen.light:
            raise WrongUsage("--sample, --at, --across and --light go with --photo")
        if needed and colour is None:
            raise WrongUsage("give a colour, or a photo with --photo")
    elif colour is not None:
        raise WrongUsage("give a colour or a photo, not both")
    elif chosen.sample and chosen.at:
        raise WrongUsage("give --sample or --at, not both")
    elif chosen.across and not chosen.at:
        raise WrongUsage("--across goes with --at")


def wanted_of(library: Library, chosen: argparse.Namespace, colour: str | None) -> Wanted | None:
    """What was given, None for nothing; the library's calibrations are used for a photo.

    Raises
    ------
    DyeshadeError
        As `dyeshade.work.pick_shade.pick`.
    """
    from dyeshade.work.calibrate import calibrations_in
    from dyeshade.work.pick_shade import ACROSS_MM, PickFrom, pick

    if chosen.photo is None:
        return colour
    across = chosen.across or ACROSS_MM
    known = calibrations_in(library)
    return pick(PickFrom(chosen.photo, chosen.sample or "", chosen.at, across, chosen.light, known))
