"""What a bath needs, as one JSON object; the contract is schemas/bath_amounts.schema.json."""

from __future__ import annotations

from collections.abc import Sequence

from dyeshade.bath.amounts import WATER, BathPlan, Line
from dyeshade.bath.exhaust import ExhaustBath
from dyeshade.bath.recipe import PieceInPot
from dyeshade.bath.spoons import SpoonsAtHand
from dyeshade.bath.store import Enough
from dyeshade.bath.work_out import BathWorkedOut
from dyeshade.errors import Notice
from dyeshade.words.bath_table import spoons_of
from dyeshade.words.cautions import caution_text

# A hundredth of a milligram: no balance in a dye room shows it.
_DIGITS = 5


def worked_out(bath: BathWorkedOut, spoons: SpoonsAtHand | None = None) -> dict[str, object]:
    """Everything about a bath as plain values, ready for `measurement_json.as_line`.

    Parameters
    ----------
    bath : BathWorkedOut
    spoons : SpoonsAtHand, optional
    """
    notices = [notice for one in bath.enough for notice in one.notices]
    return {
        **_plan(bath.plan, spoons),
        "pots": [_plan(pot, spoons) for pot in bath.pots],
        "exhaust_baths": [_exhaust(exhaust) for exhaust in bath.exhausts],
        "at_hand": [_enough(one) for one in bath.enough],
        "warnings": _notices([*bath.plan.notices, *notices]),
        "cautions": _notices(bath.cautions),
    }


def _enough(answer: Enough) -> dict[str, object]:
    return {
        "dyestuff": answer.dyestuff.name,
        "form": answer.dyestuff.form,
        "needed_g": _r(answer.needed_g),
        "left_g": _r(answer.left_g),
        "lacking_g": _r(answer.lacking_g),
        "enough": answer.is_enough,
        "enough_for_fibre_g": _r(answer.fibre_g),
        "take": [{"form": lot.form, "grams": _r(grams)} for lot, grams in answer.take],
    }


def _plan(plan: BathPlan, spoons: SpoonsAtHand | None) -> dict[str, object]:
    return {
        "fibre_g": _r(plan.fibre_g),
        "pieces": _pieces(plan.pieces),
        "lines": [_line(line, spoons) for line in plan.lines],
    }


def _pieces(pieces: Sequence[PieceInPot]) -> list[dict[str, object]]:
    return [{"name": one.name, "fibre": one.fibre, "grams": _r(one.grams)} for one in pieces]


def _line(line: Line, spoons: SpoonsAtHand | None) -> dict[str, object]:
    found = spoons_of(line, spoons)
    return {
        "kind": line.kind,
        "name": line.name,
        "form": line.form or None,
        "on": line.on or None,
        "planned": _r(line.planned),
        "unit": "L" if line.kind == WATER else "g",
        "share": _r(line.share),
        "fibre_g": _r(line.fibre_g),
        "also": [{"form": form, "grams": _r(grams)} for form, grams in line.also],
        "level_spoons": None
        if found is None
        else {
            "count": float(found.count),
            "spoon": found.spoon,
            "grams": _r(found.weight.grams),
            "low_g": _r(found.weight.low_g),
            "high_g": _r(found.weight.high_g),
        },
    }


def _exhaust(exhaust: ExhaustBath) -> dict[str, object]:
    return {
        "number": exhaust.number,
        "fibre_g": _r(exhaust.fibre_g),
        "pieces": _pieces(exhaust.pieces),
        "left_share": exhaust.left_share,
        "dyestuffs": [
            {
                "name": left.name,
                "form": left.form,
                "first_g": _r(left.first_g),
                "left_g": _r(left.left_g),
                "ratio_left": _r(left.ratio_left),
            }
            for left in exhaust.dyestuffs
        ],
        "water_l": None if exhaust.water_l is None else _r(exhaust.water_l),
        "to_add_l": None if exhaust.to_add_l is None else _r(exhaust.to_add_l),
    }


def _notices(notices: Sequence[Notice]) -> list[dict[str, object]]:
    return [{"code": notice.code, "text": caution_text(notice)} for notice in notices]


def _r(number: float) -> float:
    return round(number, _DIGITS)
