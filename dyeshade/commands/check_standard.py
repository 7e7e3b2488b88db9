"""``dyeshade check-standard``: whether set-up, sheet or light have moved."""

from __future__ import annotations

import argparse

from dyeshade.commands.answering import answer, asking_parser
from dyeshade.commands.options import name, whole
from dyeshade.commands.telling import WrongUsage


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    check = asking_parser(
        commands,
        "check-standard",
        "tell whether set-up, sheet or light have moved",
        "Chart a stable coloured object that is measured each session (ISO 7870-2), and warn when "
        "it seems to have moved.",
    )
    check.add_argument(
        "piece", type=name, metavar="PIECE", help="the id that the object has in the library"
    )
    check.add_argument(
        "--learn",
        type=whole,
        metavar="N",
        help="how many of the first sessions the limits are made of (default: 10)",
    )
    check.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Tell the charts.

    Raises
    ------
    WrongUsage
        For too few sessions to learn from.
    """
    from dyeshade.insight.check_standard import LEAST_SESSIONS, check_standard
    from dyeshade.words.repeat_json import check_standard_record
    from dyeshade.words.repeat_lines import check_standard_lines

    if chosen.learn is not None and chosen.learn < LEAST_SESSIONS:
        raise WrongUsage(f"--learn must be {LEAST_SESSIONS} at least")
    return answer(
        chosen,
        lambda library: check_standard(library, chosen.piece, chosen.learn),
        check_standard_lines,
        lambda found: [check_standard_record(found)],
    )
