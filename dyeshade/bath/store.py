"""The store of dyestuffs: lots, what is left of them, and whether it is enough."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from dyeshade.bath.recipe import DRIED, FORMS, DyestuffShare, in_form
from dyeshade.errors import DyeshadeError, Notice

BOUGHT, USED, WEIGHED = "bought", "used", "weighed"
MOVES = (BOUGHT, USED, WEIGHED)


@dataclass(frozen=True)
class Lot:
    """A dyestuff as it was bought or gathered; where lots are kept, `ident` is its record's.

    Attributes
    ----------
    ident : int
    name : str
    form : str
        "fresh", "dried" or "extract".
    since : date or None
        When it came; the oldest is used first.
    drying_yield, extract_yield : float or None
        As in `recipe.DyestuffShare`.
    """

    ident: int
    name: str
    form: str = DRIED
    since: date | None = None
    drying_yield: float | None = None
    extract_yield: float | None = None

    def __post_init__(self) -> None:
        if self.form not in FORMS:
            raise ValueError(f"not a form of a dyestuff: {self.form!r}")


@dataclass(frozen=True)
class Move:
    """What became of a lot, in order of time.

    Attributes
    ----------
    lot : int
        The lot's `ident`.
    kind : str
        "bought" (adds), "used" (takes), or "weighed": the lot was weighed again, and that counts.
    grams : float
    bath : str
        For "used": the bath's code.
    """

    lot: int
    kind: str
    grams: float
    bath: str = ""

    def __post_init__(self) -> None:
        if self.kind not in MOVES or not 0 <= self.grams < float("inf"):
            raise ValueError(f"no move: {self.kind} {self.grams} g")


@dataclass(frozen=True)
class Left:
    """What is left of a lot.

    Attributes
    ----------
    lot : Lot
    grams : float
        Never below 0.
    notices : tuple of Notice
        ``lot_overdrawn`` where more was used than was there: it should be weighed again.
    """

    lot: Lot
    grams: float
    notices: tuple[Notice, ...] = ()


@dataclass(frozen=True)
class Enough:
    """Whether the store holds a dyestuff for a weight of fibre.

    Attributes
    ----------
    dyestuff : DyestuffShare
    needed_g, left_g : float
        In the form of the recipe; `left_g` of all lots that can be counted in it.
    lacking_g : float
        0 where it is enough.
    fibre_g : float
        Weight of fibre that what is left colours.
    take : tuple of (Lot, grams)
        From which lots, oldest first, and how much in the lot's own form, as far as they go.
    not_counted : tuple of Lot
        Lots in another form whose yield is not known.
    notices : tuple of Notice
        ``lot_overdrawn``, ``lot_not_counted``.
    """

    dyestuff: DyestuffShare
    needed_g: float
    left_g: float
    lacking_g: float
    fibre_g: float
    take: tuple[tuple[Lot, float], ...]
    not_counted: tuple[Lot, ...]
    notices: tuple[Notice, ...]

    @property
    def is_enough(self) -> bool:
        """Whether nothing is lacking."""
        return self.lacking_g == 0


def left_of(lot: Lot, moves: Sequence[Move]) -> Left:
    """What is left of a lot after all its moves, in the order in which they were made."""
    grams, over = 0.0, 0.0
    for move in moves:
        if move.lot != lot.ident:
            continue
        if move.kind == WEIGHED:
            grams, over = move.grams, 0.0
        elif move.kind == BOUGHT:
            grams += move.grams
        else:
            grams -= move.grams
        if grams < -1e-6:
            over -= grams
            grams = 0.0
    told = (Notice("lot_overdrawn", {"dyestuff": lot.name, "grams": over}),) if over else ()
    return Left(lot, max(0.0, grams), told)


def enough_for(
    fibre_g: float, dyestuff: DyestuffShare, lots: Sequence[Lot], moves: Sequence[Move]
) -> Enough:
    """Whether the lots of a dyestuff are enough for a weight of fibre.

    Parameters
    ----------
    fibre_g : float
    dyestuff : DyestuffShare
        Its own yields count where a lot has none.
    lots : sequence of Lot
        Those of other names are not looked at; upper and lower case are the same.
    moves : sequence of Move

    Raises
    ------
    DyeshadeError
        ``not_in_store`` (dyestuff)
    """
    wanted = dyestuff.name.casefold()
    mine = [lot for lot in lots if lot.name.casefold() == wanted]
    if not mine:
        raise DyeshadeError("not_in_store", dyestuff=dyestuff.name)
    mine.sort(key=lambda lot: (lot.since or date.max, lot.ident))
    needed = open_g = fibre_g * dyestuff.ratio
    left_g = 0.0
    take: list[tuple[Lot, float]] = []
    not_counted: list[Lot] = []
    notices: list[Notice] = []
    for lot in mine:
        left = left_of(lot, moves)
        notices += left.notices
        yields = _with_yields_of(dyestuff, lot)
        try:
            there = in_form(left.grams, yields, dyestuff.form, lot.form)
        except DyeshadeError:
            not_counted.append(lot)
            facts = {"dyestuff": lot.name, "form": lot.form, "wanted": dyestuff.form}
            notices.append(Notice("lot_not_counted", facts))
            continue
        left_g += there
        taken = min(there, open_g)
        if taken > 0:
            # The share first: of a lot that is taken whole it is 1, however little that is.
            take.append((lot, left.grams * (taken / there)))
            open_g -= taken
    # A balance does not see what lies below a millionth.
    lacking = max(0.0, needed - left_g)
    lacking = 0.0 if lacking <= 1e-6 * needed else lacking
    return Enough(
        dyestuff,
        needed,
        left_g,
        lacking,
        left_g / dyestuff.ratio,
        tuple(take),
        tuple(not_counted),
        tuple(notices),
    )


def _with_yields_of(dyestuff: DyestuffShare, lot: Lot) -> DyestuffShare:
    return DyestuffShare(
        dyestuff.name,
        dyestuff.ratio,
        dyestuff.form,
        lot.drying_yield or dyestuff.drying_yield,
        lot.extract_yield or dyestuff.extract_yield,
    )
