"""What holds a bath at its target, from what is typed for it."""

from __future__ import annotations

from dataclasses import dataclass

from dyeshade.bath.additives import SODA_ANHYDROUS, SODAS
from dyeshade.bath.buffers import Buffer, carbonate_buffer
from dyeshade.work.bath_typed import TypedBath
from dyeshade.work.plan_bath import OwnFigures, Parent
from dyeshade.work.reach_ph import log_of


@dataclass(frozen=True)
class Held:
    """Soda and hydrogen carbonate that hold a pH in so many litres of the dyer's water."""

    buffer: Buffer
    litres: float


def hold_typed(typed: TypedBath, own: OwnFigures, parent: Parent | None = None) -> Held:
    """What would hold the target in plain water, without the liquor's own acids.

    The soda is the one that the dyer has, also where they have it as a stock solution.

    Raises
    ------
    DyeshadeError
        As `dyeshade.work.reach_ph.log_of` and `dyeshade.bath.buffers.carbonate_buffer`.
    """
    log = log_of(typed, None, own, parent)
    names = {one.additive.substance for one in log.measures}
    soda = next((one for one in SODAS if one.name in names), SODA_ANHYDROUS)
    contents = log.log.contents
    buffer = carbonate_buffer(contents, log.target, log.temperature_c, soda=soda)
    return Held(buffer, contents.volume_l)
