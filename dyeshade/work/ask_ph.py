"""The questions about a bath's pH, each answered in one call."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from dyeshade.bath.additives import GRAMS, Additive, stir_in
from dyeshade.bath.amounts_for_ph import Reached, amount_to_reach, quarter_teaspoon_jump
from dyeshade.bath.buffers import Buffer, carbonate_buffer, carbonate_cautions, lime_cautions
from dyeshade.bath.equilibrium import Contents, TwoPh, both_ph, with_ph
from dyeshade.bath.hazards import vinegar_cautions
from dyeshade.bath.reach.belief import learn
from dyeshade.bath.reach.expect import additions_to_come
from dyeshade.bath.reach.measures import Measure
from dyeshade.bath.reach.overshoot import WayBack, way_back
from dyeshade.bath.reach.propose import ADD, Advice, advise
from dyeshade.bath.water import Water, check_ph, water_contents
from dyeshade.errors import DyeshadeError, Notice
from dyeshade.work.ph_log_file import PhLog


@dataclass(frozen=True)
class KnownBath:
    """A bath of which all is known, or taken as known.

    Attributes
    ----------
    litres : float
    water : Water
    temperature_c : float
        Of the bath.
    added : tuple of (Additive, float)
        What is in it, and how much.
    liquor_ph : float or None
        What it was read to be before anything was added, if it is no plain water: its own acids
        are then taken as none, so amounts are the least that is needed.
    """

    litres: float
    water: Water
    temperature_c: float = 25.0
    added: tuple[tuple[Additive, float], ...] = ()
    liquor_ph: float | None = None

    def contents(self) -> Contents:
        """What is dissolved in it.

        Raises
        ------
        DyeshadeError
            As `water_contents` and `stir_in`.
        """
        contents = water_contents(self.water, self.litres)
        if self.liquor_ph is not None:
            check_ph(self.liquor_ph)
            contents = with_ph(contents, self.liquor_ph)
        for what, amount in self.added:
            contents = stir_in(contents, what, amount)
        return contents


def ph_of(bath: KnownBath) -> TwoPh:
    """What pH a bath has.

    Raises
    ------
    DyeshadeError
        As `KnownBath.contents`; ``bath_temperature``.
    """
    return both_ph(bath.contents(), bath.temperature_c)


def harm_of(additives: Iterable[Additive]) -> tuple[Notice, ...]:
    """What may do harm of what goes into a bath, beyond what its amounts call for."""
    return vinegar_cautions(one.percent for one in additives if one.name == "vinegar")


def amount_for(
    bath: KnownBath, target: float, what: Additive, grams_per_quarter_teaspoon: float | None = None
) -> tuple[Reached, tuple[Notice, ...]]:
    """How much reaches a pH, and what to know of it.

    Raises
    ------
    DyeshadeError
        ``measure_step`` for a quarter teaspoon of nothing; as `amount_to_reach`.
    """
    if grams_per_quarter_teaspoon is not None and not grams_per_quarter_teaspoon > 0.0:
        raise DyeshadeError("measure_step", step=grams_per_quarter_teaspoon)
    contents = bath.contents()
    reached = amount_to_reach(contents, what, target, bath.temperature_c)
    notices = list(reached.ph.at_25_c.notices)
    if what.raises_ph:
        notices += carbonate_cautions(target, bath.temperature_c)
        notices += lime_cautions(contents, target)
        if grams_per_quarter_teaspoon is not None and what.unit == GRAMS:
            notices += quarter_teaspoon_jump(contents, what, grams_per_quarter_teaspoon, target)
    return reached, tuple(notices)


def buffer_for(bath: KnownBath, target: float, soda: Additive, total_mol_l: float = 0.02) -> Buffer:
    """Soda and hydrogen carbonate that hold a pH.

    Raises
    ------
    DyeshadeError
        As `carbonate_buffer`.
    """
    return carbonate_buffer(bath.contents(), target, bath.temperature_c, total_mol_l, soda)


@dataclass(frozen=True)
class NextStep:
    """What to do next, and what lies behind and before.

    Attributes
    ----------
    advice : Advice
    to_come : tuple of int
        Additions still likely, from and to, the one proposed included.
    back : WayBack or None
    notices : tuple of Notice
    """

    advice: Advice
    to_come: tuple[int, int]
    back: WayBack | None
    notices: tuple[Notice, ...]


def next_step(log: PhLog, measures: Sequence[Measure] | None = None) -> NextStep:
    """What to add next, by a log.

    Parameters
    ----------
    log : PhLog
    measures : sequence of Measure, optional
        Instead of those of the log.

    Raises
    ------
    DyeshadeError
        As `advise`.
    """
    have = log.measures if measures is None else tuple(measures)
    belief = learn(log.log)
    advice = advise(belief, log.target, log.bears, have)
    back = way_back(belief, log.target, log.bears, have)
    notices = [*log.bears.notices, *advice.notices, *(back.notices if back else ())]
    if advice.action == ADD and advice.addition is not None and advice.addition.additive.raises_ph:
        notices += carbonate_cautions(log.target, log.temperature_c)
        notices += lime_cautions(log.log.contents, log.target)
    to_come = additions_to_come(belief, log.target, log.bears, have)
    return NextStep(advice, to_come, back, tuple(notices))
