"""Words set in whatever fonts have their characters, wrapped to a width, never cut."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Final, Literal

from dyeshade.paper.faces import FALLBACKS, SHAPED, Face, font_of
from dyeshade.paper.page import LEFT_TO_RIGHT, POINT_MM
from dyeshade.paper.right_to_left import as_seen, is_right_to_left, joined
from dyeshade.paper.shaping import JOINERS, clusters, is_shaped

Voice = Literal["serif", "sans"]

_CHAINS: Final[dict[Voice, tuple[Face, ...]]] = {
    "serif": ("serif", "sans", *FALLBACKS),
    "sans": ("sans", *FALLBACKS),
}
NOT_THERE: Final = "□"
"""Stands for a character that no font has."""

_SPACES: Final = re.compile(r"[ \t\n\r\f\v\u0085\u2028\u2029]+")
_BREAK_AFTER: Final = " -–—/་፡"
_WORDS: Final = re.compile(r"\s+|\S+")
_WORDS_KEPT: Final = 4096
_BALANCE_ROUNDS: Final = 5
_NEVER_FIRST: Final = "–—、。，．,.;:!?)]}」』）ー।॥ะาำๆฯະາຳ"
_NEVER_LAST: Final = "([{「『（เแโใไເແໂໃໄ"
"""Thai and Lao write some vowels before their consonant, others behind it (The Unicode Standard,
16.1 and 16.2)."""


@dataclass(frozen=True)
class SetText:
    """Words of one face at their place: left end and baseline in mm, size in points."""

    x_mm: float
    baseline_mm: float
    words: str
    points: float
    face: Face


def plain_words(text: str) -> str:
    """Text as it is set: composed, on one line, without characters that only steer."""
    # Not split(): that would take no-break spaces for places to break.
    composed = _SPACES.sub(" ", unicodedata.normalize("NFC", text)).strip()
    kept: list[str] = []
    for character in composed:
        if character in JOINERS:
            if kept and _is_told_by_joiners(kept[-1]):
                kept.append(character)
        elif not _only_steers(character):
            kept.append(character)
    return "".join(kept)


def missing_in(text: str) -> str:
    """The characters of a text that no font has, each once, in their order."""
    letters = (c for c in plain_words(text) if c not in JOINERS)
    return "".join(dict.fromkeys(c for c in letters if _first_face(c, "sans") is None))


def width_mm(words: str, voice: Voice, points: float) -> float:
    """How wide words are when they are set."""
    units = _units(_as_joined(words), voice)
    return sum(width for _, width in units) * points * POINT_MM


def wrapped(text: str, voice: Voice, points: float, width: float) -> tuple[str, ...]:
    """A text's lines, none wider than `width` mm, with every character of it but spaces at ends.

    Lines end at spaces, after hyphens and strokes, and between East Asian characters; a word that
    is wider than the line ends anywhere.

    Returns
    -------
    tuple of str
        In the order in which they are read; empty for an empty text.
    """
    units = _units(_as_joined(plain_words(text)), voice)
    most = width / (points * POINT_MM)
    lines: list[str] = []
    start, last_break, used, place = 0, 0, 0.0, 0
    while place < len(units):
        words, wide = units[place]
        if place > start and _may_break(units[place - 1][0], words):
            last_break = place
        used += wide
        if used > most and words != " " and place > start:
            end = last_break if last_break > start else _gentlest(units, start, place)
            lines.append(_said(units[start:end]))
            start = last_break = place = end
            used = 0.0
            continue
        place += 1
    lines.append(_said(units[start:]))
    return tuple(line for line in lines if line)


def balanced(text: str, voice: Voice, points: float, width: float) -> tuple[str, ...]:
    """As `wrapped`, in no more lines, but in lines of about one length."""
    lines = wrapped(text, voice, points, width)
    if len(lines) < 2:
        return lines
    narrow, wide = width / len(lines), width
    for _ in range(_BALANCE_ROUNDS):
        middle = (narrow + wide) / 2
        tried = wrapped(text, voice, points, middle)
        if len(tried) == len(lines):
            lines, wide = tried, middle
        else:
            narrow = middle
    return lines


def set_line(
    line: str, voice: Voice, points: float, x: float, baseline: float
) -> tuple[SetText, ...]:
    """One line of `wrapped` at its place, parted where another font takes over."""
    mixed = is_right_to_left(line)
    placed: list[SetText] = []
    for face, words in _runs(as_seen(joined(line)) if mixed else line, voice):
        if face is None:
            face, words = _face(NOT_THERE, voice), NOT_THERE * len(words)
        placed.append(SetText(x, baseline, (LEFT_TO_RIGHT if mixed else "") + words, points, face))
        x += sum(width for _, width in _run_units(words, face)) * points * POINT_MM
    return tuple(placed)


def _as_joined(text: str) -> str:
    return joined(text) if is_right_to_left(text) else text


def _only_steers(character: str) -> bool:
    variation = 0xFE00 <= ord(character) <= 0xFE0F
    return variation or unicodedata.category(character) in ("Cc", "Cf", "Cs", "Co")


def _is_told_by_joiners(character: str) -> bool:
    """Whether joiners behind it change how it looks."""
    return unicodedata.bidirectional(character) == "AL" or _first_face(character, "sans") in SHAPED


def _runs(words: str, voice: Voice) -> list[tuple[Face | None, str]]:
    """Words parted where another font takes over; None where no font has a character."""
    runs: list[tuple[Face | None, str]] = []
    for word in _WORDS.findall(words):
        whole = None if word.isascii() else _face_of_word(word, voice)
        for character in word:
            last = runs[-1][0] if runs else None
            face: Face | None
            if whole is not None:
                face = whole
            elif last is not None and _goes_along(character, last) and _has(last, character):
                face = last
            else:
                face = _first_face(character, voice)
            if runs and face == last:
                runs[-1] = face, runs[-1][1] + character
            else:
                runs.append((face, character))
    return runs


@lru_cache(_WORDS_KEPT)
def _face_of_word(word: str, voice: Voice) -> Face | None:
    """One font for all of a Latin word of which the first one has not every letter."""
    first = _CHAINS[voice][0]
    if all(_has(first, character) for character in word) or not all(map(_is_latin, word)):
        return None
    chain = _CHAINS[voice]
    return next((face for face in chain if all(_has(face, one) for one in word)), None)


def _is_latin(character: str) -> bool:
    if unicodedata.combining(character) or unicodedata.category(character)[0] in "NP":
        return True
    return unicodedata.name(character, "").startswith("LATIN")


def _goes_along(character: str, face: Face) -> bool:
    """Whether a character takes the font of what it stands behind, if that has it."""
    if character in JOINERS or unicodedata.combining(character):
        return True
    # Scripts of India share their full stops.
    return face in SHAPED and character in "।॥"


def _units(words: str, voice: Voice) -> list[tuple[str, float]]:
    """What no line ends within, each with its width in sizes of the font."""
    units: list[tuple[str, float]] = []
    for face, run in _runs(words, voice):
        if face is None:
            wide = _width(NOT_THERE, _face(NOT_THERE, voice))
            units += [(character, wide) for character in run]
        else:
            units += _run_units(run, face)
    return units


def _run_units(run: str, face: Face) -> Sequence[tuple[str, float]]:
    if is_shaped(run, face):
        return clusters(run, face)
    units: list[tuple[str, float]] = []
    for character in run:
        wide = _width(character, face)
        if units and unicodedata.combining(character):
            units[-1] = units[-1][0] + character, units[-1][1] + wide
        else:
            units.append((character, wide))
    return units


def _said(units: Sequence[tuple[str, float]]) -> str:
    return "".join(words for words, _ in units).strip()


def _may_break(before: str, here: str) -> bool:
    """Whether a line may end between two units."""
    last, first = before[-1], here[0]
    if first in _NEVER_FIRST or first == " " or last in _NEVER_LAST:
        return False
    if last in _BREAK_AFTER:
        return True
    return unicodedata.east_asian_width(first) in "WF" or unicodedata.east_asian_width(last) in "WF"


def _gentlest(units: Sequence[tuple[str, float]], start: int, place: int) -> int:
    """Where a word that is wider than its line is parted: not after `place`."""
    for end in range(place, start, -1):
        if units[end][0][0] not in _NEVER_FIRST and units[end - 1][0][-1] not in _NEVER_LAST:
            return end
    return place


@cache
def _has(face: Face, character: str) -> bool:
    return ord(character) in font_of(face).face.charToGlyph


@cache
def _first_face(character: str, voice: Voice) -> Face | None:
    return next((face for face in _CHAINS[voice] if _has(face, character)), None)


def _face(character: str, voice: Voice) -> Face:
    face = _first_face(character, voice)
    if face is None:
        raise LookupError(f"no font has {character!r}")
    return face


@cache
def _width(character: str, face: Face) -> float:
    """In sizes of the font."""
    return float(font_of(face).stringWidth(character, 1.0))
