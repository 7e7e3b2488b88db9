"""Water from the tap: its alkalinity and pH, and what is dissolved in it.

References
----------
Degrees of hardness: a German degree is 10 mg calcium oxide in a litre, a French one 10 mg calcium
carbonate, an English (Clark) one a grain in an imperial gallon, 14.254 mg/L (from memory). A report
often gives hardness, not alkalinity: what counts here is the alkalinity ("carbonate hardness").
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from dyeshade.bath.acids import CARBONIC
from dyeshade.bath.activities import ROOM_C, charge_effect
from dyeshade.bath.equilibrium import Contents, acid_charge, net_charge
from dyeshade.bath.formula import molar_mass
from dyeshade.errors import DyeshadeError

CALCIUM_CARBONATE = molar_mass("CaCO3")
HARDNESS_MG_L: dict[str, float] = {
    "mg_l": 1.0,
    "german": 10.0 * CALCIUM_CARBONATE / molar_mass("CaO"),
    "french": 10.0,
    "english": 14.254,
}
"""mg/L calcium carbonate in one unit of alkalinity or carbonate hardness."""
MOST_ALKALINITY_MG_L = 2000.0
_SLACK_MOL_L = 2e-5
_MOST_CARBONATE_MOL_L = 0.1


@dataclass(frozen=True)
class Water:
    """Water before anything is in it.

    Attributes
    ----------
    alkalinity_mg_l : float
        As calcium carbonate.
    ph : float
        As read or as the water works report it.
    temperature_c : float
        At which that pH was read.
    """

    alkalinity_mg_l: float
    ph: float = 7.5
    temperature_c: float = ROOM_C


def alkalinity_mg_l(value: float, unit: str) -> float:
    """Alkalinity in mg/L calcium carbonate from "mg_l", or "german", "french", "english" degrees.

    Raises
    ------
    KeyError
        For another unit.
    """
    return value * HARDNESS_MG_L[unit]


def in_degrees(alkalinity: float) -> dict[str, float]:
    """An alkalinity in mg/L calcium carbonate in every unit."""
    return {unit: alkalinity / one for unit, one in HARDNESS_MG_L.items()}


def water_contents(water: Water, volume_l: float) -> Contents:
    """What is dissolved in some water.

    Water so soft that it holds no pH is taken as soft, whatever its pH was read to be.

    Parameters
    ----------
    water : Water
    volume_l : float

    Returns
    -------
    Contents

    Raises
    ------
    DyeshadeError
        ``bath_volume`` for no water; ``water_alkalinity`` for one below 0 or beyond all waters;
        ``ph_off_scale`` for a pH below 0 or above 14; ``water_impossible`` where alkalinity and pH
        cannot belong together.
    """
    if not 0.0 < volume_l < 10_000.0:
        raise DyeshadeError("bath_volume", volume_l=volume_l)
    if not 0.0 <= water.alkalinity_mg_l <= MOST_ALKALINITY_MG_L:
        raise DyeshadeError(
            "water_alkalinity", mg_l=water.alkalinity_mg_l, most=MOST_ALKALINITY_MG_L
        )
    check_ph(water.ph)
    strong = water.alkalinity_mg_l / (CALCIUM_CARBONATE / 2.0) / 1000.0
    ph = np.array(water.ph)
    bare = Contents(1.0, strong, 2.0 * strong)
    carbonate = effect = 0.0
    for _ in range(40):
        _, strength, _ = net_charge(
            bare.plus(acids=[(CARBONIC, carbonate)]), ph, water.temperature_c, effect
        )
        effect = charge_effect(float(strength), water.temperature_c)
        excess = float(net_charge(bare, ph, water.temperature_c, effect)[0])
        per_mol = -float(acid_charge(CARBONIC, 1.0, ph, water.temperature_c, effect)[0])
        if excess < -_SLACK_MOL_L or excess / per_mol > _MOST_CARBONATE_MOL_L:
            raise DyeshadeError("water_impossible", mg_l=water.alkalinity_mg_l, ph=water.ph)
        before, carbonate = carbonate, max(excess / per_mol, 0.0)
        if abs(carbonate - before) < 1e-12:
            break
    return Contents(
        volume_l, strong * volume_l, 2.0 * strong * volume_l, ((CARBONIC, carbonate * volume_l),)
    )


def check_ph(ph: float) -> None:
    """Refuse a pH that no bath has.

    Raises
    ------
    DyeshadeError
        ``ph_off_scale`` below 0 or above 14.
    """
    if not 0.0 <= ph <= 14.0:
        raise DyeshadeError("ph_off_scale", ph=ph)
