"""What is stirred in: how much of it is in a gram or a millilitre."""

import pytest

from dyeshade.bath import additives
from dyeshade.bath.additives import (
    SODA_ANHYDROUS,
    additive,
    stir_in,
    stock_solution,
    vinegar,
)
from dyeshade.bath.equilibrium import Contents, solve
from dyeshade.bath.formula import molar_mass
from dyeshade.errors import DyeshadeError

# Sums of the IUPAC abridged standard atomic weights (2021), g/mol, as in supplier's catalogues.
MASSES = {
    "Na2CO3": 105.99,
    "Na2CO3 H2O": 124.00,
    "Na2CO3 10H2O": 286.14,
    "NaHCO3": 84.01,
    "C2H4O2": 60.05,
    "C6H8O7": 192.12,
    "C6H8O7 H2O": 210.14,
    "KC4H5O6": 188.18,
    "KAlS2O8 12H2O": 474.39,
}


@pytest.mark.parametrize("formula", MASSES)
def test_masses_are_those_of_the_catalogues(formula):
    assert molar_mass(formula) == pytest.approx(MASSES[formula], abs=0.02)


def test_crystals_of_soda_hold_little_more_than_a_third_of_the_powder():
    ratio = additives.SODA_DECAHYDRATE.mol_per_unit / additives.SODA_ANHYDROUS.mol_per_unit
    assert ratio == pytest.approx(0.37, abs=0.005)


def test_opened_crystals_are_known_only_to_lie_between():
    opened = additives.SODA_OPENED
    assert (
        additives.SODA_DECAHYDRATE.mol_per_unit
        < opened.mol_per_unit
        < additives.SODA_MONOHYDRATE.mol_per_unit
    )
    # Two standard deviations reach both ends.
    ratio = additives.SODA_MONOHYDRATE.mol_per_unit / opened.mol_per_unit
    assert ratio <= 2.7 ** (2.0 * opened.strength_spread)


def test_ten_millilitres_of_stock_hold_little_more_than_a_gram():
    stock = stock_solution(additives.SODA_ANHYDROUS, 10.0)
    grams = 10.0 * stock.mol_per_unit / additives.SODA_ANHYDROUS.mol_per_unit
    # A 10 % soda solution has 1.10 g/mL (from memory).
    assert grams == pytest.approx(1.10, abs=0.01)


def test_vinegar_is_as_strong_as_its_label():
    assert vinegar(5.0).mol_per_unit * 1000.0 == pytest.approx(0.833, abs=0.001)


def test_a_liquid_makes_the_bath_larger():
    assert stir_in(Contents(2.0), vinegar(5.0), 500.0).volume_l == pytest.approx(2.5)


@pytest.mark.parametrize(
    ("name", "percent", "code"),
    [
        ("vinegar", 0.0, "vinegar_percent"),
        ("vinegar", 80.0, "vinegar_percent"),
        ("soda_anhydrous_stock", 40.0, "stock_percent"),
        ("hydrogen_carbonate_stock", 10.0, "stock_percent"),
        ("lye", None, "additive_unknown"),
        ("alum_stock", None, "additive_unknown"),
    ],
)
def test_what_cannot_be_stirred_in_is_refused(name, percent, code):
    with pytest.raises(DyeshadeError, match=code):
        additive(name, percent)


def test_nothing_is_taken_out_of_a_bath():
    with pytest.raises(DyeshadeError, match="amount_negative"):
        stir_in(Contents(1.0), additives.ALUM, -1.0)


@pytest.mark.parametrize("amount", [-1.0, float("nan"), float("inf"), 1e300, 6e5])
def test_no_bath_holds_less_than_nothing_nor_more_than_itself(amount):
    with pytest.raises(DyeshadeError) as caught:
        stir_in(Contents(5.0), SODA_ANHYDROUS, amount)
    assert caught.value.code == "amount_negative"
    assert solve(stir_in(Contents(5.0), SODA_ANHYDROUS, 5e5)).ph > 11
