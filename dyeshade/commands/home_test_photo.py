"""``dyeshade home-test photo``: keeps a photo, or readings, with a home test."""

from __future__ import annotations

import argparse
from argparse import ArgumentTypeError
from typing import TYPE_CHECKING

from dyeshade.commands.answering import answer, asking_parser
from dyeshade.commands.fastness import TESTS
from dyeshade.commands.options import moment, name
from dyeshade.commands.telling import WrongUsage
from dyeshade.errors import DyeshadeError
from dyeshade.measure.lights import KINDS

if TYPE_CHECKING:
    from dyeshade.insight.fastness import HomeTest
    from dyeshade.library.library import Library
    from dyeshade.library.trial_records import HomeTestRecord
    from dyeshade.measure.result import Measurement
    from dyeshade.work.home_tests import Part

Two = tuple[str, str]


def add_photo(jobs: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the job to the command."""
    photo = asking_parser(
        jobs,
        "photo",
        "keep a photo with a test",
        "Keep a photo of both halves with a home test, and tell what it came to so far. Samples "
        "are named as dyeshade measure names them. Without PHOTO the numbers of readings that are "
        "in the library already stand in their place, as dyeshade drift tells them.",
    )
    photo.add_argument("piece", type=name, metavar="PIECE", help="its id, as W-014")
    photo.add_argument("photo", nargs="?", metavar="PHOTO", help="a photo of both halves")
    photo.add_argument(
        "--test", choices=TESTS, help="which of its tests (default: the one under way)"
    )
    photo.add_argument(
        "--halves",
        type=two,
        metavar="FROM:TO",
        help="the sample of the half kept as it was and that of the treated one, as A:B",
    )
    photo.add_argument(
        "--white", type=two, metavar="FROM:TO", help="white cloth: a clean place, and the stained"
    )
    photo.add_argument(
        "--bluewool",
        type=wool,
        action="append",
        default=[],
        metavar="N=FROM:TO",
        help="a blue wool reference, covered and bare, as 4=C:D; may be repeated",
    )
    photo.add_argument("--light", choices=KINDS, metavar="KIND", help="as dyeshade measure")
    photo.add_argument("--regions", metavar="REGIONS.json", help="as dyeshade measure")
    photo.add_argument("--no-calibration", action="store_true", help="as dyeshade measure")
    photo.add_argument(
        "--read",
        type=moment,
        metavar="TIME",
        help="when the halves looked so (default: the photo's time)",
    )
    photo.set_defaults(run=run_photo)


def two(text: str) -> Two:
    """Two samples as "A:B"."""
    one, colon, other = (part.strip() for part in text.partition(":"))
    if not (one and colon and other):
        raise ArgumentTypeError(f"{text} is not two samples as A:B")
    return one, other


def wool(text: str) -> tuple[int, Two]:
    """A blue wool reference as "4=C:D"."""
    number, equals, pair = text.partition("=")
    if not equals or number.strip() not in map(str, range(1, 9)):
        raise ArgumentTypeError(f"{text} is not a blue wool from 1 to 8 as 4=C:D")
    return int(number), two(pair)


def run_photo(chosen: argparse.Namespace) -> int:
    """Keep the photo, and tell the result so far.

    Raises
    ------
    WrongUsage
        For options that do not go together.
    """
    from dyeshade.words.fastness_json import home_test_records
    from dyeshade.words.fastness_lines import home_test_lines
    from dyeshade.work.home_test_photo import keep_test_photo, keep_test_readings
    from dyeshade.work.home_tests_kept import chosen_test

    if chosen.photo is None:
        for option in ("light", "regions", "no_calibration", "read"):
            if getattr(chosen, option):
                raise WrongUsage(f"--{option.replace('_', '-')} needs a photo")

    def ask(library: Library) -> tuple[str, tuple[HomeTest, ...]]:
        test = chosen_test(library, chosen.piece, chosen.test)
        spots = _spots(chosen, test)
        if chosen.photo is None:
            now = keep_test_readings(library, test.id, _numbers(spots))
        else:
            seen = _measured(chosen, library)
            now = keep_test_photo(
                library, test.id, chosen.photo, seen, spots, read=chosen.read
            ).test
        return now.piece, (_result(library, test),)

    return answer(
        chosen,
        ask,
        lambda told: home_test_lines(*told),
        lambda told: home_test_records(*told),
        read_only=False,
    )


def _spots(chosen: argparse.Namespace, test: HomeTestRecord) -> dict[Part, str]:
    """Which sample shows which part of the test."""
    from dyeshade.work.home_test_photo import missing_parts
    from dyeshade.work.home_tests import Part, parts_of

    pairs: list[tuple[str, int | None, Two | None]] = [
        ("piece", None, chosen.halves),
        ("white", None, chosen.white),
        *(("blue_wool", number, pair) for number, pair in chosen.bluewool),
    ]
    spots = {
        Part(what, treated, number): pair[treated]
        for what, number, pair in pairs
        if pair is not None
        for treated in (False, True)
    }
    beyond = set(spots) - set(parts_of(test))
    if any(part.what == "white" for part in beyond):
        raise WrongUsage("--white: this test was set up without white cloth")
    if beyond:
        raise WrongUsage("--bluewool: this test was set up without that blue wool")
    if missing_parts(test, spots):
        raise WrongUsage("--halves is missing")
    return spots


def _numbers(spots: dict[Part, str]) -> dict[Part, int]:
    for one in spots.values():
        if not one.isdecimal():
            raise WrongUsage(f"{one}: without a photo give the numbers of readings, as 12:15")
    return {part: int(one) for part, one in spots.items()}


def _measured(chosen: argparse.Namespace, library: Library) -> Measurement:
    from dyeshade.work import measure_photos
    from dyeshade.work.calibrate import calibrations_in
    from dyeshade.work.regions_file import read_regions

    regions = None if chosen.regions is None else read_regions(chosen.regions)
    known = None if chosen.no_calibration else calibrations_in(library)
    (outcome,) = measure_photos.measure_photos([chosen.photo], regions, chosen.light, known=known)
    if isinstance(outcome.found, DyeshadeError):
        raise outcome.found
    return outcome.found


def _result(library: Library, test: HomeTestRecord) -> HomeTest:
    from dyeshade.insight.fastness import home_test_of
    from dyeshade.insight.fastness_kept import steps_of_test
    from dyeshade.insight.solved_together import SolvedTogether

    return home_test_of(
        test.kind, steps_of_test(library, test), test.begun, SolvedTogether(library)
    )
