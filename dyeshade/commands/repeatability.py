"""``dyeshade repeatability``: how well the dyer repeats."""

from __future__ import annotations

import argparse

from dyeshade.commands.answering import answer, asking_parser
from dyeshade.commands.asking import query_of


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    repeats = asking_parser(
        commands,
        "repeatability",
        "tell how well you repeat a shade",
        "Part the spread of shades at equal conditions into that between baths, between pieces of "
        "one bath and of measuring, as ISO 5725 names them, and tell the smallest difference that "
        "can be claimed.",
        of_shades=True,
    )
    repeats.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Tell the spreads."""
    from dyeshade.insight.repeatability import find_repeatability
    from dyeshade.words.repeat_json import repeatability_record
    from dyeshade.words.repeat_lines import repeatability_lines

    return answer(
        chosen,
        lambda library: find_repeatability(library, query_of(chosen)),
        repeatability_lines,
        lambda found: [repeatability_record(found)],
    )
