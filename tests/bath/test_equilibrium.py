"""The pH of what is in a bath, against textbooks and against a second solver."""

import numpy as np
import pytest
from pHcalc import Acid as OtherAcid
from pHcalc import Inert, System

from dyeshade.bath.acids import ACETIC, ALUMINIUM, CARBONIC, CITRIC, TARTARIC
from dyeshade.bath.activities import water_pk
from dyeshade.bath.additives import ALUM, SODA_ANHYDROUS, stir_in
from dyeshade.bath.equilibrium import Contents, both_ph, solve, with_ph


def contents(strong, *acids):
    return Contents(1.0, strong, abs(strong), acids)


# Common textbook values, ideal: about 11.65, about 2.4 (vinegar of 5 g in 100 mL).
def test_a_tenth_molar_soda_solution_is_at_11_65_if_ideal():
    assert solve(contents(0.2, (CARBONIC, 0.1)), ideal=True).ph == pytest.approx(11.65, abs=0.02)


def test_vinegar_of_5_percent_is_at_2_4():
    vinegar = contents(0.0, (ACETIC, 50.0 / 60.052))
    assert solve(vinegar, ideal=True).ph == pytest.approx(2.4, abs=0.03)
    assert solve(vinegar).ph == pytest.approx(2.4, abs=0.05)


@pytest.mark.parametrize("temperature_c", [0.0, 25.0, 90.0])
def test_pure_water_is_neutral(temperature_c):
    assert solve(contents(0.0), temperature_c).ph == pytest.approx(
        water_pk(temperature_c) / 2.0, abs=1e-6
    )


SECOND_SOLVER = {
    "soda": (0.2, [(CARBONIC, 0.1)]),
    "soda in thin solution": (0.002, [(CARBONIC, 0.001)]),
    "soda and vinegar": (0.02, [(CARBONIC, 0.01), (ACETIC, 0.015)]),
    "citric acid, half neutralised": (0.03, [(CITRIC, 0.02)]),
    "cream of tartar": (0.01, [(TARTARIC, 0.01)]),
    "all together": (0.05, [(CARBONIC, 0.02), (ACETIC, 0.01), (CITRIC, 0.005), (TARTARIC, 0.003)]),
}


@pytest.mark.parametrize("case", SECOND_SOLVER)
def test_a_second_solver_finds_the_same(case, monkeypatch):
    # The package calls a name that numpy 2 no longer has.
    monkeypatch.setattr(np, "cumproduct", np.cumprod, raising=False)
    strong, acids = SECOND_SOLVER[case]
    theirs = System(
        Inert(charge=1, conc=strong),
        *[OtherAcid(pKa=list(acid.pk(25.0)), charge=acid.charge, conc=mol) for acid, mol in acids],
        Kw=10.0 ** -water_pk(25.0),
    )
    theirs.pHsolve(guess_est=True, tol=1e-12)
    assert solve(contents(strong, *acids), ideal=True).ph == pytest.approx(theirs.pH, abs=2e-4)


def test_charges_are_in_balance_and_capacity_is_the_slope_of_the_titration():
    bath = contents(0.03, (CARBONIC, 0.02))
    found = solve(bath)
    more = solve(bath.plus(strong_charge_mol=1e-5))
    assert 1e-5 / (more.ph - found.ph) == pytest.approx(found.capacity_mol_l, rel=0.05)


def test_alum_sours_a_bath_and_soda_settles_it_as_hydroxide():
    sour = stir_in(Contents(3.0), ALUM, 5.0)
    assert solve(sour).ph < 4.5
    half = solve(stir_in(sour, SODA_ANHYDROUS, 1.0))
    # Until the aluminium has settled, soda hardly moves the pH.
    assert half.ph < 5.5
    done = solve(stir_in(sour, SODA_ANHYDROUS, 3.0))
    assert done.ph > 6.5
    assert done.settled_mol == pytest.approx(sour.total(ALUMINIUM), rel=0.02)


def test_the_hot_pot_reads_lower_than_the_cooled_drop_of_an_alkaline_bath():
    found = both_ph(contents(0.03, (CARBONIC, 0.02)), 90.0)
    assert found.at_25_c.temperature_c == 25.0
    assert found.at_bath.ph < found.at_25_c.ph - 0.2


def test_a_bath_can_be_given_the_ph_that_was_read():
    found = with_ph(Contents(4.0, 0.0, 0.0, ((CARBONIC, 0.01), (CITRIC, 0.02))), 5.3)
    assert solve(found).ph == pytest.approx(5.3, abs=1e-6)


def test_a_strong_solution_says_that_its_ph_is_a_guess():
    assert not solve(contents(0.3, (CARBONIC, 0.15))).notices
    (notice,) = solve(contents(1.0, (CARBONIC, 0.5))).notices
    assert notice.code == "strong_solution"
