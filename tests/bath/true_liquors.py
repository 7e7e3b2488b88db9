"""Liquors as they might really be, for trying out what is proposed for them.

Nothing here comes from dyeshade. The liquors hold three to twelve acids whose pK lie anywhere,
activities are Guentelberg's, the water's alkalinity differs from what the dyer was told, packs,
stocks and spoons from what they are said to hold.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

CARBONIC, CITRIC, ACETIC = (6.35, 10.33), (3.13, 4.76, 6.40), (4.76,)
SODA_G_PER_MOL = {"soda_anhydrous": 105.99, "soda_monohydrate": 124.00, "soda_decahydrate": 286.14}
CITRIC_G_PER_MOL = 192.12
LIGHTEST_SPOON_G, HEAVIEST_SPOON_G = 0.7, 1.3
FEWEST_SPOONS, MOST_SPOONS, MOST_ACID_MOL_L = 0.5, 100.0, 0.1


@dataclass
class TrueLiquor:
    """A liquor in its pot.

    Attributes
    ----------
    volume_l : float
    acids : list of (tuple of float, float)
        PK of the steps of each acid, and its amount in mol.
    strong_mol : float
        Charge of ions that never react, and by their number what they add to ionic strength.
    """

    volume_l: float
    acids: list[tuple[tuple[float, ...], float]]
    strong_mol: float = 0.0
    added_ions_mol: float = 0.0
    _ph: float | None = field(default=None, repr=False)

    def ph(self) -> float:
        """The pH at 25 degrees C."""
        if self._ph is None:
            low, high = 0.0, 14.5
            for _ in range(50):
                middle = (low + high) / 2.0
                low, high = (middle, high) if self.charge(middle) > 0.0 else (low, middle)
            self._ph = (low + high) / 2.0
        return self._ph

    def charge(self, ph: float) -> float:
        """Charge in excess if it had some pH, mol/L."""
        strength = (abs(self.strong_mol) + self.added_ions_mol) / self.volume_l + 0.003
        root = math.sqrt(strength)
        effect = 0.509 * root / (1.0 + root)
        total = 10.0 ** (effect - ph) - 10.0 ** (ph - 13.995 + effect)
        total += self.strong_mol / self.volume_l
        for steps, mol in self.acids:
            weight, total_weight, charges = 1.0, 1.0, 0.0
            for z, pk in enumerate(steps, 1):
                weight *= 10.0 ** (ph - pk + effect * (2 * z - 1))
                total_weight += weight
                charges += z * weight
            total -= mol / self.volume_l * charges / total_weight
        return total

    def stir_in(self, steps: tuple[float, ...], mol: float, strong: float, litres: float) -> None:
        """Add an acid or its salt."""
        self.acids.append((steps, mol))
        self.strong_mol += strong * mol
        self.added_ions_mol += strong * mol / 2.0
        self.volume_l += litres
        self._ph = None


@dataclass(frozen=True)
class Case:
    """A dyer with a pot.

    Attributes
    ----------
    liquor : TrueLiquor
    soda : str
        What the dyer's pack holds, and is known to hold.
    spoon_g : float
        What a level quarter teaspoon of soda or acid is taken to weigh.
    told_alkalinity_mg_l, water_ph : float
        What the water works say.
    target, ceiling, floor : float
    bias : float
        Of the dyer's instrument.
    pack : float
        What is truly in a gram of soda or acid, of what is said to be.
    spoon : float
        What a level spoon truly holds, of what it is taken to hold.
    """

    liquor: TrueLiquor
    soda: str
    spoon_g: float
    told_alkalinity_mg_l: float
    water_ph: float
    target: float
    ceiling: float
    floor: float
    bias: float
    pack: float
    spoon: float


CEILINGS = (8.5, 9.0, 10.0)
FLOOR = 3.0
BIAS = 0.2


def draw(rng: np.random.Generator) -> Case:
    """A random pot: 3 to 20 L, water of 0 to 300 mg/L, its acids a trace or a lot."""
    volume = math.exp(rng.uniform(math.log(3.0), math.log(20.0)))
    alkalinity = rng.uniform(0.0, 300.0)
    water_ph = rng.uniform(6.8, 8.2)
    # Carbonate of the water, ideal, and what boiling left of it.
    bicarbonate = alkalinity / 50_040.0
    carbonate = bicarbonate * (1.0 + 10.0 ** (6.35 - water_ph)) * rng.uniform(0.2, 1.0)
    count = int(rng.integers(3, 13))
    soda = str(rng.choice(list(SODA_G_PER_MOL)))
    spoon_g = rng.uniform(LIGHTEST_SPOON_G, HEAVIEST_SPOON_G)
    # So many quarter teaspoons would take away all protons: from a jump to a nudge.
    spoons = math.exp(rng.uniform(math.log(FEWEST_SPOONS), math.log(MOST_SPOONS)))
    total = spoons * 2.0 * spoon_g / SODA_G_PER_MOL[soda]
    total = min(total, MOST_ACID_MOL_L * volume)
    shares = rng.dirichlet(np.ones(count))
    pks = rng.uniform(2.5, 11.5, count)
    acids = [((float(pk),), total * s) for pk, s in zip(pks, shares, strict=True)]
    liquor = TrueLiquor(volume, [*acids, (CARBONIC, carbonate * volume)])
    liquor.strong_mol = -liquor.charge(rng.uniform(4.0, 7.0)) * volume
    ceiling = float(rng.choice(CEILINGS))
    return Case(
        liquor,
        soda,
        spoon_g,
        alkalinity * rng.uniform(0.85, 1.15),
        water_ph,
        rng.uniform(4.5, ceiling - 0.5),
        ceiling,
        FLOOR,
        rng.uniform(-BIAS, BIAS),
        math.exp(rng.normal(0.0, 0.03)),
        math.exp(rng.normal(0.0, 0.08)),
    )
