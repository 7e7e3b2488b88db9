"""A small bath on its way, with the measures at hand."""

from dyeshade.bath.acids import ACETIC, CITRIC
from dyeshade.bath.additives import SODA_ANHYDROUS, stock_solution, vinegar
from dyeshade.bath.ceilings import PhRange
from dyeshade.bath.equilibrium import Contents, with_ph
from dyeshade.bath.reach.log import BathLog, Reading
from dyeshade.bath.reach.measures import Measure, grams, millilitres, quarter_teaspoons
from dyeshade.bath.water import Water, water_contents

WATER = water_contents(Water(100.0, 7.5), 5.0)
STOCK = stock_solution(SODA_ANHYDROUS, 10.0)
VINEGAR = vinegar(5.0)
BEARS = PhRange(3.0, 9.0)
AT_HAND: tuple[Measure, ...] = (
    millilitres(STOCK),
    grams(SODA_ANHYDROUS, 0.5),
    quarter_teaspoons(SODA_ANHYDROUS, 1.2),
    millilitres(VINEGAR),
)


def liquor(ph: float = 5.0) -> Contents:
    """Five litres with plant acids in them."""
    return with_ph(WATER.plus(acids=[(CITRIC, 5e-3), (ACETIC, 5e-3)]), ph)


def begun(*ph: float) -> BathLog:
    return BathLog(WATER).read(*[Reading(one) for one in ph])
