"""What a shade card shows: its shades with their baths, and how the card is made up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal, Protocol, get_args

Paper = Literal["A4", "Letter"]
SwatchSize = Literal["small", "middle", "large"]
CardOrder = Literal["given", "ph", "hue", "lightness"]

PAPERS: Final[tuple[str, ...]] = get_args(Paper)
SWATCH_SIZES: Final[tuple[str, ...]] = get_args(SwatchSize)
ORDERS: Final[tuple[str, ...]] = get_args(CardOrder)


@dataclass(frozen=True)
class CardDye:
    """A dyestuff as a card names it; `ratio` is its weight to the fibre's (1.0 = 100 % wof)."""

    name: str
    part: str = ""
    form: str = ""
    ratio: float | None = None


@dataclass(frozen=True)
class CardDrift:
    """How far a shade lies from an earlier one of its piece.

    Attributes
    ----------
    since : date
        When the earlier one was read.
    delta_e : float
        CIEDE2000.
    significant : bool
        Whether that is more than two readings of an unchanged piece show 95 times in 100.
    ways : tuple of str
        Of `dyeshade.insight.components.WAYS`, the largest first.
    """

    since: date
    delta_e: float
    significant: bool
    ways: tuple[str, ...] = ()


@dataclass(frozen=True)
class CardFastness:
    """What a home fastness test of a piece has come to.

    Attributes
    ----------
    kind : str
        One of `dyeshade.insight.fastness.TESTS`.
    half : str
        Grade for change in colour in halves, from "5" (none) to "1" (ISO 105-A02).
    days : int or None
        From its beginning to its latest photo; None where nobody wrote down when it began.
    """

    kind: str
    half: str
    days: int | None = None


@dataclass(frozen=True)
class CardShade:
    """A shade with what a card says of it.

    Attributes
    ----------
    name, piece : str
        The piece's name, "" where it has none, and its code.
    lab : tuple of 3 floats
        L*, a*, b*; D65, 2 degrees.
    u95 : float
        CIEDE2000 within which the truth lies 95 times in 100.
    srgb : tuple of 3 ints
        0..255; only near the shade where `in_gamut` is False.
    dyes : tuple of CardDye
        Of the last bath, in its order.
    exhaust_number : int
        Of the last bath; 0 is a first bath.
    earlier : tuple of tuple of str
        Names of the dyestuffs of each bath before the last one.
    afters : tuple of (kind, substance)
        Afterbaths and dips after the last bath.
    ph, ph_which : float or None, str or None
        The pH that acted last, and which one it is (`dyeshade.library.dye_records.WHICH_PH`).
    drift : CardDrift or None
    fastness : tuple of CardFastness
        Of its piece.
    notes : tuple of str
        What else is known, in words for people.
    """

    name: str
    piece: str
    lab: tuple[float, float, float]
    u95: float
    srgb: tuple[int, int, int]
    in_gamut: bool
    dyes: tuple[CardDye, ...] = ()
    exhaust_number: int = 0
    earlier: tuple[tuple[str, ...], ...] = ()
    afters: tuple[tuple[str, str], ...] = ()
    fibre: str = ""
    fibre_make: str = ""
    mordant: str = ""
    mordant_percent_wof: float | None = None
    ph: float | None = None
    ph_which: str | None = None
    state: str = ""
    drift: CardDrift | None = None
    fastness: tuple[CardFastness, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Card:
    """How a shade card is made up.

    Attributes
    ----------
    title, maker : str
        Either may be "".
    paper : str
        "A4" or "Letter".
    swatch : str
        "small", "middle" or "large": four, three or two shades side by side.
    fibre_place : bool
        Whether every shade has a place to tie or glue the real fibre, with a hole, and the pages
        have marks for cutting and folding.
    two_sided : bool
        Whether the baths stand on the back of each page, behind their swatches; for printing on
        both sides, turned over the long edge.
    """

    title: str = ""
    maker: str = ""
    paper: Paper = "A4"
    swatch: SwatchSize = "middle"
    fibre_place: bool = False
    two_sided: bool = False

    def __post_init__(self) -> None:
        if self.paper not in PAPERS or self.swatch not in SWATCH_SIZES:
            raise ValueError(f"paper {self.paper!r}, swatch {self.swatch!r}")


@dataclass(frozen=True)
class Caption:
    """What stands under a swatch: a heading, then lines in the order they are read.

    Attributes
    ----------
    heading : str
    lines : tuple of str
    """

    heading: str
    lines: tuple[str, ...]


class CardWords(Protocol):
    """The sentences of a card; paper only sets them."""

    def caption(self, shade: CardShade) -> Caption:
        """What is said of a shade."""
        ...

    def short_caption(self, shade: CardShade) -> Caption:
        """What the front of a card says of a shade where the bath stands on the back."""
        ...

    def notes(self, shades: Sequence[CardShade], card: Card) -> tuple[str, ...]:
        """What the foot of every page explains."""
        ...

    def page_number(self, number: int, count: int) -> str:
        """Which page this is."""
        ...
