"""``dyeshade fastness``: home fastness tests of a piece."""

from __future__ import annotations

import argparse
from argparse import ArgumentTypeError

from dyeshade.commands.answering import answer, asking_parser
from dyeshade.commands.options import name
from dyeshade.commands.telling import WrongUsage

TESTS = ("light", "wash", "acid_dip", "alkaline_dip", "rubbing")
"""As `dyeshade.insight.fastness.TESTS`, which is slow to import."""


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    fastness = asking_parser(
        commands,
        "fastness",
        "tell what home fastness tests of a piece came to",
        "Grade what light, washing, dips or rubbing did to a piece, from 5 (nothing) to 1. These "
        "are home tests, not certificates. Readings are found by the piece's treatments and "
        "states, or named by their numbers, as dyeshade drift tells them.",
    )
    fastness.add_argument("piece", type=name, metavar="PIECE", help="its id, as W-014")
    fastness.add_argument(
        "--test", choices=TESTS, help="which test (default: all that it went through)"
    )
    fastness.add_argument(
        "--pair",
        type=reading_pair,
        action="append",
        default=[],
        metavar="FROM:TO",
        help="an untreated reading and a treated one, as 12:15; may be given again for each photo",
    )
    fastness.add_argument(
        "--white",
        type=reading_pair,
        action="append",
        default=[],
        metavar="FROM:TO",
        help="white cloth beside it, before and after",
    )
    fastness.add_argument(
        "--bluewool",
        type=blue_wool,
        action="append",
        default=[],
        metavar="N=FROM:TO",
        help="a blue wool reference of ISO 105-B, covered and exposed, as 4=21:22",
    )
    fastness.set_defaults(run=run)


def reading_pair(text: str) -> tuple[int, int]:
    """Two readings as "12:15"."""
    before, colon, after = text.partition(":")
    if not (colon and before.strip().isdecimal() and after.strip().isdecimal()):
        raise ArgumentTypeError(f"{text} is not two readings as 12:15")
    return int(before), int(after)


def blue_wool(text: str) -> tuple[int, tuple[int, int]]:
    """A blue wool reference as "4=21:22"."""
    number, equals, pair = text.partition("=")
    if not equals or number.strip() not in map(str, range(1, 9)):
        raise ArgumentTypeError(f"{text} is not a blue wool from 1 to 8 as 4=21:22")
    return int(number), reading_pair(pair)


def run(chosen: argparse.Namespace) -> int:
    """Tell the results.

    Raises
    ------
    WrongUsage
        For options that do not go together.
    """
    from dyeshade.words.fastness_json import home_test_records
    from dyeshade.words.fastness_lines import home_test_lines
    from dyeshade.work.ask_fastness import FastnessAsked, ask_fastness

    if (chosen.pair or chosen.white) and chosen.test is None:
        raise WrongUsage("--pair and --white need --test")
    if chosen.bluewool and chosen.test != "light":
        raise WrongUsage("--bluewool belongs to --test light")
    asked = FastnessAsked(chosen.test, chosen.pair, chosen.white, dict(chosen.bluewool))
    return answer(
        chosen,
        lambda library: ask_fastness(library, chosen.piece, asked),
        lambda found: home_test_lines(chosen.piece, found),
        lambda found: home_test_records(chosen.piece, found),
    )
