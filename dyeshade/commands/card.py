"""``dyeshade card``: a shade card from the shade library."""

from __future__ import annotations

import argparse

from dyeshade.commands.telling import ALL_DONE, SOME_NOT, tell
from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import FORMS, WHICH_PH
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
    card.add_argument(
        "--library", metavar="FOLDER", help="the shade library (default: the one in the window)"
    )
    _add_question(card.add_argument_group("which shades"))
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


def _add_question(group: argparse._ArgumentGroup) -> None:
    group.add_argument("--dyestuff", metavar="NAME", help="as weld")
    group.add_argument("--part", metavar="NAME", help="of the dyestuff, as root")
    group.add_argument("--form", choices=FORMS, help="of the dyestuff")
    group.add_argument("--fibre", metavar="NAME", help="as wool")
    group.add_argument("--mordant", metavar="NAME", help="as alum")
    group.add_argument(
        "--ph", type=ph_range, metavar="LEAST:MOST", help="as 8:9.5, 8: or :5 (or one pH)"
    )
    group.add_argument(
        "--which-ph", choices=WHICH_PH, help="which pH is meant (default: the one that acted last)"
    )
    group.add_argument("--piece", metavar="ID", help="shades of one piece only")


def ph_range(text: str) -> tuple[float | None, float | None]:
    """Least and most of a typed range, as 8:9.5; None where that side is open.

    Raises
    ------
    argparse.ArgumentTypeError
        Where it is no range of pH.
    """
    least, colon, most = text.partition(":")
    try:
        bounds = [float(part) if part.strip() else None for part in (least, most)]
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no pH, nor a range as 8:9.5") from None
    low, high = bounds[0], bounds[1] if colon else bounds[0]
    given = [bound for bound in (low, high) if bound is not None]
    if not given or not all(0 <= bound <= 14 for bound in given) or given != sorted(given):
        raise argparse.ArgumentTypeError(f"{text!r} is no pH from 0 to 14, nor a range as 8:9.5")
    return low, high


def run(chosen: argparse.Namespace) -> int:
    """Make the card."""
    from dyeshade.library.find import ShadeQuery
    from dyeshade.library.library import open_library
    from dyeshade.words.shade_card import CARD_WORDS, missing_words
    from dyeshade.work.library_place import library_folder
    from dyeshade.work.make_card import make_card

    least, most = chosen.ph or (None, None)
    query = ShadeQuery(
        dyestuff=chosen.dyestuff,
        part=chosen.part,
        form=chosen.form,
        fibre=chosen.fibre,
        mordant=chosen.mordant,
        ph_least=least,
        ph_most=most,
        ph_which=chosen.which_ph,
        piece=chosen.piece,
    )
    card = Card(
        chosen.title,
        chosen.maker,
        chosen.paper,
        chosen.swatch,
        chosen.tie,
        chosen.back,
    )
    folder = library_folder() if chosen.library is None else chosen.library
    try:
        with open_library(folder, read_only=True) as library:
            made = make_card(library, query, chosen.order, card, chosen.out, CARD_WORDS)
    except DyeshadeError as error:
        tell(refusal_text(error))
        return SOME_NOT
    shades = "1 shade" if made.shades == 1 else f"{made.shades} shades"
    tell(f"The shade card with {shades} is in {chosen.out}. Print it at 100 %.")
    if made.missing:
        tell(missing_words(made.missing))
    return ALL_DONE
