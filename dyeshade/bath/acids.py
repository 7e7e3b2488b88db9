"""The acids of a dye bath: their steps, their constants and how these move with temperature.

`step` gives pK from 25 degrees C with enthalpy H and heat capacity C, which may change by c for
each kelvin:

    (pK0 - pK(T)) R ln 10 = (H - T0 C) (1/T0 - 1/T) + C ln(T/T0)
                            + c/2 (T - T0^2/T - 2 T0 ln(T/T0))

References
----------
[PB]  Plummer, L. N. and Busenberg, E. (1982). Geochim. Cosmochim. Acta 46, 1011-1040.
      doi:10.1016/0016-7037(82)90056-4. Carbonic acid, 0 to 90 degrees C; used to 100 here.
[GKL] Goldberg, R. N., Kishore, N. and Lennen, R. M. (2002). J. Phys. Chem. Ref. Data 31, 231-370.
      doi:10.1063/1.1416902. Meant for about 274 to 350 K, beyond that extrapolated; the figures
      are from memory. At 90 degrees C they are off by 0.06 for phosphate and phthalate, so these
      two have a c, from [B62] at 70, 80 and 95 degrees C.
[B62] Bates, R. G. (1962). J. Res. NBS 66A, 179-184: pH of standard buffers; from memory.
[MBS] Mesmer, R. E., Baes, C. F. and Sweeton, F. H. (1972). Inorg. Chem. 11, 537-543. Boric acid
      with hydroxide, 50 to 290 degrees C, used from 0; from memory, held against borax.
[NM]  Nordstrom, D. K. and May, H. M. (1989), as in PHREEQC (USGS, public domain): aluminium
      with water; amorphous aluminium hydroxide, log K 10.8 and -111 kJ/mol (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from dyeshade.bath.activities import kelvin, water_pk

_GAS = 8.314462618
_T0 = 298.15
_LN10 = math.log(10.0)
PkAt = Callable[[float], float]


@dataclass(frozen=True)
class Acid:
    """An acid that gives its protons one after the other.

    Attributes
    ----------
    name : str
    charge : int
        Of the form with all protons.
    steps : tuple of callable
        pK of each step, strongest first, as a function of the temperature in degrees C, at ionic
        strength 0.
    solid_log_k : callable or None
        For aluminium: log10 of {M} / {H+}**charge above which its hydroxide settles as a solid.
    """

    name: str
    charge: int
    steps: tuple[PkAt, ...]
    solid_log_k: PkAt | None = None

    def pk(self, temperature_c: float) -> tuple[float, ...]:
        """PK of each step at a temperature."""
        return tuple(one(temperature_c) for one in self.steps)

    @property
    def charges(self) -> tuple[int, ...]:
        """Charge of each form, most protons first."""
        return tuple(self.charge - i for i in range(len(self.steps) + 1))


def step(pk: float, enthalpy_kj: float, heat_capacity_j: float, per_kelvin_j: float = 0.0) -> PkAt:
    """A step of an acid from its pK at 25 degrees C; kJ/mol, J/(K mol) and J/(K2 mol)."""
    enthalpy = enthalpy_kj * 1000.0

    def at(temperature_c: float) -> float:
        t = kelvin(temperature_c)
        log_t = math.log(t / _T0)
        moved = (enthalpy - _T0 * heat_capacity_j) * (1.0 / _T0 - 1.0 / t)
        moved += heat_capacity_j * log_t
        moved += per_kelvin_j / 2.0 * (t - _T0**2 / t - 2.0 * _T0 * log_t)
        return pk - moved / (_GAS * _LN10)

    return at


def _carbonic_1(temperature_c: float) -> float:
    t = kelvin(temperature_c)
    return 356.3094 + 0.06091964 * t - 21834.37 / t - 126.8339 * math.log10(t) + 1684915.0 / t**2


def _carbonic_2(temperature_c: float) -> float:
    t = kelvin(temperature_c)
    return 107.8871 + 0.03252849 * t - 5151.79 / t - 38.92561 * math.log10(t) + 563713.9 / t**2


def _boric(temperature_c: float) -> float:
    t = kelvin(temperature_c)
    with_hydroxide = 1573.21 / t + 28.6059 + 0.012078 * t - 13.2258 * math.log10(t)
    return water_pk(temperature_c) - with_hydroxide


_ALUMINIUM_BETA = (
    (0.0, 0.0, 0.0),
    (-38.253, -656.27, 14.327),
    (88.5, -9391.6, -27.121),
    (226.374, -18247.8, -73.597),
    (51.578, -11168.9, -14.865),
)


def _aluminium_step(number: int) -> PkAt:
    def log_beta(of: int, t: float) -> float:
        a, b, c = _ALUMINIUM_BETA[of]
        return a + b / t + c * math.log10(t) if of else 0.0

    def at(temperature_c: float) -> float:
        t = kelvin(temperature_c)
        return log_beta(number - 1, t) - log_beta(number, t)

    return at


_AMORPHOUS = step(-10.8, -111.0, 0.0)


def _aluminium_solid(temperature_c: float) -> float:
    return -_AMORPHOUS(temperature_c)


CARBONIC = Acid("carbonic", 0, (_carbonic_1, _carbonic_2))
"""[PB]; dissolved carbon dioxide counts with carbonic acid."""
ACETIC = Acid("acetic", 0, (step(4.756, -0.41, -142.0),))
"""[GKL]"""
CITRIC = Acid(
    "citric", 0, (step(3.128, 4.07, -131.0), step(4.761, 2.23, -178.0), step(6.396, -3.38, -254.0))
)
"""[GKL]"""
TARTARIC = Acid("tartaric", 0, (step(3.036, 3.19, -147.0), step(4.366, 0.93, -218.0)))
"""[GKL]"""
SULPHURIC = Acid("sulphuric", -1, (step(1.987, -22.4, -258.0),))
"""[GKL]; its first proton is always gone."""
BORIC = Acid("boric", 0, (_boric,))
"""[MBS]"""
PHOSPHORIC = Acid(
    "phosphoric",
    0,
    (step(2.148, -8.0, -141.0), step(7.198, 3.6, -230.0, 3.1), step(12.35, 16.0, -242.0)),
)
"""[GKL]"""
PHTHALIC = Acid("phthalic", 0, (step(2.950, -2.70, -91.0), step(5.408, -2.17, -295.0, 4.1)))
"""[GKL] and [B62]"""
ALUMINIUM = Acid(
    "aluminium", 3, tuple(_aluminium_step(i) for i in (1, 2, 3, 4)), solid_log_k=_aluminium_solid
)
"""[NM]"""
