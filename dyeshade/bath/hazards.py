"""Which cautions a bath calls for, by what is in it. What they say stands with the sentences.

All of it is common practice, no source: the product's safety data sheet, the rules of the place and
whoever is licensed for the work come first, and the first caution says so.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from dyeshade.bath.amounts import BathPlan
from dyeshade.bath.recipe import EXTRACT, FRESH
from dyeshade.bath.substances import MORDANT, find_substance
from dyeshade.errors import Notice

ALKALIS = frozenset({"soda ash", "washing soda", "lime", "lye"})
CAUSTIC = frozenset({"lime", "lye"})
FOAMING = frozenset({"soda ash", "washing soda", "baking soda", "chalk"})
ACIDS = frozenset({"vinegar", "citric acid", "cream of tartar"})
SOUR = ACIDS | {"alum"}
"""What sets the gas of soda and chalk free; alum is as sour as vinegar in water."""
BURNING_VINEGAR_PERCENT = 25.0
"""From so much acetic acid on vinegar is labelled as burning skin: Regulation (EC) 1272/2008, Annex
VI, index number 607-002-00-6, from memory."""
REACTING_POTS = frozenset({"aluminium", "copper", "iron"})


@dataclass(frozen=True)
class InTheBath:
    """What cautions depend on.

    Attributes
    ----------
    substances : frozenset of str
        Names as in `substances`, and the dyer's own.
    mordants : bool
        Whether any of them is a mordant.
    forms : frozenset of str
        Forms of the dyestuffs.
    material : str
        Of the pot; "" where it was not said.
    foraged : bool
        Whether a dyestuff was gathered.
    hot : bool
    """

    substances: frozenset[str] = frozenset()
    mordants: bool = False
    forms: frozenset[str] = frozenset()
    material: str = ""
    foraged: bool = False
    hot: bool = True

    def has(self, names: frozenset[str]) -> bool:
        """Whether one of these substances is in it."""
        return bool(self.substances & names)


_Applies = Callable[[InTheBath], bool]

_CAUTIONS: tuple[tuple[_Applies, Notice], ...] = (
    (lambda bath: True, Notice("caution_comes_first")),
    (lambda bath: bath.hot, Notice("caution_hot_liquor")),
    (lambda bath: bath.mordants, Notice("caution_mordants")),
    (
        lambda bath: bool(bath.substances) or EXTRACT in bath.forms,
        Notice("caution_dust"),
    ),
    (lambda bath: "iron" in bath.substances, Notice("caution_iron")),
    (lambda bath: "copper" in bath.substances, Notice("caution_copper")),
    (lambda bath: "tin" in bath.substances, Notice("caution_tin")),
    (lambda bath: bath.has(ALKALIS), Notice("caution_alkali")),
    (lambda bath: bath.has(CAUSTIC), Notice("caution_caustic")),
    (lambda bath: bath.has(FOAMING) and bath.has(SOUR), Notice("caution_foam")),
    (
        lambda bath: (
            (bath.has(ALKALIS) or "baking soda" in bath.substances)
            and bath.material in ("aluminium", "")
        ),
        Notice("caution_aluminium_pot"),
    ),
    (lambda bath: bath.material in REACTING_POTS, Notice("caution_pot_reacts")),
    (lambda bath: bath.foraged or FRESH in bath.forms, Notice("caution_foraged")),
    (lambda bath: True, Notice("caution_not_for_food")),
    (lambda bath: True, Notice("caution_disposal")),
)


def cautions_for(
    plan: BathPlan,
    material: str = "",
    foraged: bool = False,
    hot: bool = True,
    added: Sequence[str] = (),
) -> tuple[Notice, ...]:
    """The cautions that a bath calls for, in the order in which they should be read.

    Parameters
    ----------
    plan : BathPlan
    material : str
        Of the pot, one of `pots.MATERIALS`, or "" where it is not known.
    foraged : bool
        Whether a dyestuff was gathered rather than bought.
    hot : bool
        Whether the bath is heated.
    added : sequence of str
        What else goes in, as soda or vinegar on the way to a pH.

    Raises
    ------
    DyeshadeError
        ``mordant_not_supported``
    """
    named = [line.name for line in plan.lines if line.kind not in ("dyestuff", "water")]
    known = [(name, find_substance(name)) for name in (*named, *added)]
    bath = InTheBath(
        frozenset(name if one is None else one.name for name, one in known),
        any(one is not None and one.kind == MORDANT for _, one in known),
        frozenset(line.form for line in plan.dyestuffs),
        material,
        foraged,
        hot,
    )
    return tuple(notice for applies, notice in _CAUTIONS if applies(bath))


def vinegar_cautions(percents: Iterable[float | None]) -> tuple[Notice, ...]:
    """What to mind of vinegar, by the acid that its labels state; None where none is known."""
    strongest = max((one for one in percents if one is not None), default=0.0)
    if strongest < BURNING_VINEGAR_PERCENT:
        return ()
    return (Notice("caution_strong_vinegar", {"percent": strongest}),)
