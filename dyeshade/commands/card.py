"""``dyeshade card``: a shade card from the shade library."""

from __future__ import annotations

import argparse

from dyeshade.commands.asking import add_question, query_of
from dyeshade.commands.options import name
from dyeshade.commands.telling import ALL_DONE, SOME_NOT, WrongUsage, tell
from dyeshade.errors import DyeshadeError
from dyeshade.paper.shade_card import ORDERS, PAPERS, SWATCH_SIZES, Card
from dyeshade.words.refusals import refusal_text


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    card = commands.add_parser(
        "card",
        help="make a shade card from the shade library",
        description="Make a shade card: swatches with their pieces, baths and L*a*b*, as a PDF.",
        epilog="Ends with 0 when the card was made, 1 when it was not, 2 for wrong usage.",
        allow_abbrev=False,
    )
    which = card.add_argument_group("which shades")
    add_question(which)
    which.add_argument(
        "--all-readings",
        action="store_true",
        help="a piece as often as it was read (default: as it was read last, dry; what has "
        "neither fibre nor bath is left out)",
    )
    which.add_argument(
        "--pick",
        type=name,
        action="append",
        metavar="ID",
        help="this piece, as it was read last; repeatable, and --order given keeps their order",
    )
    looks = card.add_argument_group("how the card looks")
    looks.add_argument("--order", choices=ORDERS, default="ph", help="(default: ph)")
    looks.add_argument("--title", default="", help="what stands over the shades")
    looks.add_argument("--maker", default="", help="who made them")
    looks.add_argument("--paper", choices=PAPERS, default="A4", help="(default: A4)")
    looks.add_argument(
        "--swatch",
        choices=SWATCH_SIZES,
        default="middle",
        help="four, three or two shades side by side (default: middle)",
    )
    looks.add_argument(
        "--tie",
        action="store_true",
        help="leave a place to tie or glue the real fibre, with marks for cutting and folding",
    )
    looks.add_argument(
        "--back",
        action="store_true",
        help="put the baths on the back, for printing on both sides, turned over the long edge",
    )
    card.add_argument("--out", required=True, metavar="CARD.pdf", help="where the card goes")
    card.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Make the card.

    Raises
    ------
    WrongUsage
        For options that do not go together.
    """
    from dyeshade.library.find import ShadeQuery
    from dyeshade.library.library import open_library
    from dyeshade.words.sentences import counted
    from dyeshade.words.shade_card import CARD_WORDS, missing_words
    from dyeshade.work.library_place import library_folder
    from dyeshade.work.make_card import make_card
    from dyeshade.work.pot_like import latest_shade

    query = query_of(chosen)
    if chosen.pick and query != ShadeQuery():
        raise WrongUsage("--pick names the shades: leave out what else asks for some")
    card = Card(
        title=chosen.title,
        maker=chosen.maker,
        paper=chosen.paper,
        swatch=chosen.swatch,
        fibre_place=chosen.tie,
        two_sided=chosen.back,
    )
    try:
        with open_library(chosen.library or library_folder(), read_only=True) as library:
            made = make_card(
                library,
                [latest_shade(library, one).reading.id for one in chosen.pick]
                if chosen.pick
                else query,
                chosen.order,
                card,
                chosen.out,
                CARD_WORDS,
                all_readings=bool(chosen.all_readings or chosen.piece or chosen.pick),
            )
    except DyeshadeError as error:
        tell(refusal_text(error))
        return SOME_NOT
    shades = counted(made.shades, "shade", "shades")
    tell(f"The shade card with {shades} is in {chosen.out}. Print it at 100 %.")
    if made.missing:
        tell(missing_words(made.missing))
    return ALL_DONE
