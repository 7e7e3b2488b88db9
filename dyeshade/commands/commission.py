"""``dyeshade commission``: shades that were agreed on, and whether dyeings met them."""

from __future__ import annotations

import argparse

from dyeshade.commands.answering import answer, asking_parser
from dyeshade.commands.options import day, name, number


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    commission = commands.add_parser(
        "commission",
        help="agree on a shade, and judge dyeings by it",
        description="Keep a shade that was agreed on with its tolerance, and whether what was "
        "dyed for it met it.",
        allow_abbrev=False,
    )
    jobs = commission.add_subparsers(title="jobs", required=True, metavar="JOB")
    _add_agree(jobs)
    _add_judge(jobs)
    listed = asking_parser(
        jobs, "list", "tell all commissions", "All commissions with what they came to."
    )
    listed.set_defaults(run=run_list)


def _add_agree(jobs: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    agree = asking_parser(
        jobs, "agree", "keep a shade that was agreed on", "Keep an agreed shade and its tolerance."
    )
    agree.add_argument(
        "colour",
        type=name,
        metavar="COLOUR",
        help="L*,a*,b* as 60,20,30, an sRGB colour as #d6c84a, or a piece's id",
    )
    agree.add_argument(
        "--tolerance",
        type=number(0, above=True),
        default=2.0,
        metavar="DE",
        help="CIEDE2000 that a dyeing may differ by (default: 2)",
    )
    agree.add_argument("--code", type=name, help="its id (default: the next free one)")
    agree.add_argument("--what", type=name, help="what is to be dyed, as shawl")
    agree.add_argument("--for", dest="for_whom", type=name, metavar="WHOM", help="whom it is for")
    agree.add_argument("--due", type=day, metavar="DAY", help="when it is due, as 2025-03-14")
    agree.add_argument(
        "--weight", type=number(0, above=True), metavar="GRAMS", help="dry weight of the fibre"
    )
    agree.add_argument("--note", type=name, help="what else was agreed on")
    agree.set_defaults(run=run_agree)


def _add_judge(jobs: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    judge = asking_parser(
        jobs,
        "judge",
        "judge a dyeing by a commission",
        "Tell how far a piece lies from the agreed shade and the chance that it is within the "
        "tolerance, and keep that.",
    )
    judge.add_argument("code", type=name, metavar="CODE", help="the commission's id")
    judge.add_argument("piece", type=name, metavar="PIECE", help="the piece's id, as W-014")
    judge.add_argument(
        "--reading",
        type=int,
        metavar="READING",
        help="which of its readings, as dyeshade drift numbers them (default: the latest dry one)",
    )
    judge.set_defaults(run=run_judge)


def run_agree(chosen: argparse.Namespace) -> int:
    """Keep what was agreed on, and tell it."""
    from dyeshade.words.commission_words import commission_lines, commission_record
    from dyeshade.work.commissions import SaidCommission, agree

    said = SaidCommission(
        chosen.colour,
        chosen.tolerance,
        chosen.code or "",
        chosen.what or "",
        chosen.for_whom or "",
        chosen.due,
        chosen.weight,
        chosen.note or "",
    )
    return answer(
        chosen,
        lambda library: agree(library, said),
        commission_lines,
        lambda kept: [commission_record(kept)],
        read_only=False,
    )


def run_judge(chosen: argparse.Namespace) -> int:
    """Judge a dyeing, keep the result, and tell it with those before."""
    from dyeshade.library.library import Library
    from dyeshade.words.commission_words import commission_lines, commission_record
    from dyeshade.work.commissions import CommissionKept, commission, judge

    def ask(library: Library) -> CommissionKept:
        judge(library, chosen.code, chosen.piece, chosen.reading)
        return commission(library, chosen.code)

    return answer(
        chosen, ask, commission_lines, lambda kept: [commission_record(kept)], read_only=False
    )


def run_list(chosen: argparse.Namespace) -> int:
    """Tell all commissions."""
    from dyeshade.words.commission_words import commission_record, commissions_lines
    from dyeshade.work.commissions import commissions

    return answer(
        chosen,
        commissions,
        commissions_lines,
        lambda found: [commission_record(one) for one in found],
    )
