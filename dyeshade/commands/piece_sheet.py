"""``dyeshade piece-sheet``: a page for each piece with all that is known of it."""

from __future__ import annotations

import argparse

from dyeshade.commands.options import name
from dyeshade.commands.telling import ALL_DONE, SOME_NOT, tell
from dyeshade.errors import DyeshadeError
from dyeshade.paper.shade_card import PAPERS
from dyeshade.words.refusals import refusal_text


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    sheet = commands.add_parser(
        "piece-sheet",
        help="make a page of all that is known of a piece",
        description="Make a page for each piece, as a PDF: its photos, what it went through, its "
        "readings and how far it has moved.",
        epilog="Ends with 0 when they were made, 1 when they were not, 2 for wrong usage.",
        allow_abbrev=False,
    )
    sheet.add_argument(
        "--library",
        type=name,
        metavar="LIBRARY",
        help="the folder of the shade library (default: the one that DYESHADE_LIBRARY names, or "
        "one among your documents)",
    )
    sheet.add_argument(
        "--piece",
        type=name,
        action="append",
        required=True,
        metavar="ID",
        help="of this piece; repeatable",
    )
    sheet.add_argument("--paper", choices=PAPERS, default="A4", help="(default: A4)")
    sheet.add_argument("--out", required=True, metavar="PIECE.pdf", help="where they go")
    sheet.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Make the sheets."""
    from dyeshade.library.library import open_library
    from dyeshade.words.papers import made_words, missing_on_paper
    from dyeshade.words.piece_sheet import piece_sheet
    from dyeshade.work.library_place import library_folder
    from dyeshade.work.make_piece_sheet import make_piece_sheets
    from dyeshade.work.side_by_side import Warm

    warm = Warm()
    try:
        with open_library(chosen.library or library_folder(), read_only=True) as library:
            made = make_piece_sheets(
                library, chosen.piece, chosen.out, piece_sheet, chosen.paper, warm
            )
    except DyeshadeError as error:
        tell(refusal_text(error))
        return SOME_NOT
    finally:
        warm.close()
    tell(made_words(made.count, made.pages, "piece sheet", chosen.out))
    if made.missing:
        tell(missing_on_paper(made.missing))
    return ALL_DONE
