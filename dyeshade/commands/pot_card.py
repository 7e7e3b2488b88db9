"""``dyeshade pot-card``: a bath on one page, to hang by the pot."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, TypeVar

from dyeshade.bath.units import METRIC, SYSTEMS
from dyeshade.commands.options import name, number, ph_read, whole
from dyeshade.commands.telling import ALL_DONE, SOME_NOT, WRONG_USAGE, WrongUsage, tell
from dyeshade.errors import DyeshadeError
from dyeshade.paper.shade_card import PAPERS
from dyeshade.words.refusals import refusal_text

if TYPE_CHECKING:
    from dyeshade.bath.work_out import BathAsked
    from dyeshade.work.make_pot_card import PotAsked

_T = TypeVar("_T")
_MOST_STUDENTS = 200


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    card = commands.add_parser(
        "pot-card",
        help="make a page to hang by the pot",
        description="Make a page to hang by the pot, as a PDF: amounts for the fibre at hand, "
        "steps, pH and additions with boxes to tick and lines to write on, cautions, the wanted "
        "shade. A page for each pot.",
        epilog="Ends with 0 when it was made, 1 when it was not, 2 for wrong usage.",
        allow_abbrev=False,
    )
    card.add_argument(
        "--fibre",
        action="append",
        default=[],
        metavar="TEXT",
        help='a piece in the pot, weighed dry after scouring: "wool 240 g", "W-014: silk 2 oz"; '
        "repeatable",
    )
    source = card.add_mutually_exclusive_group()
    source.add_argument(
        "--like",
        type=name,
        metavar="ID",
        help="the shade of this piece again, as its last bath was",
    )
    source.add_argument(
        "--bath",
        type=name,
        metavar="CODE",
        help="a kept bath, planned or done; its own fibre unless --fibre tells other",
    )
    source.add_argument(
        "--commission",
        type=name,
        metavar="CODE",
        help="the agreed shade on the agreed weight, in the bath that comes nearest",
    )
    card.add_argument("--library", type=name, metavar="LIBRARY", help="where those are kept")
    bath = card.add_argument_group("the bath")
    for option, example in (
        ("dyestuff", '"weld dried 2:1"'),
        ("mordant", '"alum 15 %%"'),
    ):
        bath.add_argument(
            f"--{option}",
            action="append",
            default=[],
            metavar="TEXT",
            help=f"{example}; repeatable",
        )
    bath.add_argument("--liquor", metavar="RATIO", help='water to fibre: "30:1"')
    bath.add_argument("--pot", metavar="TEXT", help='to the rim: "10 L", "enamel 3 US gal"')
    bath.add_argument("--loose", action="store_true", help="pots get equal shares of each piece")
    bath.add_argument("--foraged", action="store_true", help="a dyestuff was gathered")
    bath.add_argument("--heat", metavar="TEXT", help='temperature of the dye bath: "80 °C"')
    bath.add_argument(
        "--minutes", type=number(0, above=True), metavar="N", help="how long it is held"
    )
    bath.add_argument(
        "--step",
        action="append",
        default=[],
        metavar="TEXT",
        help='a step instead of the usual ones: "Mordant bath; 85 °C; 60 min"; repeatable',
    )
    bath.add_argument(
        "--ph",
        type=ph_read,
        action="append",
        metavar="WHICH=VALUE",
        help="the pH that is wanted, as bath_end=8.5; repeatable",
    )
    bath.add_argument(
        "--add",
        type=name,
        action="append",
        default=[],
        metavar="SUBSTANCE",
        help="what brings it there, as washing soda; repeatable",
    )
    looks = card.add_argument_group("the page")
    looks.add_argument("--students", type=whole, default=1, metavar="N", help="for a class of N")
    looks.add_argument("--title", default="", help="(default: the dyestuffs)")
    looks.add_argument("--maker", default="", help="at the foot of the page")
    looks.add_argument("--paper", choices=PAPERS, default="A4", help="(default: A4)")
    looks.add_argument(
        "--units", choices=SYSTEMS, default=METRIC, help="which units come first (default: metric)"
    )
    card.add_argument("--out", required=True, metavar="POT.pdf", help="where the card goes")
    card.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Make the card.

    Raises
    ------
    WrongUsage
        For options that do not go together.
    """
    from dyeshade.words.papers import made_words, missing_on_paper
    from dyeshade.words.pot_card import pot_card
    from dyeshade.work.make_pot_card import make_pot_card

    if not 1 <= chosen.students <= _MOST_STUDENTS:
        raise WrongUsage(f"--students are 1 to {_MOST_STUDENTS}")
    kept = chosen.like or chosen.bath or chosen.commission
    if not kept and not chosen.dyestuff:
        raise WrongUsage(
            "tell what dyes: --dyestuff TEXT, or --like ID, --bath CODE or --commission CODE"
        )
    if not chosen.fibre and (chosen.like or not kept):
        raise WrongUsage('tell which fibre goes into the pot: --fibre "wool 240 g"')
    try:
        asked = _asked(chosen)
    except _WronglyWrittenError as wrong:
        tell(f"{wrong.option}: {refusal_text(wrong.error)}")
        return WRONG_USAGE
    try:
        if kept:
            asked = _kept(chosen, asked)
        made = make_pot_card(asked, chosen.out, pot_card)
    except DyeshadeError as error:
        tell(refusal_text(error))
        return SOME_NOT
    tell(made_words(made.count, made.pages, "pot card", chosen.out))
    if made.missing:
        tell(missing_on_paper(made.missing))
    return ALL_DONE


def _kept(chosen: argparse.Namespace, asked: PotAsked) -> PotAsked:
    """What the library keeps, under what is typed."""
    from dyeshade.library.library import open_library
    from dyeshade.work.library_place import library_folder
    from dyeshade.work.pot_like import asked_like
    from dyeshade.work.pot_sources import asked_of_bath, asked_of_commission

    with open_library(chosen.library or library_folder(), read_only=True) as library:
        if chosen.bath:
            return asked_of_bath(library, chosen.bath, asked)
        if chosen.commission:
            return asked_of_commission(library, chosen.commission, asked)
        return asked_like(library, chosen.like, asked.bath.pieces, asked)


def _asked(chosen: argparse.Namespace) -> PotAsked:
    from dyeshade.bath.quantities import parse_temperature
    from dyeshade.words.bath_ph import ADDITIVES
    from dyeshade.work.make_pot_card import PotAddition, PotAsked
    from dyeshade.work.pot_steps import parse_step

    heat = _one("--heat", chosen.heat, parse_temperature)
    return PotAsked(
        bath=_bath(chosen),
        title=chosen.title,
        maker=chosen.maker,
        students=chosen.students,
        temperature_c=None if heat is None else float(heat.value),
        minutes=chosen.minutes,
        steps=_each("--step", chosen.step, parse_step),
        phs=tuple(chosen.ph or ()),
        additions=tuple(PotAddition(ADDITIVES.get(one, one)) for one in chosen.add),
        paper=chosen.paper,
        system=chosen.units,
    )


def _bath(chosen: argparse.Namespace) -> BathAsked:
    from dyeshade.bath.ratios import parse_liquor_ratio
    from dyeshade.bath.recipe import Recipe
    from dyeshade.bath.work_out import BathAsked
    from dyeshade.bath.written import parse_dyestuff, parse_piece, parse_pot, parse_substance

    return BathAsked(
        _each("--fibre", chosen.fibre, parse_piece),
        Recipe(
            _each("--dyestuff", chosen.dyestuff, parse_dyestuff),
            _each("--mordant", chosen.mordant, parse_substance),
            _one("--liquor", chosen.liquor, parse_liquor_ratio),
        ),
        _one("--pot", chosen.pot, parse_pot),
        not chosen.loose,
        foraged=chosen.foraged,
    )


class _WronglyWrittenError(Exception):
    """An option whose text cannot be read."""

    def __init__(self, option: str, error: DyeshadeError) -> None:
        super().__init__(option, error)
        self.option, self.error = option, error


def _each(option: str, texts: Sequence[str], parse: Callable[[str], _T]) -> tuple[_T, ...]:
    found = []
    for text in texts:
        try:
            found.append(parse(text))
        except DyeshadeError as error:
            raise _WronglyWrittenError(option, error) from error
    return tuple(found)


def _one(option: str, text: str | None, parse: Callable[[str], _T]) -> _T | None:
    return None if text is None else _each(option, [text], parse)[0]
