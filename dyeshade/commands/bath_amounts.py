"""``dyeshade bath amounts``: from the weight of fibre to all that is weighed out."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TypeVar

from dyeshade.bath.densities import own_density_of_ten
from dyeshade.bath.quantities import parse_weight
from dyeshade.bath.ratios import parse_liquor_ratio, parse_ratio
from dyeshade.bath.recipe import PieceInPot, Recipe
from dyeshade.bath.spoons import SPOONS, SpoonsAtHand, spoon_litres
from dyeshade.bath.store import BOUGHT, Lot, Move
from dyeshade.bath.substances import COMMON_PRACTICE
from dyeshade.bath.units import METRIC, SYSTEMS
from dyeshade.bath.work_out import BathAsked, with_yields, work_out
from dyeshade.bath.written import (
    parse_at_hand,
    parse_dyestuff,
    parse_piece,
    parse_pot,
    parse_substance,
    parse_usual,
    parse_yield,
)
from dyeshade.commands.telling import ALL_DONE, SOME_NOT, WRONG_USAGE, WrongUsage, tell
from dyeshade.errors import DyeshadeError
from dyeshade.words.refusals import refusal_text

_T = TypeVar("_T")


def add_to(questions: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the question to ``dyeshade bath``."""
    amounts = questions.add_parser(
        "amounts",
        help="from the weight of fibre to all that is weighed out",
        description="What a bath needs for the fibre in the pot: dyestuff, mordants, water, pots. "
        'Amounts are written as "1 lb 4 oz" or "2.5 kg", ratios as "2:1" or "150 %".',
        epilog="Ends with 0 when it was worked out, 1 when it cannot be, 2 for wrong usage.",
        allow_abbrev=False,
    )
    amounts.add_argument(
        "--fibre",
        action="append",
        required=True,
        metavar="TEXT",
        help='a piece in the pot, weighed dry after scouring: "wool 240 g", "W-014: silk 2 oz"',
    )
    amounts.add_argument(
        "--dyestuff",
        action="append",
        default=[],
        metavar="TEXT",
        help='a dyestuff and its ratio to the fibre: "weld dried 2:1", "cochineal 8 %%"',
    )
    amounts.add_argument(
        "--mordant",
        action="append",
        default=[],
        metavar="TEXT",
        help='a mordant or assistant: "alum 15 %%", "cream of tartar 6 %% on wool"',
    )
    amounts.add_argument("--liquor", metavar="RATIO", help='water to fibre: "30:1"')
    amounts.add_argument(
        "--yield",
        dest="yields",
        action="append",
        default=[],
        metavar="TEXT",
        help='your own yield: "weld dried 20 %%" of fresh, "madder extract 10 %%" of dried',
    )
    amounts.add_argument(
        "--usual",
        action="append",
        default=[],
        metavar="TEXT",
        help='your own usual range: "alum 8 to 12 %% on wool"',
    )
    amounts.add_argument(
        "--pot", metavar="TEXT", help='what your pots hold to the rim: "10 L", "enamel 3 US gal"'
    )
    amounts.add_argument(
        "--loose", action="store_true", help="loose fibre: pots get equal shares of each piece"
    )
    amounts.add_argument(
        "--exhaust",
        action="append",
        default=[],
        metavar="TEXT",
        help='an exhaust bath and how much you think is left: "silk 50 g, 40 %%"',
    )
    amounts.add_argument(
        "--have",
        action="append",
        default=[],
        metavar="TEXT",
        help='what you have of a dyestuff, and whether it is enough: "weld dried 400 g"',
    )
    amounts.add_argument(
        "--foraged", action="store_true", help="a dyestuff was gathered, not bought"
    )
    amounts.add_argument(
        "--units", choices=SYSTEMS, default=METRIC, help="which units come first (default: metric)"
    )
    amounts.add_argument(
        "--spoon", choices=tuple(SPOONS), help="show level teaspoons beside weights, of this kind"
    )
    amounts.add_argument(
        "--ten",
        action="append",
        default=[],
        metavar="TEXT",
        help='what ten level spoons of yours weigh together: "alum 43 g"',
    )
    amounts.add_argument(
        "--balance",
        default="1 g",
        metavar="WEIGHT",
        help="smallest step of the balance that they were weighed on (default: 1 g)",
    )
    amounts.add_argument("--json", action="store_true", help="one JSON object instead of a table")
    amounts.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Work it out and print it."""
    from dyeshade.words import bath_json, bath_table
    from dyeshade.words.measurement_json import as_line

    try:
        asked, spoons = _asked(chosen), _spoons(chosen)
    except _WronglyWrittenError as wrong:
        tell(f"{wrong.option}: {refusal_text(wrong.error)}")
        return WRONG_USAGE
    try:
        bath = work_out(asked)
    except DyeshadeError as error:
        tell(refusal_text(error))
        return SOME_NOT
    if chosen.json:
        print(as_line(bath_json.worked_out(bath, spoons)))
    else:
        print("\n".join(bath_table.worked_out(bath, chosen.units, spoons)))
    return ALL_DONE


class _WronglyWrittenError(Exception):
    """An option whose text cannot be read."""

    def __init__(self, option: str, error: DyeshadeError) -> None:
        super().__init__(option, error)
        self.option, self.error = option, error


def _spoons(chosen: argparse.Namespace) -> SpoonsAtHand | None:
    if chosen.spoon is None:
        if chosen.ten:
            raise WrongUsage("--ten needs --spoon: which spoons were weighed?")
        return None
    spoon = SPOONS[chosen.spoon]
    steps = _each("--balance", [chosen.balance], parse_weight)
    tens = _each("--ten", chosen.ten, parse_at_hand)
    own = (
        own_density_of_ten(one.name, one.number, spoon_litres(spoon), steps[0].value)
        for one in tens
    )
    return SpoonsAtHand(spoon, tuple(own))


def _asked(chosen: argparse.Namespace) -> BathAsked:
    yields = _each("--yield", chosen.yields, parse_yield)
    dyestuffs = with_yields(_each("--dyestuff", chosen.dyestuff, parse_dyestuff), yields)
    liquor = [] if chosen.liquor is None else [chosen.liquor]
    pots = _each("--pot", [] if chosen.pot is None else [chosen.pot], parse_pot)
    ranges = COMMON_PRACTICE
    for own in _each("--usual", chosen.usual, parse_usual):
        ranges = ranges.with_own(own.substance, own.on, own.low, own.high)
    asked = BathAsked(
        _each("--fibre", chosen.fibre, parse_piece),
        Recipe(
            dyestuffs,
            _each("--mordant", chosen.mordant, parse_substance),
            next(iter(_each("--liquor", liquor, parse_liquor_ratio)), None),
        ),
        next(iter(pots), None),
        not chosen.loose,
        _each("--exhaust", chosen.exhaust, _exhaust),
        chosen.foraged,
        ranges=ranges,
    )
    at_hand = _each("--have", chosen.have, parse_at_hand)
    known = {one.name.casefold() for one in dyestuffs}
    for one in at_hand:
        if one.name.casefold() not in known:
            error = DyeshadeError("no_such_dyestuff", dyestuff=one.name)
            raise _WronglyWrittenError("--have", error)
    lots = tuple(Lot(place, one.name, one.form) for place, one in enumerate(at_hand))
    moves = tuple(Move(place, BOUGHT, one.number) for place, one in enumerate(at_hand))
    return replace(asked, lots=lots, moves=moves)


def _each(option: str, texts: Sequence[str], parse: Callable[[str], _T]) -> tuple[_T, ...]:
    found = []
    for text in texts:
        try:
            found.append(parse(text))
        except DyeshadeError as error:
            raise _WronglyWrittenError(option, error) from error
    return tuple(found)


def _exhaust(text: str) -> tuple[tuple[PieceInPot, ...], float]:
    piece, comma, left = text.rpartition(", ")
    if not comma:
        raise DyeshadeError("line_incomplete", text=text, example="silk 50 g, 40 %")
    share = parse_ratio(left, alone="percent")
    if share > 1:
        raise DyeshadeError("yield_above_all", text=left)
    return (parse_piece(piece),), share
