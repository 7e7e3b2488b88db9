"""``dyeshade drift``: how a piece has moved over time."""

from __future__ import annotations

import argparse

from dyeshade.commands.answering import answer, asking_parser
from dyeshade.commands.options import name, whole


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    drift = asking_parser(
        commands,
        "drift",
        "tell how a piece has moved over time",
        "Set a piece's readings beside one of them: CIEDE2000 with its 95 per cent interval, what "
        "of it is sure, and the grade for change in colour (ISO 105-A05).",
    )
    drift.add_argument("piece", type=name, metavar="PIECE", help="its id, as W-014")
    drift.add_argument(
        "--since",
        type=whole,
        metavar="READING",
        help="the reading that the others are set beside, by its number (default: the first dry "
        "one)",
    )
    drift.add_argument("--wet", action="store_true", help="set wet readings beside dry ones, too")
    drift.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Tell the drift."""
    from dyeshade.insight.drift import drift_of
    from dyeshade.words.drift_json import drift_record
    from dyeshade.words.drift_lines import drift_lines

    return answer(
        chosen,
        lambda library: drift_of(library, chosen.piece, chosen.since, chosen.wet),
        drift_lines,
        lambda found: [drift_record(found)],
    )
