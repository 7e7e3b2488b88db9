"""A bath from what a dyer typed: worked out, made again for another weight, exhausted."""

from __future__ import annotations

from dataclasses import dataclass, replace

from dyeshade.bath.amounts import DYESTUFF, WATER, BathPlan, Line, with_actual
from dyeshade.bath.densities import BulkDensity
from dyeshade.bath.exhaust import ExhaustBath, exhaust_bath
from dyeshade.bath.quantities import parse_weight
from dyeshade.bath.recipe import fibre_grams, scale_pieces
from dyeshade.bath.showing import show_weight
from dyeshade.bath.spoons import SPOONS, SpoonsAtHand
from dyeshade.bath.store import Lot, Move
from dyeshade.bath.substances import ASSISTANT, COMMON_PRACTICE, MORDANT, Ranges
from dyeshade.bath.units import METRIC
from dyeshade.bath.work_out import BathAsked, BathWorkedOut, with_yields, work_out
from dyeshade.bath.written import DyestuffAtHand
from dyeshade.errors import DyeshadeError
from dyeshade.work.bath_typed import TypedBath, TypedPiece, line_key
from dyeshade.work.read_bath import ReadBath, Wrong, read_typed


@dataclass(frozen=True)
class PieceKnown:
    """A piece of the library as far as a pot needs it; `fibre` as it was written."""

    code: str
    fibre: str
    weight_g: float | None


@dataclass(frozen=True)
class OwnFigures:
    """What a dyer has found out and chosen, and what they have.

    Attributes
    ----------
    units : str
        Units that come first, "metric" or "us".
    spoons : str
        Which spoons they have, "metric" or "us", or "" where nobody has said.
    pieces : tuple of PieceKnown
    """

    ranges: Ranges = COMMON_PRACTICE
    densities: tuple[BulkDensity, ...] = ()
    yields: tuple[DyestuffAtHand, ...] = ()
    lots: tuple[Lot, ...] = ()
    moves: tuple[Move, ...] = ()
    units: str = METRIC
    spoons: str = ""
    pieces: tuple[PieceKnown, ...] = ()

    @property
    def at_hand(self) -> SpoonsAtHand | None:
        """The spoons that weights are told in, if the dyer has said which."""
        return SpoonsAtHand(SPOONS[self.spoons], self.densities) if self.spoons else None


@dataclass(frozen=True)
class Planned:
    """A bath worked out.

    Attributes
    ----------
    worked : BathWorkedOut or None
        None where nothing can be said yet.
    exhaust : ExhaustBath or None
        Of an exhaust bath: what the liquor still holds.
    wrong : tuple of Wrong
        Fields that cannot be read, and what stands in the way, by field.
    """

    worked: BathWorkedOut | None
    exhaust: ExhaustBath | None
    wrong: tuple[Wrong, ...]

    @property
    def water_l(self) -> float | None:
        """Litres in the pot, as far as is known; of an exhaust bath all that is left in it."""
        plan = None if self.worked is None else self.worked.plan
        taken = plan is not None and any(
            line.kind == WATER and line.actual is not None for line in plan.lines
        )
        if self.exhaust is not None and not taken:
            return self.exhaust.water_l if self.exhaust.to_add_l else self.exhaust.parent.water_l
        return None if plan is None else plan.water_l


Parent = BathPlan | ExhaustBath

_AS_PLANNED = 0.005
"""A balance that shows whole grams cannot do better."""


def plan_typed(
    typed: TypedBath, own: OwnFigures | None = None, parent: Parent | None = None
) -> Planned:
    """Work out what is typed, as far as it can be read.

    Parameters
    ----------
    typed : TypedBath
    own : OwnFigures, optional
    parent : BathPlan or ExhaustBath, optional
        Of an exhaust bath: the bath whose liquor it is in.

    Returns
    -------
    Planned
        A row that cannot be read stands in `wrong` and is not counted.
    """
    own = own or OwnFigures()
    read = read_typed(typed)
    wrong = list(read.wrong)
    if not read.pieces:
        return Planned(None, None, tuple(wrong))
    recipe = replace(read.recipe, dyestuffs=with_yields(read.recipe.dyestuffs, own.yields))
    asked = BathAsked(
        read.pieces,
        recipe,
        read.pot,
        not typed.loose,
        foraged=typed.foraged,
        ranges=own.ranges,
        lots=own.lots,
        moves=own.moves,
    )
    try:
        worked = work_out(asked)
    except DyeshadeError as error:
        wrong.append(Wrong("pot", error))
        worked = work_out(replace(asked, pot=None))
    worked = replace(worked, plan=with_taken(worked.plan, read))
    exhaust = None
    if parent is not None and read.left_share is not None:
        exhaust = exhaust_bath(parent, read.pieces, read.left_share, recipe.liquor_ratio)
    return Planned(worked, exhaust, tuple(wrong))


def with_taken(plan: BathPlan, read: ReadBath) -> BathPlan:
    """A plan with what was truly weighed."""
    for place, line in enumerate(plan.lines):
        found = read.taken.get(line_key(line.kind, line.name, line.form, line.on))
        if found is not None:
            plan = with_actual(plan, place, found)
    return plan


def make_again(
    typed: TypedBath, weight: str, code: str, own: OwnFigures | None = None
) -> TypedBath:
    """The same bath for another weight of fibre, as it truly was where that is known.

    Parameters
    ----------
    typed : TypedBath
    weight : str
        As typed, "350 g".
    code : str
        The new bath's.

    Raises
    ------
    DyeshadeError
        ``no_fibre``, or as `parse_weight`.
    """
    grams = parse_weight(weight).value
    own = own or OwnFigures()
    planned = plan_typed(replace(typed, exhaust_of="", left=""), own)
    if planned.worked is None:
        raise DyeshadeError("no_fibre")
    plan = planned.worked.plan
    done = {line_key(line.kind, line.name, line.form, line.on): line for line in plan.lines}
    dyes, substances = [], []
    for dye in typed.dyes:
        ratio = _as_done(done.get(line_key(DYESTUFF, dye.name, dye.form)), dye.ratio)
        if ratio is not None:
            dyes.append(replace(dye, ratio=ratio))
    for row in typed.substances:
        keys = [line_key(kind, row.name, "", row.on) for kind in (MORDANT, ASSISTANT)]
        share = _as_done(next((done[key] for key in keys if key in done), None), row.share)
        if share is not None:
            substances.append(replace(row, share=share))
    scaled = scale_pieces(plan.pieces, grams)
    return replace(
        typed,
        code=code,
        exhaust_of="",
        left="",
        pieces=tuple(
            TypedPiece(
                "",
                piece.fibre,
                weight if len(scaled) == 1 else show_weight(piece.grams, own.units),
            )
            for piece in scaled
        ),
        dyes=tuple(dyes),
        substances=tuple(substances),
        liquor=_as_done(done.get(line_key(WATER, "water")), typed.liquor) or typed.liquor,
        taken=(),
        steps=tuple(replace(step, started=None, ended=None) for step in typed.steps),
    )


def exhaust_typed(typed: TypedBath, code: str) -> TypedBath:
    """An exhaust bath of a bath: the same pot, water and liquor ratio, other fibre."""
    return TypedBath(
        code=code,
        exhaust_of=typed.code,
        pieces=(TypedPiece(fibre=typed.pieces[0].fibre if typed.pieces else ""),),
        liquor=typed.liquor,
        pot=typed.pot,
        material=typed.material,
        loose=typed.loose,
        foraged=typed.foraged,
        alkalinity=typed.alkalinity,
        degrees=typed.degrees,
        water_ph=typed.water_ph,
        temperature=typed.temperature,
        have=typed.have,
        steps=tuple(replace(step, started=None, ended=None) for step in typed.steps),
    )


def fibre_typed(typed: TypedBath) -> float:
    """Grams of fibre that can be read, 0 for none."""
    pieces = read_typed(typed).pieces
    return fibre_grams(pieces) if pieces else 0.0


def _as_done(line: Line | None, written: str) -> str | None:
    """A share as it was written, or where something else was weighed, what that came to.

    None for what was left out of the bath.
    """
    if line is None or line.off_by is None or abs(line.off_by) < _AS_PLANNED:
        return written
    if line.counted == 0:
        return None
    if line.kind in (DYESTUFF, WATER):
        return f"{line.share_counted:.4g}:1"
    return f"{100 * line.share_counted:.4g} %"
