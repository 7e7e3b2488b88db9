"""What a shade card says of its shades."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from dyeshade.paper.shade_card import Caption, Card, CardDye, CardShade, CardWords
from dyeshade.words.shades import lab_words, sure_to

_WHICH_PH: Mapping[str, str] = {
    "extraction": "of the extraction",
    "bath_start": "of the bath at its start",
    "bath_end": "of the bath at its end",
    "after": "of the afterbath or dip",
    "rinse": "of the rinse water",
}
_STATES: Mapping[str, str] = {
    "wet": "read wet",
    "after_rinse": "read after a rinse",
    "after_wash": "read after a wash",
    "after_light": "read after light",
}
_OUTSIDE = "◊"
_DOT = " · "

_FIGURES = (
    "L*, a*, b*: CIELAB for D65 and the 2° observer. Sure to: the colour difference (CIEDE2000) "
    "within which the true colour lies 95 times in 100."
)
_MORE_VIVID = (
    f"{_OUTSIDE} More vivid than sRGB can show: the swatch is as near as it comes, the figures "
    "are the colour itself."
)
_MARKS = "Whole lines at the corners: cut here. Dashed lines: fold here. Ring: hole for the fibre."


class _Words:
    """The sentences of a card, in the order in which they are read."""

    def caption(self, shade: CardShade) -> Caption:
        """What is said of a shade."""
        return Caption(_heading(shade), tuple(_lines(shade)))

    def short_caption(self, shade: CardShade) -> Caption:
        """What the front of a card says of a shade where the bath stands on the back."""
        mark = () if shade.in_gamut else (_OUTSIDE,)
        lines = (_DOT.join((*_code(shade), *mark)),)
        return Caption(_heading(shade), tuple(line for line in lines if line))

    def notes(self, shades: Sequence[CardShade], card: Card) -> tuple[str, ...]:
        """What the foot of every page explains."""
        told = [_FIGURES]
        if any(not shade.in_gamut for shade in shades):
            told.append(_MORE_VIVID)
        if card.fibre_place:
            told.append(_MARKS)
        return tuple(told)

    def page_number(self, number: int, count: int) -> str:
        """Which page this is."""
        return f"{number} of {count}"


CARD_WORDS: CardWords = _Words()
"""The sentences of a card."""


def missing_words(missing: str) -> str:
    """Said where no font has some characters of a card."""
    return f"No font here has {' '.join(missing)}: a box stands for each on the card."


def _heading(shade: CardShade) -> str:
    return shade.name or shade.piece


def _code(shade: CardShade) -> tuple[str, ...]:
    return (f"piece {shade.piece}",) if shade.name else ()


def _lines(shade: CardShade) -> Iterator[str]:
    yield from _code(shade)
    if shade.dyes:
        yield " + ".join(_dye(dye) for dye in shade.dyes)
    if shade.exhaust_number:
        yield f"exhaust bath {shade.exhaust_number}"
    earlier = [" + ".join(names) for names in shade.earlier if names]
    if earlier:
        yield "over " + ", ".join(earlier)
    made_of = _DOT.join(part for part in (_fibre(shade), _mordant(shade)) if part)
    if made_of:
        yield made_of
    for kind, substance in shade.afters:
        yield f"{kind}: {substance}" if substance else kind
    if shade.ph is not None and shade.ph_which is not None:
        yield f"pH\N{NO-BREAK SPACE}{shade.ph:.1f} {_WHICH_PH[shade.ph_which]}"
    yield _figures(shade) + ("" if shade.in_gamut else f" {_OUTSIDE}")
    yield f"sure to {sure_to(shade.u95)}"
    if shade.state in _STATES:
        yield _STATES[shade.state]
    yield from shade.notes


def _figures(shade: CardShade) -> str:
    lightness, a, b = (round(value, 1) + 0.0 for value in shade.lab)
    return lab_words((lightness, a, b)).replace("-", "−")


def _dye(dye: CardDye) -> str:
    name = " ".join(part for part in (dye.name, dye.part) if part)
    amount = (
        ""
        if dye.ratio is None
        else f"{100 * dye.ratio:.4g}\N{NO-BREAK SPACE}%\N{NO-BREAK SPACE}wof"
    )
    return ", ".join(part for part in (name, dye.form, amount) if part)


def _fibre(shade: CardShade) -> str:
    return ", ".join(part for part in (shade.fibre, shade.fibre_make) if part)


def _mordant(shade: CardShade) -> str:
    if not shade.mordant or shade.mordant_percent_wof is None:
        return shade.mordant
    return (
        f"{shade.mordant} {shade.mordant_percent_wof:.4g}\N{NO-BREAK SPACE}%\N{NO-BREAK SPACE}wof"
    )
