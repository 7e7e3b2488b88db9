"""Baths that the library keeps, as they are typed, and what a dyer has found out and chosen."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from dyeshade.bath.amounts import DYESTUFF, WATER, BathPlan, Line
from dyeshade.bath.densities import BulkDensity
from dyeshade.bath.exhaust import exhaust_bath
from dyeshade.bath.recipe import PieceInPot
from dyeshade.bath.showing import show_percent, show_ratio, show_volume, show_weight, significant
from dyeshade.bath.store import Lot, Move
from dyeshade.bath.substances import COMMON_PRACTICE
from dyeshade.bath.units import METRIC
from dyeshade.bath.water import in_degrees
from dyeshade.bath.written import DyestuffAtHand
from dyeshade.library.bath_records import (
    BathLine,
    DyestuffMove,
    OwnDensity,
    OwnRange,
    OwnYield,
)
from dyeshade.library.bath_room import BathRoom, bath_room, preference
from dyeshade.library.baths import find_bath, whole_baths
from dyeshade.library.dye_records import Bath, DyestuffLot, FibreLot, Piece
from dyeshade.library.edit import Reader
from dyeshade.work.bath_typed import (
    TypedBath,
    TypedDye,
    TypedHave,
    TypedPiece,
    TypedStep,
    TypedSubstance,
    line_key,
)
from dyeshade.work.plan_bath import OwnFigures, Parent, PieceKnown
from dyeshade.work.unsaved import of_plain


@dataclass(frozen=True)
class KeptPlan:
    """A kept bath as it is typed.

    Attributes
    ----------
    parent : BathPlan, ExhaustBath or None
        The bath whose liquor it is in, as far as it was planned here.
    finished : datetime or None
        When its pieces came out.
    """

    bath_id: int
    typed: TypedBath
    parent: Parent | None
    finished: datetime | None
    room: BathRoom


def own_figures(reader: Reader) -> OwnFigures:
    """What the dyer has found out and chosen, from the library."""
    ranges = COMMON_PRACTICE
    for one in reader.where(OwnRange):
        ranges = ranges.with_own(one.substance, one.on_fibre, one.low, one.high)
    moves = reader.where(DyestuffMove)
    stored = sorted({one.dyestuff_lot_id for one in moves})
    fibres = {one.id: one.name for one in reader.where(FibreLot)}
    codes = {one.id: one.code for one in reader.where(Bath)}
    return OwnFigures(
        ranges,
        tuple(_density(one) for one in reader.where(OwnDensity)),
        tuple(DyestuffAtHand(one.dyestuff, one.form, one.share) for one in reader.where(OwnYield)),
        tuple(
            Lot(one.id, one.name, one.form, one.lot_date)
            for one in reader.among(DyestuffLot, "id", stored)
        ),
        tuple(
            Move(one.dyestuff_lot_id, one.kind, one.grams, codes.get(one.bath_id or 0, ""))
            for one in moves
        ),
        preference(reader, "units", METRIC),
        preference(reader, "spoons"),
        tuple(
            PieceKnown(one.code, fibres.get(one.fibre_lot_id or 0, ""), one.weight_g)
            for one in reader.where(Piece)
        ),
    )


def _density(one: OwnDensity) -> BulkDensity:
    return BulkDensity(
        one.substance,
        one.low_g_ml,
        one.usual_g_ml,
        one.high_g_ml,
        "own spoons weighed",
        one.standard_uncertainty_g_ml,
        one.spoon_sd,
        one.coverage,
    )


def kept_plan(reader: Reader, bath_id: int) -> KeptPlan:
    """A kept bath as it is typed; one that was never planned here as far as it was described.

    Raises
    ------
    DyeshadeError
        ``record_gone``
    """
    room = bath_room(reader, bath_id)
    parent = None
    above = reader.get(Bath, room.bath.parent_bath_id) if room.bath.parent_bath_id else None
    if above is not None:
        parent = parent_plan(reader, above.code)
    finished = None if room.plan is None else room.plan.finished
    typed = _typed(reader, room, "" if above is None else above.code)
    return KeptPlan(bath_id, typed, parent, finished, room)


def parent_plan(reader: Reader, code: str) -> Parent | None:
    """A kept bath as what an exhaust bath draws on; None where its amounts are not known.

    Raises
    ------
    DyeshadeError
        ``bath_unknown``
    """
    room = bath_room(reader, find_bath(reader, code).id)
    fresh = any(line.kind == DYESTUFF for line in room.lines)
    drawn_on = room.plan is not None and room.plan.left_share is not None
    if not room.pieces or not (fresh or drawn_on):
        return None
    pieces = tuple(PieceInPot(one.fibre, one.weight_g, one.code) for one in room.pieces)
    total = sum(one.grams for one in pieces)
    lines = tuple(
        Line(
            one.kind,
            one.name,
            one.planned,
            one.share,
            one.planned / one.share * (1000 if one.kind == WATER else 1),
            one.form,
            one.on_fibre,
            actual=one.actual,
        )
        for one in room.lines
    )
    own = BathPlan(pieces, total, lines)
    if room.bath.parent_bath_id is None or room.plan is None or room.plan.left_share is None:
        return own
    above = parent_plan(reader, reader.the(Bath, room.bath.parent_bath_id).code)
    if above is None:
        return own
    ratio = room.plan.liquor_ratio
    return exhaust_bath(above, pieces, room.plan.left_share, ratio)


def _typed(reader: Reader, room: BathRoom, exhaust_of: str) -> TypedBath:
    bath, plan = room.bath, room.plan
    if plan is None:
        return _described(reader, bath, exhaust_of)
    # Plans that were kept before units and alum could be told do not say.
    degrees = str(plan.have.get("degrees", "mg_l"))
    shares = [one for one in room.lines if one.kind in ("mordant", "assistant")]
    taken = [
        (
            line_key(one.kind, one.name, one.form, one.on_fibre),
            one.written_actual or _amount(one),
        )
        for one in room.lines
        if one.actual is not None
    ]
    return TypedBath(
        bath.code,
        exhaust_of,
        "" if plan.left_share is None else show_percent(plan.left_share),
        tuple(
            TypedPiece(one.code, one.fibre, one.written or show_weight(one.weight_g))
            for one in room.pieces
        ),
        tuple(
            TypedDye(one.name, one.form, one.written or show_ratio(one.share))
            for one in room.lines
            if one.kind == DYESTUFF
        ),
        tuple(
            TypedSubstance(one.name, one.written or show_percent(one.share), one.on_fibre)
            for one in shares
        ),
        next((one.written for one in room.lines if one.kind == WATER), "")
        or ("" if plan.liquor_ratio is None else show_ratio(plan.liquor_ratio)),
        "" if plan.pot_l is None else show_volume(plan.pot_l),
        plan.pot_material,
        not plan.whole,
        plan.foraged,
        tuple(taken),
        _alkalinity(plan.alkalinity_mg_l, degrees),
        degrees,
        _number(plan.water_ph),
        "" if plan.temperature_c is None else f"{significant(plan.temperature_c)} °C",
        _number(plan.target_ph),
        _number(plan.ceiling_ph),
        _number(plan.floor_ph),
        plan.have["raised"],
        tuple(of_plain(TypedHave, one) for one in plan.have["have"]),
        tuple(
            TypedStep(
                one.treatment,
                one.what,
                "" if one.temperature_c is None else f"{significant(one.temperature_c)} °C",
                _number(one.minutes),
                one.started,
                one.ended,
                one.note,
            )
            for one in room.steps
        ),
        bath.note,
        str(plan.have.get("alum", "")),
    )


def _described(reader: Reader, bath: Bath, exhaust_of: str) -> TypedBath:
    """A bath that was described and never planned."""
    whole = whole_baths(reader, [bath.id])[bath.id]
    pieces = reader.where(
        Piece, "id IN (SELECT piece_id FROM treatment WHERE bath_id = ?)", (bath.id,)
    )
    fibres = {one.id: one.name for one in reader.where(FibreLot)}
    return TypedBath(
        bath.code,
        exhaust_of,
        pieces=tuple(
            TypedPiece(
                one.code,
                fibres.get(one.fibre_lot_id or 0, ""),
                "" if one.weight_g is None else show_weight(one.weight_g),
            )
            for one in pieces
        ),
        dyes=()
        if exhaust_of
        else tuple(
            TypedDye(lot.name, lot.form, "" if ratio is None else show_ratio(ratio))
            for lot, ratio in whole.dyestuffs
        ),
        liquor="" if bath.liquor_ratio is None else show_ratio(bath.liquor_ratio),
        note=bath.note,
    )


def _amount(line: BathLine) -> str:
    show = show_volume if line.kind == WATER else show_weight
    return show(line.actual or 0.0)


def _alkalinity(mg_l: float | None, degrees: str) -> str:
    """An alkalinity in the unit that it was given in."""
    return "" if mg_l is None else f"{in_degrees(mg_l)[degrees]:.6g}"


def _number(value: float | None) -> str:
    return "" if value is None else f"{value:.12g}"
