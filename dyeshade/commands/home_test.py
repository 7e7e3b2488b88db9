"""``dyeshade home-test``: home fastness tests set up, photographed, and what is due."""

from __future__ import annotations

import argparse
from argparse import ArgumentTypeError
from collections.abc import Callable
from datetime import datetime
from typing import TYPE_CHECKING

from dyeshade.commands.answering import answer, asking_parser
from dyeshade.commands.fastness import TESTS
from dyeshade.commands.home_test_photo import add_photo
from dyeshade.commands.options import moment, name, number
from dyeshade.commands.telling import ALL_DONE, WrongUsage

if TYPE_CHECKING:
    from dyeshade.library.library import Library
    from dyeshade.work.home_tests_kept import KeptTest

_DIPS = ("acid_dip", "alkaline_dip")


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    home_test = commands.add_parser(
        "home-test",
        help="set up a home fastness test, keep its photos, tell which are due",
        description="A home fastness test sets a treated half of a piece beside one that was kept "
        "as it was. It is no certificate. dyeshade fastness tells what it came to.",
        allow_abbrev=False,
    )
    jobs = home_test.add_subparsers(title="jobs", required=True, metavar="JOB")
    how = jobs.add_parser(
        "how",
        help="tell how a test is done, and what to mind",
        description="How a test is done at home, and what to mind.",
        allow_abbrev=False,
    )
    how.add_argument("test", choices=TESTS, metavar="TEST", help=f"which: {', '.join(TESTS)}")
    how.set_defaults(run=run_how)
    _add_set_up(jobs)
    add_photo(jobs)
    due = asking_parser(
        jobs, "due", "tell which photos are due", "Which photos of home tests are due today."
    )
    due.add_argument(
        "--ahead",
        type=number(0, 3650),
        default=0.0,
        metavar="DAYS",
        help="those of so many days to come, too (default: 0)",
    )
    due.set_defaults(run=run_due)
    listed = asking_parser(
        jobs, "list", "tell all home tests", "All home tests, those under way first."
    )
    listed.set_defaults(run=run_list)
    for job, short, run in (
        ("end", "end a test: nothing is due any more", run_end),
        ("remove", "remove a test; its readings stay", run_remove),
    ):
        parser = asking_parser(jobs, job, short, f"{short[0].upper()}{short[1:]}.")
        which_test(parser)
        parser.set_defaults(run=run)


def which_test(parser: argparse.ArgumentParser) -> None:
    """Ask which test is meant."""
    parser.add_argument("piece", type=name, metavar="PIECE", help="its id, as W-014")
    parser.add_argument(
        "--test",
        choices=TESTS,
        help="which of its tests (default: the one under way)",
    )


def _add_set_up(jobs: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    parser = asking_parser(
        jobs,
        "set-up",
        "begin a test",
        "Begin a home test of a piece, and tell how it is done and when its photos are due.",
    )
    parser.add_argument("piece", type=name, metavar="PIECE", help="its id, as W-014")
    parser.add_argument("test", choices=TESTS, metavar="TEST", help=f"which: {', '.join(TESTS)}")
    parser.add_argument(
        "--begun",
        type=moment,
        metavar="TIME",
        help="when the treated half goes into the light, or was washed, dipped or rubbed "
        "(default: now)",
    )
    parser.add_argument("--ph", type=number(0, 14), help="of a dip")
    parser.add_argument(
        "--with",
        dest="substance",
        type=name,
        metavar="SUBSTANCE",
        help="what it is washed or dipped with, as white vinegar",
    )
    parser.add_argument(
        "--white", action="store_true", help="undyed white cloth touches it, to see its staining"
    )
    parser.add_argument(
        "--bluewool",
        choices=tuple("12345678"),
        action="append",
        default=[],
        metavar="N",
        help="a blue wool reference of ISO 105-B lies beside it; may be repeated",
    )
    parser.add_argument(
        "--days",
        type=days,
        default=(),
        metavar="DAYS",
        help="on which days after the beginning photos are taken, as 1,2,4,8 (default: the usual "
        "ones of the test)",
    )
    parser.add_argument("--note", type=name, help="what else is to be known of it")
    parser.set_defaults(run=run_set_up)


def days(text: str) -> tuple[int, ...]:
    """Days as "1,2,4,8"."""
    from dyeshade.words.home_test_typed import read_days
    from dyeshade.words.typed import MistypedError

    try:
        found = read_days(text)
    except MistypedError as error:
        raise ArgumentTypeError(error.sentence) from error
    if not found:
        raise ArgumentTypeError("it is empty")
    return found


def run_how(chosen: argparse.Namespace) -> int:
    """Tell how a test is done."""
    from dyeshade.words.home_test_record import how_lines

    print("\n".join(how_lines(chosen.test)))
    return ALL_DONE


def run_set_up(chosen: argparse.Namespace) -> int:
    """Begin a test, and tell how it goes on.

    Raises
    ------
    WrongUsage
        For options that do not go together.
    """
    from dyeshade.words.home_test_record import set_up_lines
    from dyeshade.work.home_tests import SaidTest, set_up_test
    from dyeshade.work.home_tests_kept import as_they_stand

    if (chosen.ph is not None) != (chosen.test in _DIPS):
        raise WrongUsage("a dip needs --ph, and nothing else has one")
    if chosen.bluewool and chosen.test != "light":
        raise WrongUsage("--bluewool belongs to a test of light")
    said = SaidTest(
        chosen.piece,
        chosen.test,
        chosen.begun or datetime.now().replace(second=0, microsecond=0),
        chosen.ph,
        chosen.substance or "",
        chosen.white,
        tuple(map(int, chosen.bluewool)),
        chosen.days,
        chosen.note or "",
    )

    def ask(library: Library) -> KeptTest:
        (kept,) = as_they_stand(library, [set_up_test(library, said)])
        return kept

    return answer(chosen, ask, set_up_lines, _records, read_only=False)


def run_due(chosen: argparse.Namespace) -> int:
    """Tell which photos are due."""
    from dyeshade.words.home_test_record import due_lines
    from dyeshade.work.home_tests_kept import due_tests

    now = datetime.now()
    return answer(
        chosen,
        lambda library: due_tests(library, now, chosen.ahead),
        lambda tests: due_lines(tests, now),
        lambda tests: [record for one in tests for record in _records(one)],
    )


def run_list(chosen: argparse.Namespace) -> int:
    """Tell all tests."""
    from dyeshade.words.home_test_record import listed_lines
    from dyeshade.work.home_tests_kept import all_tests

    now = datetime.now()
    return answer(
        chosen,
        all_tests,
        lambda tests: listed_lines(tests, now),
        lambda tests: [record for one in tests for record in _records(one)],
    )


def run_end(chosen: argparse.Namespace) -> int:
    """End a test."""
    from dyeshade.work.home_tests import end_test

    return _change(chosen, lambda library, test: end_test(library, test))


def run_remove(chosen: argparse.Namespace) -> int:
    """Remove a test."""
    from dyeshade.words.home_test_words import kept_test_words
    from dyeshade.work.home_tests import drop_test
    from dyeshade.work.home_tests_kept import as_they_stand, chosen_test

    def ask(library: Library) -> KeptTest:
        (kept,) = as_they_stand(library, [chosen_test(library, chosen.piece, chosen.test)])
        drop_test(library, kept.record.id)
        return kept

    return answer(
        chosen, ask, lambda kept: [f"{kept_test_words(kept)}: removed"], _records, read_only=False
    )


def _change(chosen: argparse.Namespace, change: Callable[[Library, int], None]) -> int:
    from dyeshade.library.trial_records import HomeTestRecord
    from dyeshade.words.home_test_record import listed_lines
    from dyeshade.work.home_tests_kept import as_they_stand, chosen_test

    def ask(library: Library) -> KeptTest:
        test = chosen_test(library, chosen.piece, chosen.test)
        change(library, test.id)
        (kept,) = as_they_stand(library, [library.the(HomeTestRecord, test.id)])
        return kept

    now = datetime.now()
    return answer(chosen, ask, lambda kept: listed_lines([kept], now), _records, read_only=False)


def _records(test: KeptTest) -> list[dict[str, object]]:
    from dyeshade.words.home_test_record import home_test_record

    return [home_test_record(test, datetime.now())]
