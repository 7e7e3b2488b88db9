"""Many liquors at once have the pH that each has by itself."""

import numpy as np
import pytest

from dyeshade.bath.acids import CARBONIC, Acid
from dyeshade.bath.additives import ALUM, HYDROGEN_CARBONATE, SODA_ANHYDROUS, stir_in
from dyeshade.bath.equilibrium import Contents, solve, with_ph
from dyeshade.bath.reach.log import Addition
from dyeshade.bath.reach.prior import ACIDS, LOWERING, NUMBERS, PSEUDO_PK, RAISING, liquors
from dyeshade.bath.reach.titration import Titration
from dyeshade.bath.water import Water, water_contents
from tests.bath.reach.baths import STOCK, VINEGAR

COUNT = 4
START = ACIDS + 3
WATER = water_contents(Water(120.0, 7.4), 4.0)


def numbers():
    drawn = np.random.default_rng(5).standard_normal((COUNT, NUMBERS))
    # What is measured out is what it is said to be.
    drawn[:, [RAISING, LOWERING]] = 0.0
    return drawn


def by_itself(row, contents):
    """One of the liquors for the solver that takes one at a time."""
    one = liquors(row[None, :])
    pseudo = [
        # Their constants are those at the bath's own strength, about 0.01 mol/L here.
        (Acid(f"pseudo {pk}", 0, (lambda _, pk=pk: pk + 0.045,)), mol * contents.volume_l)
        for pk, mol in zip(PSEUDO_PK, one.totals_mol_l[0], strict=True)
    ]
    carbonate = contents.total(CARBONIC) * float(one.carbonate_share[0])
    others = [(acid, mol) for acid, mol in contents.acids if acid is not CARBONIC]
    mixed = Contents(contents.volume_l, 0.0, 0.0, (*pseudo, *others, (CARBONIC, carbonate)))
    return with_ph(mixed, float(one.start_ph[0]))


@pytest.mark.parametrize(
    ("additions", "contents"),
    [
        ([Addition(SODA_ANHYDROUS, 1.5)], WATER),
        ([Addition(STOCK, 10.0), Addition(STOCK, 20.0)], WATER),
        ([Addition(VINEGAR, 60.0)], WATER),
        ([Addition(SODA_ANHYDROUS, 4.0), Addition(VINEGAR, 30.0)], WATER),
        ([Addition(SODA_ANHYDROUS, 1.5)], stir_in(WATER, ALUM, 4.0)),
    ],
)
def test_the_table_finds_what_the_solver_finds(additions, contents):
    drawn = numbers()
    if contents is not WATER:
        # With alum in it a liquor is sour: pH 4 and below.
        drawn[:, START] = -1.5
    titration = Titration(contents, additions)
    start = titration.start_charge(drawn)
    found = titration.ph_after(drawn, len(additions), start)
    for row, ph in zip(drawn, found, strict=True):
        alone = by_itself(row, contents)
        for one in additions:
            alone = stir_in(alone, one.additive, one.amount)
        # The table takes one ionic strength for all liquors, from what is known to be in them.
        assert ph == pytest.approx(solve(alone).ph, abs=0.1)


def test_before_any_addition_a_liquor_has_the_ph_it_began_with():
    drawn = numbers()
    titration = Titration(WATER)
    start = titration.start_charge(drawn)
    assert titration.ph_after(drawn, 0, start) == pytest.approx(liquors(drawn).start_ph)


@pytest.mark.parametrize(("additive", "ph"), [(STOCK, 9.0), (VINEGAR, 3.4)])
def test_the_amount_for_a_ph_leads_there(additive, ph):
    drawn = numbers()
    titration = Titration(WATER)
    start = titration.start_charge(drawn)
    amounts = titration.amount_for(drawn, start, additive, 0.04, ph)
    for place, amount in enumerate(amounts):
        if amount <= 0.0:
            continue
        after = Titration(WATER, [Addition(additive, float(amount))])
        row = drawn[place : place + 1]
        # Water and ions that come with the addition are left out of the amount.
        found = after.ph_after(row, 1, start[place : place + 1])
        assert found[0] == pytest.approx(ph, abs=0.12)


def test_no_amount_leads_where_an_additive_does_not_go():
    drawn = numbers()
    titration = Titration(WATER)
    start = titration.start_charge(drawn)
    assert np.all(np.isinf(titration.amount_for(drawn, start, HYDROGEN_CARBONATE, 0.04, 9.5)))
