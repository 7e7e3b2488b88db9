"""A recipe: everything in shares of the dry weight of fibre, so that it fits any weight."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from dyeshade.bath.fibres import find_fibre, group_of
from dyeshade.errors import DyeshadeError

FRESH, DRIED, EXTRACT = "fresh", "dried", "extract"
FORMS = (FRESH, DRIED, EXTRACT)


def _positive(number: float, what: str) -> None:
    # What people type is checked where it is typed.
    if not 0 < number < float("inf"):
        raise ValueError(f"{what} must be above 0: {number}")


@dataclass(frozen=True)
class PieceInPot:
    """A piece that goes into the bath.

    Attributes
    ----------
    fibre : str
        Name of a `fibres.FibreKind`.
    grams : float
        Dry weight of the fibre, after scouring.
    name : str
        The piece's short id, if it has one.
    """

    fibre: str
    grams: float
    name: str = ""

    def __post_init__(self) -> None:
        _positive(self.grams, "weight of fibre")
        find_fibre(self.fibre)


@dataclass(frozen=True)
class DyestuffShare:
    """A dyestuff in a recipe.

    Attributes
    ----------
    name : str
    ratio : float
        Its weight, in the form named, to the weight of fibre: 2.0 for two to one, 0.05 for 5 % wof.
    form : str
        One of `FORMS`.
    drying_yield : float or None
        Dried weight that the dyer gets of a weight of fresh: 0.2 where 1 kg dries to 200 g.
    extract_yield : float or None
        Weight of extract that the dyer gets of a weight of dried.
    """

    name: str
    ratio: float
    form: str = DRIED
    drying_yield: float | None = None
    extract_yield: float | None = None

    def __post_init__(self) -> None:
        _positive(self.ratio, "ratio")
        if self.form not in FORMS:
            raise ValueError(f"not a form of a dyestuff: {self.form!r}")
        for share in (self.drying_yield, self.extract_yield):
            if share is not None and not 0 < share <= 1:
                raise ValueError(f"a yield lies above 0 and up to 1: {share}")


@dataclass(frozen=True)
class SubstanceShare:
    """A mordant or assistant in a recipe.

    Attributes
    ----------
    substance : str
        Name of a `substances.Substance`, or the dyer's own.
    share : float
        Its weight to the weight of the fibre that it goes on: 0.15 for 15 % wof.
    on : str
        A kind of fibre or a group of them; "" for all that is in the pot.
    """

    substance: str
    share: float
    on: str = ""

    def __post_init__(self) -> None:
        _positive(self.share, "share")
        if self.on:
            group_of(self.on)


@dataclass(frozen=True)
class Recipe:
    """A recipe.

    Attributes
    ----------
    dyestuffs : tuple of DyestuffShare
    substances : tuple of SubstanceShare
    liquor_ratio : float or None
        Weight of water to weight of fibre.
    """

    dyestuffs: tuple[DyestuffShare, ...] = ()
    substances: tuple[SubstanceShare, ...] = ()
    liquor_ratio: float | None = None

    def __post_init__(self) -> None:
        if self.liquor_ratio is not None:
            _positive(self.liquor_ratio, "liquor ratio")


def fibre_grams(pieces: Sequence[PieceInPot]) -> float:
    """Dry weight of all pieces.

    Raises
    ------
    DyeshadeError
        ``no_fibre`` where there is no piece.
    """
    if not pieces:
        raise DyeshadeError("no_fibre")
    return sum(piece.grams for piece in pieces)


def scale_pieces(pieces: Sequence[PieceInPot], grams: float) -> tuple[PieceInPot, ...]:
    """The same pieces in the same proportions, of another weight together.

    A recipe itself knows no weight: planned for these, it is the recipe for that weight.

    Raises
    ------
    DyeshadeError
        ``no_fibre``
    """
    factor = grams / fibre_grams(pieces)
    return tuple(replace(piece, grams=piece.grams * factor) for piece in pieces)


def in_form(grams: float, dyestuff: DyestuffShare, form: str, given: str | None = None) -> float:
    """What a weight of a dyestuff is in another form, by the dyer's own yields.

    Parameters
    ----------
    grams : float
    dyestuff : DyestuffShare
        Whose yields count.
    form : str
        The form wanted, one of `FORMS`.
    given : str, optional
        The form that `grams` are of; the recipe's own unless told.

    Raises
    ------
    DyeshadeError
        ``yield_unknown`` (dyestuff, given, form) where the yield between them is not known.
    """
    start, end = FORMS.index(given or dyestuff.form), FORMS.index(form)
    steps = (dyestuff.drying_yield, dyestuff.extract_yield)
    for step in range(min(start, end), max(start, end)):
        share = steps[step]
        if share is None:
            raise DyeshadeError(
                "yield_unknown", dyestuff=dyestuff.name, given=FORMS[start], form=form
            )
        grams = grams * share if end > start else grams / share
    return grams
