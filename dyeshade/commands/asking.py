"""The options that ask for shades by the conditions of their baths, alike in all commands."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from dyeshade.commands.options import day, name, span, whole
from dyeshade.library.dye_records import FORMS, STATES, WHICH_PH

if TYPE_CHECKING:
    from dyeshade.library.find import ShadeQuery


def add_question(parser: argparse.ArgumentParser | argparse._ArgumentGroup) -> None:
    """Add the library's place and the options that ask it for shades."""
    parser.add_argument(
        "--library",
        type=name,
        metavar="LIBRARY",
        help="the folder of the shade library (default: the one that DYESHADE_LIBRARY names, or "
        "one among your documents)",
    )
    parser.add_argument("--dyestuff", type=name, help="in any of the piece's baths")
    parser.add_argument("--part", type=name, help="of that dyestuff")
    parser.add_argument("--form", choices=FORMS, help="of that dyestuff")
    parser.add_argument(
        "--ratio",
        type=span,
        metavar="RANGE",
        help="weight of that dyestuff to weight of fibre, as 0.5:1",
    )
    parser.add_argument("--fibre", type=name, help="of the piece")
    parser.add_argument("--mordant", type=name, help="of the piece")
    parser.add_argument(
        "--exhaust",
        type=whole,
        metavar="N",
        help="exhaust number of the last bath; 0: a first one",
    )
    parser.add_argument("--ph", type=span, metavar="RANGE", help="as 8:9.5")
    parser.add_argument(
        "--which-ph", choices=WHICH_PH, help="which pH is meant (default: the one that acted last)"
    )
    parser.add_argument("--from", dest="from_day", type=day, metavar="DAY", help="read since then")
    parser.add_argument("--to", dest="to_day", type=day, metavar="DAY", help="read until then")
    parser.add_argument("--state", choices=STATES, help="of the piece when it was read")
    parser.add_argument("--piece", type=name, metavar="ID", help="readings of one piece")


def query_of(chosen: argparse.Namespace) -> ShadeQuery:
    """What the options ask for."""
    from dyeshade.library.find import ShadeQuery

    ratio_least, ratio_most = chosen.ratio or (None, None)
    ph_least, ph_most = chosen.ph or (None, None)
    return ShadeQuery(
        dyestuff=chosen.dyestuff,
        part=chosen.part,
        form=chosen.form,
        ratio_least=ratio_least,
        ratio_most=ratio_most,
        exhaust_number=chosen.exhaust,
        fibre=chosen.fibre,
        mordant=chosen.mordant,
        ph_least=ph_least,
        ph_most=ph_most,
        ph_which=chosen.which_ph,
        from_day=chosen.from_day,
        to_day=chosen.to_day,
        state=chosen.state,
        piece=chosen.piece,
    )
