"""``dyeshade sheet``: a reference sheet to print."""

from __future__ import annotations

import argparse

from dyeshade.commands.telling import ALL_DONE, SOME_NOT, WrongUsage, tell
from dyeshade.errors import DyeshadeError
from dyeshade.words.refusals import refusal_text


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    sheet = commands.add_parser(
        "sheet",
        help="make a reference sheet to print",
        description="Make a reference sheet to print at 100 %, with a serial number of its own.",
        allow_abbrev=False,
    )
    sheet.add_argument("--paper", required=True, choices=("A4", "Letter"), help="size of the paper")
    sheet.add_argument(
        "--cells",
        default="six",
        choices=("six", "one"),
        help="six cells for pieces, or one large cell for a skein or a cloth (default: six)",
    )
    sheet.add_argument(
        "--colours", action="store_true", help="print colour patches around the cells too"
    )
    sheet.add_argument("--out", required=True, metavar="SHEET.pdf", help="where the page goes")
    sheet.add_argument(
        "--layout", metavar="SHEET.json", help="where everything stands on it, for other programs"
    )
    sheet.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Make the sheet.

    Raises
    ------
    WrongUsage
        Where both files have the same name.
    """
    from dyeshade.work.make_sheet import make_sheet

    if chosen.layout == chosen.out:
        raise WrongUsage("--out and --layout name the same file")
    try:
        layout = make_sheet(chosen.paper, chosen.cells, chosen.colours, chosen.out, chosen.layout)
    except DyeshadeError as error:
        tell(refusal_text(error))
        return SOME_NOT
    tell(f"Reference sheet {layout.serial} is in {chosen.out}. Print it at 100 % on matte paper.")
    return ALL_DONE
