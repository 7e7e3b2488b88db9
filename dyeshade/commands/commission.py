"""``dyeshade commission``: shades that were agreed on, and whether dyeings met them."""

from __future__ import annotations

import argparse

from dyeshade.commands.answering import answer, asking_parser
from dyeshade.commands.options import day, name, number, whole
from dyeshade.commands.wanted import COLOUR, add_photo, check_wanted, wanted_of


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
    _add_change(jobs)
    remove = asking_parser(
        jobs, "remove", "remove a commission", "Remove a commission and what was judged by it."
    )
    remove.add_argument("code", type=name, metavar="CODE", help="the commission's id")
    remove.set_defaults(run=run_remove)
    listed = asking_parser(
        jobs, "list", "tell all commissions", "All commissions with what they came to."
    )
    listed.set_defaults(run=run_list)


def _add_agree(jobs: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    agree = asking_parser(
        jobs, "agree", "keep a shade that was agreed on", "Keep an agreed shade and its tolerance."
    )
    agree.add_argument("colour", type=name, nargs="?", metavar="COLOUR", help=COLOUR)
    add_photo(agree)
    agree.add_argument("--code", type=name, help="its id (default: the next free one)")
    _add_terms(agree, 2.0)
    agree.set_defaults(run=run_agree)


def _add_terms(parser: argparse.ArgumentParser, tolerance: float | None) -> None:
    usual = "" if tolerance is None else f" (default: {tolerance:g})"
    parser.add_argument(
        "--tolerance",
        type=number(0, above=True),
        default=tolerance,
        metavar="DE",
        help=f"CIEDE2000 that a dyeing may differ by{usual}",
    )
    parser.add_argument("--what", type=name, help="what is to be dyed, as shawl")
    parser.add_argument("--for", dest="for_whom", type=name, metavar="WHOM", help="whom it is for")
    parser.add_argument("--due", type=day, metavar="DAY", help="when it is due, as 2025-03-14")
    parser.add_argument(
        "--weight", type=number(0, above=True), metavar="GRAMS", help="dry weight of the fibre"
    )
    parser.add_argument("--note", type=name, help="what else was agreed on")


def _add_change(jobs: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    change = asking_parser(
        jobs,
        "change",
        "put a commission right",
        "Change what is named here, and nothing else; what was judged is judged by the new terms.",
    )
    change.add_argument("code", type=name, metavar="CODE", help="the commission's id")
    change.add_argument("--colour", type=name, metavar="COLOUR", help=COLOUR)
    add_photo(change)
    change.add_argument("--new-code", type=name, metavar="CODE", help="another id")
    _add_terms(change, None)
    change.set_defaults(run=run_change)


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
        type=whole,
        metavar="READING",
        help="which of its readings, as dyeshade drift numbers them (default: the latest dry one)",
    )
    judge.set_defaults(run=run_judge)


def run_agree(chosen: argparse.Namespace) -> int:
    """Keep what was agreed on, and tell it.

    Raises
    ------
    WrongUsage
        Where no colour was given.
    """
    from dyeshade.library.library import Library
    from dyeshade.words.commission_answer import note_with
    from dyeshade.words.commission_words import commission_lines, commission_record
    from dyeshade.work.commissions import CommissionKept, SaidCommission, agree

    check_wanted(chosen, chosen.colour)

    def keep(library: Library) -> CommissionKept:
        shade = wanted_of(library, chosen, chosen.colour)
        assert shade is not None
        said = SaidCommission(
            shade,
            chosen.tolerance,
            chosen.code or "",
            chosen.what or "",
            chosen.for_whom or "",
            chosen.due,
            chosen.weight,
            note_with(chosen.note or "", shade),
        )
        return agree(library, said)

    return answer(
        chosen, keep, commission_lines, lambda kept: [commission_record(kept)], read_only=False
    )


def run_change(chosen: argparse.Namespace) -> int:
    """Put a commission right, and tell it.

    Raises
    ------
    WrongUsage
        Where a colour was given twice.
    """
    from dyeshade.library.library import Library
    from dyeshade.words.commission_answer import note_with
    from dyeshade.words.commission_words import commission_lines, commission_record
    from dyeshade.work.commission_changes import change_commission
    from dyeshade.work.commissions import CommissionKept, SaidCommission, commission

    check_wanted(chosen, chosen.colour, needed=False)

    def change(library: Library) -> CommissionKept:
        old = commission(library, chosen.code).commission
        shade = wanted_of(library, chosen, chosen.colour) or ""
        said = SaidCommission(
            shade,
            chosen.tolerance or old.tolerance,
            chosen.new_code or old.code,
            chosen.what or old.what,
            chosen.for_whom or old.for_whom,
            chosen.due or old.due,
            chosen.weight or old.weight_g,
            note_with(chosen.note or old.note, shade),
        )
        return change_commission(library, chosen.code, said)

    return answer(
        chosen, change, commission_lines, lambda kept: [commission_record(kept)], read_only=False
    )


def run_remove(chosen: argparse.Namespace) -> int:
    """Remove a commission, and tell what it was."""
    from dyeshade.library.library import Library
    from dyeshade.words.commission_words import commission_lines, commission_record
    from dyeshade.work.commission_changes import drop_commission
    from dyeshade.work.commissions import CommissionKept, commission

    def drop(library: Library) -> CommissionKept:
        kept = commission(library, chosen.code)
        drop_commission(library, chosen.code)
        return kept

    return answer(
        chosen,
        drop,
        lambda kept: ["Removed:", *commission_lines(kept)],
        lambda kept: [commission_record(kept)],
        read_only=False,
    )


def run_judge(chosen: argparse.Namespace) -> int:
    """Judge a dyeing, keep the result, and tell it with those before."""
    from dyeshade.library.library import Library
    from dyeshade.words.commission_words import commission_lines, commission_record
    from dyeshade.work.commissions import CommissionKept, commission
    from dyeshade.work.judge_commission import judge

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
