"""The way of a kept bath to a pH: what is logged, and what to do next."""

from __future__ import annotations

from dataclasses import dataclass

from dyeshade.bath.additives import ALUM, additive, stir_in
from dyeshade.bath.amounts import BathPlan
from dyeshade.bath.amounts_for_ph import quarter_teaspoon_jump
from dyeshade.bath.ceilings import PhRange, acid_for
from dyeshade.bath.equilibrium import Contents, TwoPh, both_ph, with_ph
from dyeshade.bath.fibres import find_fibre
from dyeshade.bath.hazards import ACIDS, cautions_for
from dyeshade.bath.reach.belief import learn
from dyeshade.bath.reach.log import WEIGHED, Addition, BathLog, Check, Instrument, LogStep, Reading
from dyeshade.bath.reach.measures import QUARTER_TEASPOON, Measure
from dyeshade.bath.reach.plot import ReachPlot, reach_plot
from dyeshade.bath.reach.propose import ADD
from dyeshade.bath.water import Water, water_contents
from dyeshade.errors import DyeshadeError, Notice
from dyeshade.library.bath_records import LogReading
from dyeshade.library.bath_room import BathRoom
from dyeshade.work.ask_ph import NextStep, harm_of, next_step
from dyeshade.work.bath_typed import TypedBath
from dyeshade.work.ph_log_file import PhLog
from dyeshade.work.ph_typed import ROOM_TEMPERATURE_C, SPOONED_AS, bears, read_ph_typed
from dyeshade.work.plan_bath import OwnFigures, Parent, Planned, plan_typed
from dyeshade.work.read_bath import read_typed

SOFT_PH = 7.5
"""Of water whose pH nobody knows."""


_OF_ANY_BATH = ("caution_comes_first", "caution_hot_liquor", "caution_not_for_food")


@dataclass(frozen=True)
class Way:
    """How far a bath has come to its target.

    Attributes
    ----------
    step : NextStep or None
        None as long as nothing was read.
    plot : ReachPlot or None
    ph : TwoPh or None
        What it is believed to be, on a cooled drop and in the pot.
    bears : PhRange
    notices : tuple of Notice
        All that is to be known, each once.
    """

    step: NextStep | None
    plot: ReachPlot | None
    ph: TwoPh | None
    bears: PhRange
    notices: tuple[Notice, ...]


def ph_cautions(typed: TypedBath, planned: Planned) -> tuple[Notice, ...]:
    """What may do harm when the pH is moved with what there is, beside the bath's own cautions."""
    added = sorted({SPOONED_AS.get(_base(one.additive), _base(one.additive)) for one in typed.have})
    worked = planned.worked
    plan = BathPlan((), 0.0, ()) if worked is None else worked.plan
    known = set() if worked is None else {one.code for one in worked.cautions}
    found = [
        one
        for one in cautions_for(plan, typed.material, typed.foraged, added=added)
        if one.code not in known and one.code not in _OF_ANY_BATH
    ]
    fibres = {find_fibre(piece.fibre).bears_as for piece in plan.pieces}
    acids = [name for name in added if name in ACIDS]
    stays = [notice for fibre in fibres for acid in acids for notice in acid_for(fibre, acid)]
    harm = harm_of(one.additive for one in read_ph_typed(typed).measures)
    return _each_once([*stays, *found, *harm])


def _base(name: str) -> str:
    return name.removesuffix("_stock")


def range_typed(typed: TypedBath) -> PhRange:
    """What the fibre in the pot bears, as far as can be read."""
    fibres = tuple(piece.fibre for piece in read_typed(typed).pieces)
    return bears(read_ph_typed(typed), typed, fibres)


def log_of(
    typed: TypedBath, room: BathRoom | None, own: OwnFigures, parent: Parent | None = None
) -> PhLog:
    """The log of a bath with where it shall go.

    Raises
    ------
    DyeshadeError
        What is wrong with the first field; ``no_water_known``, ``no_target``; as `water_contents`.
    """
    read = read_ph_typed(typed, own.at_hand)
    for wrong in read.wrong:
        raise wrong.error
    litres = plan_typed(typed, own, parent).water_l
    if litres is None or litres <= 0:
        raise DyeshadeError("no_water_known")
    if read.target is None:
        raise DyeshadeError("no_target")
    hardness = read.alkalinity_mg_l or 0.0
    water_ph = SOFT_PH if read.water_ph is None else read.water_ph
    contents = water_contents(Water(hardness, water_ph), litres)
    if read.alum_g:
        contents = stir_in(contents, ALUM, read.alum_g)
    at = ROOM_TEMPERATURE_C if read.temperature_c is None else read.temperature_c
    log = _log(contents, room)
    return PhLog(log, read.target, range_typed(typed), read.measures, at)


def way_to_ph(
    typed: TypedBath, room: BathRoom | None, own: OwnFigures, parent: Parent | None = None
) -> Way:
    """What to do next on the way to a pH; takes a second.

    Raises
    ------
    DyeshadeError
        As `log_of` and `dyeshade.work.ask_ph.next_step`.
    """
    log = log_of(typed, room, own, parent)
    if not any(one.readings for one in log.log.steps):
        return Way(None, None, None, log.bears, log.bears.notices)
    step = next_step(log)
    advice = step.advice
    belief = learn(log.log)
    measure, most = None, 0.0
    if advice.action == ADD and advice.addition is not None:
        measure, most = advice.measure, 1.5 * advice.addition.amount
    plot = reach_plot(belief, log.target, log.bears, measure, most)
    contents = log.log.contents
    for one in log.log.additions:
        contents = stir_in(contents, one.additive, one.amount)
    contents = with_ph(contents, advice.now.median)
    ph = both_ph(contents, log.temperature_c)
    notices = [*step.notices, *_jumps(contents, log)]
    return Way(step, plot, ph, log.bears, _each_once(notices))


def _each_once(notices: list[Notice]) -> tuple[Notice, ...]:
    return tuple({one.code: one for one in reversed(notices)}.values())[::-1]


def _jumps(contents: Contents, log: PhLog) -> tuple[Notice, ...]:
    """Whether a quarter teaspoon of what there is would jump."""
    found: list[Notice] = []
    for one in log.measures:
        if one.kind == QUARTER_TEASPOON and one.additive.raises_ph:
            try:
                found += quarter_teaspoon_jump(contents, one.additive, one.step, log.target)
            except DyeshadeError:
                # The target lies the other way.
                continue
    return tuple(found)


def measure_of(typed: TypedBath, own: OwnFigures, name: str) -> Measure | None:
    """How something that the dyer has is measured out."""
    measures = read_ph_typed(typed, own.at_hand).measures
    return next((one for one in measures if one.additive.name == name), None)


def _log(contents: Contents, room: BathRoom | None) -> BathLog:
    if room is None:
        return BathLog(contents)
    logged = [one for one in room.additions if one.additive]
    checks = tuple(
        Check(one.known_ph, _reading(one)) for one in room.readings if one.known_ph is not None
    )
    steps = [LogStep(None, _after(room, None))]
    for one in logged:
        what = additive(one.additive, one.percent)
        addition = Addition(what, one.amount, one.measured or WEIGHED)
        steps.append(LogStep(addition, _after(room, one.id)))
    return BathLog(contents, tuple(steps), checks)


def _after(room: BathRoom, addition_id: int | None) -> tuple[Reading, ...]:
    return tuple(
        _reading(one)
        for one in room.readings
        if one.addition_id == addition_id and one.known_ph is None
    )


def _reading(one: LogReading) -> Reading:
    return Reading(one.ph, Instrument(one.instrument, one.error, one.bias))
