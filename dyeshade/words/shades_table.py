"""Shades out of the library as lines for people."""

from __future__ import annotations

from collections.abc import Sequence

from dyeshade.cie.lab import lab_to_lch
from dyeshade.library.conditions import BathConditions
from dyeshade.library.find import FoundShade
from dyeshade.words.dye_words import STATES, WHICH_PH_SHORT, exhaust_words, ph_words
from dyeshade.words.sentences import counted
from dyeshade.words.shade_lines import dyestuff_names, mordant_words, ratio_words
from dyeshade.words.shades import sure_to

_HEADS = ("piece", "read", "state", "fibre", "dyestuff", "pH that acted last")
_NUMBERS = "    L*     a*     b*   C*ab    hab  sRGB      sure to"
_TERMS = "White D65, 2 degree observer; sure to: CIEDE2000, 95 times in 100"


def shades_table(found: Sequence[FoundShade]) -> list[str]:
    """One line a reading, in the order given, beneath headings.

    Parameters
    ----------
    found : sequence of FoundShade
    """
    if not found:
        return ["No shade was found."]
    rows = [_words(one) for one in found]
    wide = [max(map(len, column)) for column in zip(_HEADS, *rows, strict=True)]
    lines = [f"{_padded(_HEADS, wide)}  {_NUMBERS}"]
    lines += [
        f"{_padded(row, wide)}  {_numbers(one)}" for one, row in zip(found, rows, strict=True)
    ]
    told = f"{counted(len(found), 'shade', 'shades')}. {_TERMS}"
    beyond = any(not one.reading.in_gamut for one in found)
    return [*lines, told, *(["* sRGB cannot show it; the nearest is given"] if beyond else [])]


def _padded(row: Sequence[str], wide: Sequence[int]) -> str:
    return "  ".join(word.ljust(width) for word, width in zip(row, wide, strict=True))


def _words(one: FoundShade) -> tuple[str, ...]:
    reading, conditions = one.reading, one.conditions
    fibre = ", ".join(filter(None, (conditions.fibre, mordant_words(conditions))))
    return (
        one.history.piece.code,
        f"{reading.read:%Y-%m-%d}",
        STATES[reading.state],
        fibre,
        _dyes(conditions),
        _acted(conditions),
    )


def _dyes(conditions: BathConditions) -> str:
    last = conditions.last_bath
    told = [dyestuff_names(conditions), ratio_words(conditions)]
    if last and last.exhaust_number:
        told.append(exhaust_words(last.exhaust_number))
    return ", ".join(filter(None, told))


def _acted(conditions: BathConditions) -> str:
    ph = conditions.ph()
    if ph is None or conditions.acted is None:
        return ""
    return f"{ph_words(ph)} ({WHICH_PH_SHORT[conditions.acted]})"


def _numbers(one: FoundShade) -> str:
    reading = one.reading
    lightness, a, b = reading.lab
    _, chroma, hue = lab_to_lch(reading.lab)
    return (
        f"{lightness:6.1f} {a:z6.1f} {b:z6.1f} {chroma:6.1f} {hue:6.1f}  "
        f"{reading.srgb}{' ' if reading.in_gamut else '*'}  {sure_to(reading.u95).split(':')[0]}"
    )
