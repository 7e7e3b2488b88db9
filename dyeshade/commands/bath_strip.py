"""``dyeshade bath strip``: the pH that a strip tells, from a photo of it on the reference sheet."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from dyeshade.commands.options import name
from dyeshade.commands.telling import ALL_DONE, SOME_NOT, WrongUsage, tell
from dyeshade.errors import DyeshadeError
from dyeshade.measure.lights import KINDS
from dyeshade.words.refusals import refusal_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from dyeshade.work.read_strip import StripAsked, StripFound
    from dyeshade.work.strip_kinds import StripKind


def add_to(questions: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the question to ``dyeshade bath``."""
    strip = questions.add_parser(
        "strip",
        help="the pH that a strip tells, from a photo of it beside its printed scale",
        description="The strip lies on the reference sheet, its own printed colour scale beside "
        "it. Places are pixels of the upright photo: X0,Y0,X1,Y1 of a box, or the four corners in "
        "order from the first block on. A kind of strip that is kept in the shade library needs "
        "its scale marked once.",
        epilog="Ends with 0 when a pH is told, 1 when the pad is off its scale or nothing can be "
        "read, 2 for wrong usage.",
        allow_abbrev=False,
    )
    strip.add_argument("photo", metavar="PHOTO")
    strip.add_argument("--pad", required=True, metavar="PLACE", help="the strip's pad")
    strip.add_argument("--scale", metavar="PLACE", help="all blocks of the scale together")
    strip.add_argument(
        "--blocks",
        metavar="TEXT",
        help='the blocks\' pH as they are printed, a further row after /: "4 5 6 / 7 8 -"',
    )
    strip.add_argument(
        "--kind", type=name, metavar="NAME", help="of strip: keeps its scale, or takes a kept one"
    )
    strip.add_argument("--light", choices=KINDS, help="that the photo was taken in")
    strip.add_argument(
        "--log", type=name, metavar="CODE", help="log it in this bath, with the photo"
    )
    strip.add_argument(
        "--library",
        metavar="LIBRARY",
        help="the folder of the shade library (default: the one that DYESHADE_LIBRARY names, or "
        "one among your documents)",
    )
    strip.add_argument("--json", action="store_true", help="one JSON object instead of lines")
    strip.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Read it, print it, and keep what is to be kept."""
    if chosen.scale is not None and chosen.blocks is None and chosen.kind is None:
        raise WrongUsage("--scale needs --blocks: which pH do its blocks have?")
    if chosen.scale is None and chosen.kind is None:
        raise WrongUsage("give --scale with --blocks, or the --kind of strip whose scale is kept")
    if chosen.blocks is not None and chosen.scale is None:
        raise WrongUsage("--blocks goes with --scale")
    try:
        return _run(chosen)
    except DyeshadeError as error:
        tell(refusal_text(error))
        return SOME_NOT


def _run(chosen: argparse.Namespace) -> int:
    from dyeshade.words.cautions import caution_text
    from dyeshade.words.measurement_json import as_line
    from dyeshade.words.strip_lines import not_logged_line, strip_line, strip_record
    from dyeshade.work.read_strip import look_at_strip

    asked, kind = _asked(chosen)
    found = look_at_strip(asked).found
    if isinstance(found, DyeshadeError):
        raise found
    assert found is not None
    if chosen.json:
        print(as_line(strip_record(found)))
    else:
        print(strip_line(found))
        for notice in found.notices:
            print(caution_text(notice))
    _keep(chosen, found, kind)
    if chosen.log is not None and found.instrument is None:
        tell(not_logged_line(found))
        return SOME_NOT
    return ALL_DONE if found.place.on_scale else SOME_NOT


def _asked(chosen: argparse.Namespace) -> tuple[StripAsked, StripKind | None]:
    """What is to be read, and a kind that is to be kept then."""
    from dyeshade.library.library import open_library
    from dyeshade.work.library_place import library_folder
    from dyeshade.work.read_strip import StripAsked
    from dyeshade.work.strip_kinds import StripKind, kind_named, parse_rows

    pad = _place("--pad", chosen.pad)
    scale = None if chosen.scale is None else _place("--scale", chosen.scale)
    if chosen.blocks is not None:
        rows = parse_rows(chosen.blocks)
        kind = None if chosen.kind is None else StripKind(chosen.kind, rows)
        return StripAsked(chosen.photo, chosen.light, rows, scale, pad), kind
    with open_library(chosen.library or library_folder(), read_only=True) as library:
        kept = kind_named(library, chosen.kind)
    return StripAsked(chosen.photo, chosen.light, kept.rows, scale, pad, kept.colours), None


def _keep(chosen: argparse.Namespace, found: StripFound, kind: StripKind | None) -> None:
    from dataclasses import replace

    from dyeshade.library.baths import find_bath
    from dyeshade.library.library import open_or_create
    from dyeshade.work.library_place import library_folder
    from dyeshade.work.log_ph import log_strip
    from dyeshade.work.strip_kinds import keep_kind

    if kind is None and chosen.log is None:
        return
    with open_or_create(chosen.library or library_folder()) as library:
        if kind is not None:
            keep_kind(library, replace(kind, colours=found.colours))
        if chosen.log is not None and found.instrument is not None:
            log_strip(library, find_bath(library, chosen.log).id, chosen.photo, found)


def _place(option: str, text: str) -> NDArray[np.float64]:
    import numpy as np

    try:
        numbers = [float(one) for one in text.split(",")]
    except ValueError:
        numbers = []
    if len(numbers) == 8 and np.isfinite(numbers).all():
        return np.array(numbers).reshape(4, 2)
    if len(numbers) == 4 and np.isfinite(numbers).all():
        left, top, right, bottom = numbers
        return np.array([[left, top], [right, top], [right, bottom], [left, bottom]])
    raise WrongUsage(f"{option} {text}: give X0,Y0,X1,Y1 in pixels, or eight numbers")
