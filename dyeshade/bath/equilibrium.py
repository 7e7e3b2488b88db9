"""What pH a bath has: charges in balance, activities by Davies.

The bath is closed: no carbon dioxide comes or goes, and no lime settles. A hard water that turns
milky with soda takes somewhat more of it than is said here; a bath that simmers loses carbon
dioxide and rises.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import brentq

from dyeshade.bath.acids import Acid
from dyeshade.bath.activities import DAVIES_TO, ROOM_C, charge_effect, water_pk
from dyeshade.cie.white import FloatArray
from dyeshade.errors import Notice

LOWEST_PH, HIGHEST_PH = -1.0, 15.0


@dataclass(frozen=True)
class Contents:
    """What is dissolved in a bath.

    Attributes
    ----------
    volume_l : float
    strong_charge_mol : float
        Net charge of the ions that never take or give a proton (sodium, potassium, calcium).
    strong_z2_mol : float
        Sum over those ions of amount times charge squared, for the ionic strength.
    acids : tuple of (Acid, float)
        Total of each acid in all its forms, mol.
    """

    volume_l: float
    strong_charge_mol: float = 0.0
    strong_z2_mol: float = 0.0
    acids: tuple[tuple[Acid, float], ...] = ()

    def __post_init__(self) -> None:
        if not self.volume_l > 0.0:
            raise ValueError(f"a bath of {self.volume_l} L")

    def plus(
        self,
        strong_charge_mol: float = 0.0,
        strong_z2_mol: float = 0.0,
        acids: Iterable[tuple[Acid, float]] = (),
        volume_l: float = 0.0,
    ) -> Contents:
        """These contents with more in them."""
        totals = dict(self.acids)
        for acid, mol in acids:
            totals[acid] = totals.get(acid, 0.0) + mol
        return Contents(
            self.volume_l + volume_l,
            self.strong_charge_mol + strong_charge_mol,
            self.strong_z2_mol + strong_z2_mol,
            tuple(totals.items()),
        )

    def total(self, acid: Acid) -> float:
        """Total of one acid, mol."""
        return dict(self.acids).get(acid, 0.0)


@dataclass(frozen=True)
class Equilibrium:
    """A bath at rest.

    Attributes
    ----------
    ph : float
        Negative logarithm of the activity of the hydrogen ion.
    temperature_c : float
    ionic_strength : float
        mol/L.
    capacity_mol_l : float
        Strong base that one litre takes for one pH unit at this point, mol.
    settled_mol : float
        Metal that lies at the bottom as its hydroxide, in the whole bath.
    notices : tuple of Notice
    """

    ph: float
    temperature_c: float
    ionic_strength: float
    capacity_mol_l: float
    settled_mol: float = 0.0
    notices: tuple[Notice, ...] = ()


@dataclass(frozen=True)
class TwoPh:
    """One bath's pH on a cooled drop, as a strip or meter reads it, and in the hot pot."""

    at_25_c: Equilibrium
    at_bath: Equilibrium


def acid_charge(
    acid: Acid, total_mol_l: float, ph: FloatArray, temperature_c: float, effect: float
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Charge that an acid carries at some pH.

    Parameters
    ----------
    acid : Acid
    total_mol_l : float
    ph : ndarray
    temperature_c : float
    effect : float
        Of `charge_effect`; 0 for an ideal solution.

    Returns
    -------
    charge, z2, settled : ndarray
        Sum of concentration times charge, times charge squared, and what has settled; mol/L.
    """
    z = np.array(acid.charges, dtype=float)
    pk = np.array(acid.pk(temperature_c)) - effect * (z[1:] ** 2 - z[:-1] ** 2)
    powers = np.arange(1, len(z))
    log_forms = np.concatenate(
        [np.zeros((1, *ph.shape)), np.multiply.outer(powers, ph) - _column(np.cumsum(pk), ph)]
    )
    top = log_forms.max(axis=0)
    forms = 10.0 ** (log_forms - top)
    dissolved = np.full(ph.shape, total_mol_l)
    if acid.solid_log_k is not None:
        free_limit = acid.solid_log_k(temperature_c) - acid.charge * ph + effect * acid.charge**2
        log_limit = np.minimum(free_limit + top + np.log10(forms.sum(axis=0)), 3.0)
        dissolved = np.minimum(dissolved, 10.0**log_limit)
    share = forms / forms.sum(axis=0) * dissolved
    return (
        np.tensordot(z, share, 1),
        np.tensordot(z**2, share, 1),
        total_mol_l - dissolved,
    )


def _column(values: FloatArray, like: FloatArray) -> FloatArray:
    return values.reshape(-1, *[1] * like.ndim)


def net_charge(
    contents: Contents, ph: FloatArray, temperature_c: float, effect: float
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Charge in excess, ionic strength and what has settled, mol/L, if the bath had some pH."""
    volume = contents.volume_l
    hydrogen = 10.0 ** (effect - ph)
    hydroxide = 10.0 ** (effect + ph - water_pk(temperature_c))
    charge = hydrogen - hydroxide + contents.strong_charge_mol / volume
    z2 = hydrogen + hydroxide + contents.strong_z2_mol / volume
    settled = np.zeros(ph.shape)
    for acid, mol in contents.acids:
        one, one_z2, solid = acid_charge(acid, mol / volume, ph, temperature_c, effect)
        charge, z2, settled = charge + one, z2 + one_z2, settled + solid
    return charge, z2 / 2.0, settled


def solve(contents: Contents, temperature_c: float = ROOM_C, *, ideal: bool = False) -> Equilibrium:
    """The bath's pH at a temperature.

    Parameters
    ----------
    contents : Contents
    temperature_c : float
    ideal : bool
        Without activities, as textbooks have it.

    Returns
    -------
    Equilibrium

    Raises
    ------
    DyeshadeError
        ``bath_temperature`` outside 0 to 100 degrees C.
    """
    strength = 0.0
    for _ in range(60):
        effect = 0.0 if ideal else charge_effect(strength, temperature_c)
        ph = float(
            brentq(
                lambda at, e=effect: float(net_charge(contents, np.array(at), temperature_c, e)[0]),
                LOWEST_PH,
                HIGHEST_PH,
                xtol=1e-10,
            )
        )
        _, found, settled = net_charge(contents, np.array(ph), temperature_c, effect)
        if abs(float(found) - strength) < 1e-9:
            break
        strength = float(found)
    around, _, _ = net_charge(contents, np.array([ph - 0.01, ph + 0.01]), temperature_c, effect)
    notices = []
    if strength > DAVIES_TO and not ideal:
        notices.append(Notice("strong_solution", {"ionic_strength": round(strength, 2)}))
    return Equilibrium(
        ph,
        temperature_c,
        float(found),
        float(around[0] - around[1]) / 0.02,
        float(settled) * contents.volume_l,
        tuple(notices),
    )


def both_ph(contents: Contents, bath_c: float) -> TwoPh:
    """One bath's pH at 25 degrees C and in the pot."""
    return TwoPh(solve(contents, ROOM_C), solve(contents, bath_c))


def with_ph(
    contents: Contents, ph: float, temperature_c: float = ROOM_C, z2_per_charge: float = 1.0
) -> Contents:
    """Contents whose strong ions are such that the bath has the pH it was read to have.

    Parameters
    ----------
    contents : Contents
    ph : float
    temperature_c : float
        At which it was read.
    z2_per_charge : float
        Charge squared that comes with each charge added: 1 for sodium, 2 for calcium.

    Returns
    -------
    Contents
    """
    found, effect = contents, 0.0
    for _ in range(60):
        _, strength, _ = net_charge(found, np.array(ph), temperature_c, effect)
        effect = charge_effect(float(strength), temperature_c)
        excess, _, _ = net_charge(found, np.array(ph), temperature_c, effect)
        missing = -float(excess) * found.volume_l
        charge = found.strong_charge_mol + missing
        z2 = contents.strong_z2_mol + z2_per_charge * abs(charge - contents.strong_charge_mol)
        found = replace(found, strong_charge_mol=charge, strong_z2_mol=z2)
        if abs(missing) < 1e-12 * found.volume_l:
            break
    return found
