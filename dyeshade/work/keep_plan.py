"""Keeping what was typed for a bath: one step of undo."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from dyeshade.bath.amounts import DYESTUFF, WATER, Line
from dyeshade.bath.recipe import FORMS
from dyeshade.errors import DyeshadeError
from dyeshade.library.bath_records import BathLine, BathPiece, BathPlanRecord, DayStep
from dyeshade.library.bath_room import put_rows
from dyeshade.library.baths import count_on, find_bath, refuse_circle
from dyeshade.library.dye_records import Bath, BathDyestuff, DyestuffLot
from dyeshade.library.edit import Edit
from dyeshade.library.library import Library
from dyeshade.library.pieces import keep_lot
from dyeshade.work.bath_typed import TypedBath, is_blank, line_key
from dyeshade.work.kept_plan import own_figures, parent_plan
from dyeshade.work.ph_typed import read_ph_typed
from dyeshade.work.plan_bath import plan_typed
from dyeshade.work.read_bath import read_typed
from dyeshade.work.unsaved import plain


def keep_plan(library: Library, typed: TypedBath, bath_id: int | None = None) -> int:
    """Keep what was typed for a bath, in one step of undo.

    Parameters
    ----------
    library : Library
    typed : TypedBath
    bath_id : int, optional
        Of the bath that is changed; a new one where there is none.

    Returns
    -------
    int
        The bath's id.

    Raises
    ------
    DyeshadeError
        What is wrong with the first field that cannot be read; ``bath_code_taken``,
        ``bath_unknown``, ``bath_exhausts_itself``, ``record_gone``; else as `Library.edit`.
    """
    with library.edit("keep_bath_plan") as edit:
        return put_plan(edit, typed, bath_id)


def put_plan(edit: Edit, typed: TypedBath, bath_id: int | None) -> int:
    """As `keep_plan`, within an edit."""
    read = read_typed(typed)
    ph = read_ph_typed(typed)
    for wrong in (*read.wrong, *ph.wrong):
        raise wrong.error
    parent_bath = find_bath(edit, typed.exhaust_of) if typed.exhaust_of else None
    bath_id = _put_bath(edit, typed, bath_id, parent_bath)
    own = own_figures(edit)
    worked = plan_typed(typed, own).worked
    kept = next(iter(edit.where(BathPlanRecord, "bath_id = ?", (bath_id,))), None)
    record = BathPlanRecord(
        bath_id,
        read.recipe.liquor_ratio,
        None if read.pot is None else read.pot.litres,
        typed.material,
        not typed.loose,
        typed.foraged,
        read.left_share,
        ph.temperature_c,
        ph.alkalinity_mg_l,
        ph.water_ph,
        ph.target,
        ph.ceiling,
        ph.floor,
        {
            "have": [plain(one) for one in typed.have],
            "raised": typed.raised,
            "degrees": typed.degrees,
            "alum": typed.alum.strip(),
        },
        None if kept is None else kept.finished,
        0 if kept is None else kept.id,
    )
    if kept is None:
        edit.add(record)
    else:
        edit.change(record)
    meant = [row for row in typed.pieces if not is_blank(row, ("fibre",))]
    put_rows(
        edit,
        BathPiece,
        bath_id,
        [
            BathPiece(bath_id, piece.name, piece.fibre, piece.grams, row.weight.strip())
            for piece, row in zip(read.pieces, meant, strict=True)
        ],
    )
    lines = () if worked is None else worked.plan.lines
    put_rows(edit, BathLine, bath_id, [_line(bath_id, line, typed) for line in lines])
    put_rows(
        edit,
        DayStep,
        bath_id,
        [
            DayStep(
                bath_id,
                step.treatment,
                step.what,
                step.temperature_c,
                step.minutes,
                row.started,
                row.ended,
                row.note.strip(),
            )
            for step, row in zip(read.steps, typed.steps, strict=True)
        ],
    )
    _put_dyes(edit, bath_id, lines, parent_bath)
    return bath_id


def _put_bath(edit: Edit, typed: TypedBath, bath_id: int | None, parent: Bath | None) -> int:
    code = typed.code.strip()
    if any(one.id != bath_id for one in edit.coded(Bath, code)):
        raise DyeshadeError("bath_code_taken", bath=code)
    kept = Bath(code) if bath_id is None else edit.the(Bath, bath_id)
    if parent is None:
        # A number without a bath that it counts from was written down so; it stays.
        number = kept.exhaust_number if kept.parent_bath_id is None else 0
    else:
        number = parent.exhaust_number + 1
        if bath_id is not None:
            refuse_circle(edit, kept, parent)
    parent_liquor = None if parent is None else parent_plan(edit, parent.code)
    planned = plan_typed(typed, parent=parent_liquor)
    worked, water = planned.worked, planned.water_l
    bath = replace(
        kept,
        code=code,
        vessel=" ".join(filter(None, (typed.material, typed.pot.strip()))) or kept.vessel,
        exhaust_number=number,
        parent_bath_id=None if parent is None else parent.id,
        note=typed.note.strip(),
    )
    if worked is not None and water:
        bath = replace(bath, liquor_ratio=1000 * water / worked.plan.fibre_g)
    if bath_id is None:
        return edit.add(bath)
    edit.change(bath)
    count_on(edit, bath)
    return bath_id


def _line(bath_id: int, line: Line, typed: TypedBath) -> BathLine:
    key = line_key(line.kind, line.name, line.form, line.on)
    return BathLine(
        bath_id,
        line.kind,
        line.name,
        line.share,
        line.planned,
        line.form,
        line.on,
        line.actual,
        _written(line, typed),
        dict(typed.taken).get(key, "").strip(),
    )


def _written(line: Line, typed: TypedBath) -> str:
    """How the share of a line was typed."""
    if line.kind == WATER:
        return typed.liquor.strip()
    if line.kind == DYESTUFF:
        for dye in typed.dyes:
            if line_key(DYESTUFF, dye.name.strip(), dye.form) == line_key(
                DYESTUFF, line.name, line.form
            ):
                return dye.ratio.strip()
    for row in typed.substances:
        if (row.name.strip().casefold(), row.on) == (line.name.casefold(), line.on):
            return row.share.strip()
    return ""


def _put_dyes(edit: Edit, bath_id: int, lines: Sequence[Line], parent: Bath | None) -> None:
    """The bath's dyestuffs with the ratios that they have; of an exhaust bath those of the first.

    A lot that is in the store is taken before one that was only named.
    """
    kept = edit.where(BathDyestuff, "bath_id = ?", (bath_id,), "place, id")
    wanted = [
        (_lot_for(edit, line, kept), line.share_counted)
        for line in lines
        if line.kind == DYESTUFF and line.counted > 0
    ]
    if not wanted and parent is not None:
        above = edit.where(BathDyestuff, "bath_id = ?", (parent.id,), "place, id")
        wanted = [(one.dyestuff_lot_id, one.ratio or 0.0) for one in above]
    for extra in kept[len(wanted) :]:
        edit.remove(BathDyestuff, extra.id)
    for place, (lot_id, ratio) in enumerate(wanted, 1):
        row = BathDyestuff(bath_id, lot_id, ratio or None, place)
        if place <= len(kept):
            edit.change(replace(row, id=kept[place - 1].id))
        else:
            edit.add(row)


def _lot_for(edit: Edit, line: Line, kept: Sequence[BathDyestuff]) -> int:
    named = edit.where(
        DyestuffLot, "name = ? COLLATE NOCASE AND form = ?", (line.name.strip(), line.form)
    )
    ids = {lot.id for lot in named}
    for row in kept:
        if row.dyestuff_lot_id in ids:
            return row.dyestuff_lot_id
    stored = edit.rows("SELECT DISTINCT dyestuff_lot_id FROM dyestuff_move")
    for lot in named:
        if (lot.id,) in stored:
            return lot.id
    return keep_lot(edit, DyestuffLot(line.name.strip(), form=line.form or FORMS[1]))
