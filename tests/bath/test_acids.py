"""Constants against what was published, and standard buffers against their tables."""

import pytest

from dyeshade.bath import acids
from dyeshade.bath.activities import debye_hueckel_slope, water_density, water_pk
from dyeshade.bath.equilibrium import Contents, solve
from dyeshade.errors import DyeshadeError

# Plummer and Busenberg (1982), table of their equations: -log K1, -log K2 (25 degrees C also in
# PHREEQC's phreeqc.dat, 6.352 and 10.329; the ends from memory).
PLUMMER_BUSENBERG = {0: (6.58, 10.63), 25: (6.352, 10.329), 50: (6.29, 10.17), 90: (6.38, 10.14)}

# Ion product of water at the vapour pressure: CRC Handbook of Chemistry and Physics, from memory.
WATER_PK = {0: 14.95, 25: 13.995, 50: 13.26, 75: 12.70, 100: 12.25}

# Values as the makers of standard buffers print them: NIST (Bates 1962, J. Res. NBS 66A, 179;
# NIST SP 260-53) and JIS Z 8802; mol/kg of the salts in the first column's comment.
BUFFERS = [
    # 0.025 sodium hydrogen carbonate, 0.025 sodium carbonate
    ("carbonate", acids.CARBONIC, 0.050, 0.075, {0: 10.32, 10: 10.18, 25: 10.012}),
    ("carbonate", acids.CARBONIC, 0.050, 0.075, {40: 9.89, 50: 9.83}),
    # 0.05 potassium hydrogen phthalate
    ("phthalate", acids.PHTHALIC, 0.050, 0.050, {25: 4.01, 60: 4.10, 90: 4.20}),
    # 0.01 borax
    ("borax", acids.BORIC, 0.040, 0.020, {25: 9.18, 60: 8.96, 90: 8.85}),
    # 0.025 potassium dihydrogen phosphate, 0.025 disodium hydrogen phosphate
    ("phosphate", acids.PHOSPHORIC, 0.050, 0.075, {25: 6.86, 60: 6.84, 90: 6.88}),
]
CASES = [
    pytest.param(acid, total, strong, t, ph, id=f"{name}-{t}")
    for name, acid, total, strong, values in BUFFERS
    for t, ph in values.items()
]


@pytest.mark.parametrize(("acid", "total", "strong", "temperature_c", "ph"), CASES)
def test_a_standard_buffer_has_the_ph_of_its_table(acid, total, strong, temperature_c, ph):
    buffer = Contents(1.0, strong, strong, ((acid, total),))
    assert solve(buffer, temperature_c).ph == pytest.approx(ph, abs=0.03)


@pytest.mark.parametrize("temperature_c", PLUMMER_BUSENBERG)
def test_carbonic_acid_has_the_constants_of_plummer_and_busenberg(temperature_c):
    expected = PLUMMER_BUSENBERG[temperature_c]
    assert acids.CARBONIC.pk(temperature_c) == pytest.approx(expected, abs=0.01)


@pytest.mark.parametrize("temperature_c", WATER_PK)
def test_water_dissociates_as_tabulated(temperature_c):
    assert water_pk(temperature_c) == pytest.approx(WATER_PK[temperature_c], abs=0.012)


def test_water_has_the_density_and_the_slope_that_handbooks_give():
    # CRC Handbook: 0.99705 g/cm3 at 25, 0.95835 at 100 degrees C; A = 0.509 to 0.512, from memory.
    assert water_density(25.0) == pytest.approx(0.99705, abs=2e-5)
    assert water_density(100.0) == pytest.approx(0.95835, abs=5e-5)
    assert debye_hueckel_slope(25.0) == pytest.approx(0.5105, abs=0.0015)


def test_aluminium_hydrolyses_as_in_the_tables_of_nordstrom_and_may():
    # Cumulative log K at 25 degrees C: -5.00, -10.1, -16.9, -22.7 (PHREEQC's phreeqc.dat).
    steps = acids.ALUMINIUM.pk(25.0)
    sums = [sum(steps[: i + 1]) for i in range(4)]
    assert sums == pytest.approx([5.00, 10.1, 16.9, 22.7], abs=0.06)


@pytest.mark.parametrize("temperature_c", [-1.0, 101.0, float("nan")])
def test_no_constants_are_made_up_for_baths_that_are_no_water(temperature_c):
    with pytest.raises(DyeshadeError, match="bath_temperature"):
        acids.CARBONIC.pk(temperature_c)
