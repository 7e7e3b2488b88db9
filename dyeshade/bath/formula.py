"""Masses of formulas, g/mol.

References
----------
Standard atomic weights, abridged: IUPAC Commission on Isotopic Abundances and Atomic Weights;
Prohaska, T. et al. (2022). Pure Appl. Chem. 94(5), 573-600. doi:10.1515/pac-2019-0603.
"""

from __future__ import annotations

import re

ATOMIC_WEIGHTS: dict[str, float] = {
    "H": 1.008,
    "C": 12.011,
    "O": 15.999,
    "Na": 22.990,
    "Al": 26.982,
    "S": 32.06,
    "K": 39.098,
    "Ca": 40.078,
}
"""Standard atomic weights, abridged, of the elements in a dye bath."""


def molar_mass(formula: str) -> float:
    """Mass of a formula as "Na2CO3" or "KAlS2O8 12H2O", g/mol.

    Raises
    ------
    KeyError
        For an element that is not in the table.
    """
    total = 0.0
    for part in formula.split():
        match = re.fullmatch(r"(\d*)((?:[A-Z][a-z]?\d*)+)", part)
        if match is None:
            raise ValueError(formula)
        times = int(match[1] or 1)
        for element, count in re.findall(r"([A-Z][a-z]?)(\d*)", match[2]):
            total += times * ATOMIC_WEIGHTS[element] * int(count or 1)
    return total
