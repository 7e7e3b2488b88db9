"""From the weight of fibre to all that is weighed out for a bath, and back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from dyeshade.bath.fibres import is_on
from dyeshade.bath.recipe import (
    FORMS,
    DyestuffShare,
    PieceInPot,
    Recipe,
    SubstanceShare,
    fibre_grams,
    in_form,
)
from dyeshade.bath.substances import ASSISTANT, COMMON_PRACTICE, Ranges, find_substance
from dyeshade.errors import DyeshadeError, Notice

DYESTUFF, WATER = "dyestuff", "water"

USUAL_RATIO = (0.001, 10.0)
USUAL_LIQUOR = (10.0, 60.0)
"""Between these nothing is said about a ratio: common practice, no source."""


@dataclass(frozen=True)
class Line:
    """One thing that is weighed or measured out, planned beside actual.

    Attributes
    ----------
    kind : str
        "dyestuff", "mordant", "assistant" or "water".
    name : str
    planned : float
        Grams; of water litres.
    share : float
        Planned weight to weight of the fibre that it is for.
    fibre_g : float
        That fibre.
    form : str
        Of a dyestuff: "fresh", "dried" or "extract".
    on : str
        Of a mordant or assistant: the kind or group of fibre that it is for, "" for all.
    also : tuple of (form, grams)
        Of a dyestuff: the same in other forms, where the yields are known.
    actual : float or None
        What was truly weighed, grams or litres; None as long as it was not.
    """

    kind: str
    name: str
    planned: float
    share: float
    fibre_g: float
    form: str = ""
    on: str = ""
    also: tuple[tuple[str, float], ...] = ()
    actual: float | None = None

    @property
    def counted(self) -> float:
        """What counts: the actual amount where there is one, else the planned."""
        return self.planned if self.actual is None else self.actual

    @property
    def off_by(self) -> float | None:
        """How far the actual amount is off the planned, as a share of it: 0.1 is a tenth more."""
        return None if self.actual is None else self.actual / self.planned - 1

    @property
    def share_counted(self) -> float:
        """The share of the fibre that counts."""
        return self.share * self.counted / self.planned


@dataclass(frozen=True)
class BathPlan:
    """All that a bath needs.

    Attributes
    ----------
    pieces : tuple of PieceInPot
    fibre_g : float
        Their dry weight together.
    lines : tuple of Line
        Dyestuffs, mordants and assistants in the recipe's order, then water.
    notices : tuple of Notice
        What is unusual about it.
    """

    pieces: tuple[PieceInPot, ...]
    fibre_g: float
    lines: tuple[Line, ...]
    notices: tuple[Notice, ...] = ()

    @property
    def water_l(self) -> float | None:
        """Litres of water that count, or None where no liquor ratio was given."""
        return next((line.counted for line in self.lines if line.kind == WATER), None)

    @property
    def dyestuffs(self) -> tuple[Line, ...]:
        """The lines that are dyestuffs."""
        return tuple(line for line in self.lines if line.kind == DYESTUFF)


def plan_bath(
    pieces: Sequence[PieceInPot], recipe: Recipe, ranges: Ranges = COMMON_PRACTICE
) -> BathPlan:
    """Everything that a recipe needs for the pieces in the pot.

    Parameters
    ----------
    pieces : sequence of PieceInPot
    recipe : Recipe
    ranges : Ranges
        What is usual: outside of it stands a notice, no refusal.

    Returns
    -------
    BathPlan
        A litre of water is taken as a kilogram: within 0.5 % up to 30 degrees C (from memory).

    Raises
    ------
    DyeshadeError
        ``no_fibre``; ``mordant_not_supported`` for chrome.
    """
    total = fibre_grams(pieces)
    lines: list[Line] = []
    notices: list[Notice] = []
    for dyestuff in recipe.dyestuffs:
        lines.append(_dyestuff(dyestuff, total))
        if not USUAL_RATIO[0] <= dyestuff.ratio <= USUAL_RATIO[1]:
            facts = {"dyestuff": dyestuff.name, "ratio": dyestuff.ratio}
            notices.append(Notice("ratio_unusual", facts))
    for substance in recipe.substances:
        line = _substance(substance, pieces)
        if line is None:
            facts = {"substance": substance.substance, "on": substance.on}
            notices.append(Notice("no_such_fibre", facts))
        else:
            lines.append(line)
            notices += _outside(substance, pieces, ranges)
    if recipe.liquor_ratio is not None:
        ratio = recipe.liquor_ratio
        lines.append(Line(WATER, "water", total * ratio / 1000, ratio, total))
        if not USUAL_LIQUOR[0] <= ratio <= USUAL_LIQUOR[1]:
            low, high = USUAL_LIQUOR
            notices.append(Notice("liquor_unusual", {"ratio": ratio, "low": low, "high": high}))
    return BathPlan(tuple(pieces), total, tuple(lines), tuple(notices))


def with_actual(plan: BathPlan, place: int, actual: float | None) -> BathPlan:
    """The plan with what was truly weighed (grams; of water litres) at a place among its lines."""
    if actual is not None and not 0 <= actual < float("inf"):
        raise ValueError(f"amount below 0: {actual}")
    lines = list(plan.lines)
    lines[place] = replace(lines[place], actual=actual)
    return replace(plan, lines=tuple(lines))


def recipe_as_done(plan: BathPlan) -> Recipe:
    """The recipe that a bath truly was: actual amounts where they are known, else planned ones."""
    done = [line for line in plan.lines if line.counted > 0]
    return Recipe(
        tuple(
            DyestuffShare(line.name, line.share_counted, line.form)
            for line in done
            if line.kind == DYESTUFF
        ),
        tuple(
            SubstanceShare(line.name, line.share_counted, line.on)
            for line in done
            if line.kind not in (DYESTUFF, WATER)
        ),
        next((line.share_counted for line in done if line.kind == WATER), None),
    )


def fibre_for_dyestuff(grams: float, dyestuff: DyestuffShare, form: str | None = None) -> float:
    """Dry weight of fibre in grams that a weight of dyestuff colours at its ratio.

    Parameters
    ----------
    grams : float
    dyestuff : DyestuffShare
    form : str, optional
        The form that `grams` are of; the recipe's own unless told.

    Raises
    ------
    DyeshadeError
        ``yield_unknown``
    """
    return in_form(grams, dyestuff, dyestuff.form, form) / dyestuff.ratio


def _dyestuff(dyestuff: DyestuffShare, total: float) -> Line:
    grams = total * dyestuff.ratio
    also = []
    for form in FORMS:
        try:
            other = in_form(grams, dyestuff, form)
        except DyeshadeError:
            continue
        if form != dyestuff.form:
            also.append((form, other))
    name, ratio, form = dyestuff.name, dyestuff.ratio, dyestuff.form
    return Line(DYESTUFF, name, grams, ratio, total, form=form, also=tuple(also))


def _substance(share: SubstanceShare, pieces: Sequence[PieceInPot]) -> Line | None:
    known = find_substance(share.substance)
    kind = ASSISTANT if known is None else known.kind
    grams = sum(piece.grams for piece in pieces if is_on(share.on, piece.fibre))
    if grams == 0:
        return None
    # Under the name that it was given: gallnuts are not weighed as tannic acid is.
    return Line(kind, share.substance, grams * share.share, share.share, grams, on=share.on)


def _outside(share: SubstanceShare, pieces: Sequence[PieceInPot], ranges: Ranges) -> list[Notice]:
    name = share.substance
    known = find_substance(name)
    if known is None:
        return [Notice("substance_unknown", {"substance": name})]
    told: list[Notice] = []
    fibres = dict.fromkeys(piece.fibre for piece in pieces if is_on(share.on, piece.fibre))
    for fibre in fibres:
        usual = ranges.find(known.name, fibre)
        facts: dict[str, object] = {"substance": name, "share": share.share, "fibre": fibre}
        if usual is None:
            if any(one.substance == known.name for one in ranges.ranges):
                told.append(Notice("not_usual_on_fibre", facts))
        elif not usual.low - 1e-9 <= share.share <= usual.high + 1e-9:
            facts |= {"low": usual.low, "high": usual.high, "own": usual.own}
            told.append(Notice("outside_range", facts))
    return told
