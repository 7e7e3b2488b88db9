"""What a shade card says of its shades."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dyeshade.paper.shade_card import (
    Caption,
    Card,
    CardDrift,
    CardDye,
    CardFastness,
    CardShade,
    CardWords,
)
from dyeshade.words.change_words import ways_words
from dyeshade.words.dye_words import (
    STATES,
    WHICH_PH,
    day_words,
    exhaust_words,
    percent_words,
    ph_words,
)
from dyeshade.words.home_test_names import TESTS
from dyeshade.words.sentences import counted
from dyeshade.words.shades import lab_words, sure_to

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
_GRADES = (
    "Grade: change in colour on the grey scale (ISO 105-A02), 5 for none to 1. Home tests, no "
    "certificate."
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
        if any(shade.fastness for shade in shades):
            told.append(_GRADES)
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
        yield exhaust_words(shade.exhaust_number)
    earlier = [" + ".join(names) for names in shade.earlier if names]
    if earlier:
        yield "over " + ", ".join(earlier)
    made_of = _DOT.join(part for part in (_fibre(shade), _mordant(shade)) if part)
    if made_of:
        yield made_of
    for kind, substance in shade.afters:
        yield f"{kind}: {substance}" if substance else kind
    if shade.ph is not None and shade.ph_which is not None:
        yield f"{_unbroken(f'pH {ph_words(shade.ph)}')} {WHICH_PH[shade.ph_which]}"
    yield _figures(shade) + ("" if shade.in_gamut else f" {_OUTSIDE}")
    yield f"sure to {sure_to(shade.u95)}"
    if shade.state not in ("", "dry"):
        yield f"read {STATES[shade.state]}"
    if shade.drift is not None:
        yield _drift(shade.drift)
    for test in shade.fastness:
        yield _fastness(test)
    yield from shade.notes


def _figures(shade: CardShade) -> str:
    lightness, a, b = (round(value, 1) + 0.0 for value in shade.lab)
    return lab_words((lightness, a, b)).replace("-", "−")


def _dye(dye: CardDye) -> str:
    name = " ".join(part for part in (dye.name, dye.part) if part)
    amount = "" if dye.ratio is None else _unbroken(percent_words(dye.ratio))
    return ", ".join(part for part in (name, dye.form, amount) if part)


def _drift(drift: CardDrift) -> str:
    since = day_words(drift.since)
    if not drift.significant:
        return f"no move seen since {since}"
    ways = ways_words(drift.ways)
    moved = f"moved by ΔE00 {drift.delta_e:.1f} since {since}"
    return f"{moved}: {ways}" if ways else moved


def _fastness(test: CardFastness) -> str:
    days = "" if test.days is None else f", {counted(test.days, 'day', 'days')}"
    return f"{TESTS[test.kind]}{days}: {_unbroken(f'grade {test.half}')}"


def _unbroken(words: str) -> str:
    """Words that stay on one line."""
    return words.replace(" ", "\N{NO-BREAK SPACE}")


def _fibre(shade: CardShade) -> str:
    return ", ".join(part for part in (shade.fibre, shade.fibre_make) if part)


def _mordant(shade: CardShade) -> str:
    if not shade.mordant or shade.mordant_percent_wof is None:
        return shade.mordant
    percent = percent_words(shade.mordant_percent_wof / 100)
    return f"{shade.mordant} {_unbroken(percent)}"
