"""Water as a solvent between 0 and 100 degrees C: its ion product and what charge does to activity.

Concentrations are taken as mol per litre of bath, which stands for mol per kilogram of water; in a
dye bath the two differ by less than half a percent.

References
----------
Davies, C. W. (1962). Ion Association. Butterworths: the equation, here with 0.3.
Kell, G. S. (1975). J. Chem. Eng. Data 20(1), 97-105: density of water, 0 to 100 degrees C.
Malmberg, C. G. and Maryott, A. A. (1956). J. Res. NBS 56(1), 1-8: dielectric constant, 0 to 100.
IAPWS R11-24 (2024). Revised Release on the Ionization Constant of H2O: 273.15 to 1273.15 K.
"""

from __future__ import annotations

import math
from functools import lru_cache

from dyeshade.errors import DyeshadeError

LOWEST_C, HIGHEST_C = 0.0, 100.0
"""Range of temperature, degrees C, in which the constants here are stated."""
ROOM_C = 25.0
"""Temperature, degrees C, of the cooled drop on which a strip or meter reads."""
DAVIES_TO = 0.5
"""Ionic strength, mol/L, up to which the Davies equation is used as a matter of course."""
KELVIN = 273.15


def kelvin(temperature_c: float) -> float:
    """Absolute temperature, K, of a bath.

    Raises
    ------
    DyeshadeError
        ``bath_temperature`` outside 0 to 100 degrees C, where no constants are stated.
    """
    if not LOWEST_C <= temperature_c <= HIGHEST_C:
        raise DyeshadeError(
            "bath_temperature", temperature_c=temperature_c, lowest=LOWEST_C, highest=HIGHEST_C
        )
    return temperature_c + KELVIN


def water_density(temperature_c: float) -> float:
    """Density of water under air, g/cm3, by Kell (1975)."""
    t = temperature_c
    upper = (
        999.83952
        + 16.945176 * t
        - 7.9870401e-3 * t**2
        - 46.170461e-6 * t**3
        + 105.56302e-9 * t**4
        - 280.54253e-12 * t**5
    )
    return upper / (1.0 + 16.879850e-3 * t) / 1000.0


def dielectric_constant(temperature_c: float) -> float:
    """Relative permittivity of water, by Malmberg and Maryott (1956)."""
    t = temperature_c
    return 87.740 - 0.40008 * t + 9.398e-4 * t**2 - 1.410e-6 * t**3


@lru_cache(maxsize=64)
def water_pk(temperature_c: float) -> float:
    """Negative logarithm of the ion product of water, mol/kg, by IAPWS R11-24."""
    temperature_k = kelvin(temperature_c)
    density = water_density(temperature_c)
    z = density * math.exp(
        -0.702132 + 8681.05 / temperature_k - 24145.1 / temperature_k**2 * density ** (2.0 / 3.0)
    )
    pk_gas = (
        0.61415
        + 48251.33 / temperature_k
        - 67707.93 / temperature_k**2
        + 10102100.0 / temperature_k**3
    )
    pairs = z / (z + 1.0) * density * (0.813876 - 51.4471 / temperature_k - 0.469920 * density)
    molar_mass_kg = 18.015268e-3
    return -12.0 * (math.log10(1.0 + z) - pairs) + pk_gas + 2.0 * math.log10(molar_mass_kg)


@lru_cache(maxsize=64)
def debye_hueckel_slope(temperature_c: float) -> float:
    """Slope A of the Debye-Hueckel limiting law, decadic, (kg/mol)^0.5."""
    epsilon_t = dielectric_constant(temperature_c) * kelvin(temperature_c)
    return 1.82483e6 * math.sqrt(water_density(temperature_c)) / math.pow(epsilon_t, 1.5)


def charge_effect(ionic_strength: float, temperature_c: float) -> float:
    """How far a single charge lowers activity: -log10 of the activity coefficient, by Davies.

    Parameters
    ----------
    ionic_strength : float
        mol/L. Above `DAVIES_TO` the equation is not meant for it; the value at 0.5 is kept.
    temperature_c : float

    Returns
    -------
    float
        For a charge z, log10 of the coefficient is minus z squared times this.
    """
    root = math.sqrt(min(max(ionic_strength, 0.0), DAVIES_TO))
    return debye_hueckel_slope(temperature_c) * (root / (1.0 + root) - 0.3 * root**2)
