"""What a dyer stirs in: soda, vinegar, citric acid, cream of tartar, alum; and what it does.

An `Additive` is measured in grams where it is a powder or crystals, in millilitres where it is a
liquid. A stock solution is an additive made from another one.

References
----------
Densities of soda and citric acid solutions: from memory, good to 1 %.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from dyeshade.bath.acids import ACETIC, ALUMINIUM, CARBONIC, CITRIC, SULPHURIC, TARTARIC, Acid
from dyeshade.bath.equilibrium import Contents
from dyeshade.bath.formula import molar_mass
from dyeshade.errors import DyeshadeError

GRAMS, MILLILITRES = "g", "mL"
_MOST_PER_LITRE = 1e5
"""Beyond this nothing is a bath any more, and no equation holds."""


@dataclass(frozen=True)
class Additive:
    """Something to stir into a bath.

    Attributes
    ----------
    name : str
        Short name: "soda_anhydrous", "vinegar".
    unit : str
        "g" or "mL".
    mol_per_unit : float
    strong_charge : float
        Charge, per mol, of its ions that never react; each of charge 1.
    acids : tuple of (Acid, float)
        Acids that a mol of it brings, mol.
    strength_spread : float
        Standard deviation of the logarithm of `mol_per_unit`: how well its strength is known.
    percent : float or None
        Of a liquid: what its label says.
    made_of : str or None
        Of a stock solution: name of what is dissolved in it.
    """

    name: str
    unit: str
    mol_per_unit: float
    strong_charge: float
    acids: tuple[tuple[Acid, float], ...]
    strength_spread: float = 0.02
    percent: float | None = None
    made_of: str | None = None

    @property
    def raises_ph(self) -> bool:
        """Whether it makes a bath less acid."""
        return self.strong_charge > 0.0 and any(acid is CARBONIC for acid, _ in self.acids)

    @property
    def substance(self) -> str:
        """Name of the substance, also where it is dissolved in a stock."""
        return self.made_of or self.name


def _solid(
    name: str, formula: str, charge: float, *acids: tuple[Acid, float], spread: float = 0.02
) -> Additive:
    return Additive(name, GRAMS, 1.0 / molar_mass(formula), charge, acids, spread)


SODA_ANHYDROUS = _solid("soda_anhydrous", "Na2CO3", 2.0, (CARBONIC, 1.0))
SODA_MONOHYDRATE = _solid("soda_monohydrate", "Na2CO3 H2O", 2.0, (CARBONIC, 1.0))
SODA_DECAHYDRATE = _solid("soda_decahydrate", "Na2CO3 10H2O", 2.0, (CARBONIC, 1.0))
SODA_OPENED = Additive(
    "soda_opened",
    GRAMS,
    # Crystals of an opened pack have lost any part of nine waters in ten.
    (SODA_DECAHYDRATE.mol_per_unit * SODA_MONOHYDRATE.mol_per_unit) ** 0.5,
    2.0,
    ((CARBONIC, 1.0),),
    strength_spread=0.25,
)
"""Washing soda crystals of an opened pack: between decahydrate and monohydrate."""
HYDROGEN_CARBONATE = _solid("hydrogen_carbonate", "NaHCO3", 1.0, (CARBONIC, 1.0))
CITRIC_ANHYDROUS = _solid("citric_anhydrous", "C6H8O7", 0.0, (CITRIC, 1.0))
CITRIC_MONOHYDRATE = _solid("citric_monohydrate", "C6H8O7 H2O", 0.0, (CITRIC, 1.0))
CREAM_OF_TARTAR = _solid("cream_of_tartar", "KC4H5O6", 1.0, (TARTARIC, 1.0))
ALUM = _solid("alum", "KAlS2O8 12H2O", 1.0, (ALUMINIUM, 1.0), (SULPHURIC, 2.0))
"""Potassium alum; for what is left of it in a liquor, as far as the dyer can tell."""

SOLIDS: tuple[Additive, ...] = (
    SODA_ANHYDROUS,
    SODA_MONOHYDRATE,
    SODA_DECAHYDRATE,
    SODA_OPENED,
    HYDROGEN_CARBONATE,
    CITRIC_ANHYDROUS,
    CITRIC_MONOHYDRATE,
    CREAM_OF_TARTAR,
    ALUM,
)
SODAS: tuple[Additive, ...] = SOLIDS[:4]
"""What a pack of washing soda may hold; the dyer is asked which."""
_ANHYDROUS_SHARE = {
    "soda_anhydrous": 1.0,
    "soda_monohydrate": molar_mass("Na2CO3") / molar_mass("Na2CO3 H2O"),
    "soda_decahydrate": molar_mass("Na2CO3") / molar_mass("Na2CO3 10H2O"),
    "soda_opened": molar_mass("Na2CO3") * SODA_OPENED.mol_per_unit,
}
_DENSITY_PER_PERCENT = {"soda": 0.0103, "citric": 0.0040, "hydrogen": 0.0073}
_MOST_PERCENT = {"soda": 15.0, "citric": 50.0, "hydrogen": 7.0}
"""What stays dissolved in a cool room; common practice, no source."""


def vinegar(percent: float) -> Additive:
    """Vinegar with so many grams of acetic acid in 100 mL.

    Raises
    ------
    DyeshadeError
        ``vinegar_percent`` outside 1 to 30: water, or no vinegar but an acid that burns.
    """
    if not 1.0 <= percent <= 30.0:
        raise DyeshadeError("vinegar_percent", percent=percent)
    mol_per_ml = percent / 100.0 / molar_mass("C2H4O2")
    return Additive("vinegar", MILLILITRES, mol_per_ml, 0.0, ((ACETIC, 1.0),), 0.04, percent)


def stock_solution(of: Additive, percent: float = 10.0) -> Additive:
    """A stock solution: `percent` grams of a solid in 100 g of solution.

    Raises
    ------
    DyeshadeError
        ``stock_percent`` where so much would not stay dissolved, or nothing is dissolved.
    ValueError
        For what is no stock to keep.
    """
    kind = of.name.split("_")[0]
    if of.unit != GRAMS or kind not in _MOST_PERCENT:
        raise ValueError(of.name)
    pure_percent = percent * _ANHYDROUS_SHARE.get(of.name, 1.0)
    if not percent >= 0.1 or pure_percent > _MOST_PERCENT[kind]:
        most = _MOST_PERCENT[kind] / _ANHYDROUS_SHARE.get(of.name, 1.0)
        raise DyeshadeError("stock_percent", percent=percent, most=round(most))
    grams_per_ml = percent / 100.0 * (1.0 + _DENSITY_PER_PERCENT[kind] * pure_percent)
    return replace(
        of,
        name=f"{of.name}_stock",
        unit=MILLILITRES,
        mol_per_unit=of.mol_per_unit * grams_per_ml,
        percent=percent,
        made_of=of.name,
    )


def additive(name: str, percent: float | None = None) -> Additive:
    """An additive by its short name; vinegar and stock solutions with their percent.

    Raises
    ------
    DyeshadeError
        ``additive_unknown``, ``vinegar_percent``, ``stock_percent``.
    """
    if name == "vinegar":
        return vinegar(5.0 if percent is None else percent)
    solids = {one.name: one for one in SOLIDS}
    base = name.removesuffix("_stock")
    if base in solids:
        if base == name:
            return solids[name]
        if base.split("_")[0] in _MOST_PERCENT:
            return stock_solution(solids[base], 10.0 if percent is None else percent)
    raise DyeshadeError("additive_unknown", name=name, known=[*solids, "vinegar"])


def stir_in(contents: Contents, what: Additive, amount: float) -> Contents:
    """The contents after an addition.

    Parameters
    ----------
    contents : Contents
    what : Additive
    amount : float
        In the additive's unit.

    Returns
    -------
    Contents

    Raises
    ------
    DyeshadeError
        ``amount_negative`` for less than nothing, and for more than any bath could hold.
    """
    if not 0.0 <= amount <= _MOST_PER_LITRE * contents.volume_l:
        raise DyeshadeError("amount_negative", amount=amount)
    mol = amount * what.mol_per_unit
    charge = mol * what.strong_charge
    return contents.plus(
        charge,
        abs(charge),
        [(acid, mol * each) for acid, each in what.acids],
        amount / 1000.0 if what.unit == MILLILITRES else 0.0,
    )
