"""Words set in whatever fonts have their characters, wrapped to a width, never cut."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import cache
from typing import Final, Literal

from dyeshade.paper.page import LEFT_TO_RIGHT, POINT_MM, Face, font_of
from dyeshade.paper.right_to_left import as_seen, is_right_to_left, joined

Voice = Literal["serif", "sans"]

_CHAINS: Final[dict[Voice, tuple[Face, ...]]] = {
    "serif": ("serif", "sans", "more", "thai", "hangul", "east"),
    "sans": ("sans", "more", "thai", "hangul", "east"),
}
NOT_THERE: Final = "□"
"""Stands for a character that no font has."""

_SPACES: Final = re.compile(r"[ \t\n\r\f\v\u0085\u2028\u2029]+")
_BREAK_AFTER: Final = " -–—/"
_BALANCE_ROUNDS: Final = 5
_NEVER_FIRST: Final = "–—、。，．,.;:!?)]}」』）ー"


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
    kept = (c for c in composed if unicodedata.category(c) not in ("Cc", "Cf", "Cs", "Co"))
    return "".join(c for c in kept if not 0xFE00 <= ord(c) <= 0xFE0F)


def missing_in(text: str) -> str:
    """The characters of a text that no font has, each once, in their order."""
    found = dict.fromkeys(c for c in plain_words(text) if _first_face(c, "sans") is None)
    return "".join(found)


def width_mm(words: str, voice: Voice, points: float) -> float:
    """How wide words are when they are set."""
    return sum(_width(character, voice) for character in words) * points * POINT_MM


def wrapped(text: str, voice: Voice, points: float, width: float) -> tuple[str, ...]:
    """A text's lines, none wider than `width` mm, with every character of it but spaces at ends.

    Lines end at spaces, after hyphens and strokes, and between East Asian characters; a word that
    is wider than the line ends anywhere.

    Returns
    -------
    tuple of str
        In the order in which they are read; empty for an empty text.
    """
    words = plain_words(text)
    if is_right_to_left(words):
        words = joined(words)
    most = width / (points * POINT_MM)
    lines: list[str] = []
    start, last_break, used, place = 0, 0, 0.0, 0
    while place < len(words):
        character = words[place]
        if place > start and _may_break(words, place):
            last_break = place
        used += _width(character, voice)
        if used > most and character != " " and place > start:
            end = last_break if last_break > start else _before_marks(words, start, place)
            lines.append(words[start:end].strip())
            start = last_break = place = end
            used = 0.0
            continue
        place += 1
    lines.append(words[start:].strip())
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
    parts: list[tuple[Face, str]] = []
    for character in as_seen(line) if mixed else line:
        face = _first_face(character, voice)
        if face is None:
            character, face = NOT_THERE, _face(NOT_THERE, voice)
        last = parts[-1][0] if parts else None
        if last is not None and unicodedata.combining(character) and _has(last, character):
            face = last
        if face == last:
            parts[-1] = face, parts[-1][1] + character
        else:
            parts.append((face, character))
    placed: list[SetText] = []
    for face, words in parts:
        placed.append(SetText(x, baseline, (LEFT_TO_RIGHT if mixed else "") + words, points, face))
        x += float(font_of(face).stringWidth(words, points)) * POINT_MM
    return tuple(placed)


def _may_break(words: str, place: int) -> bool:
    """Whether a line may end before the character at a place."""
    here, before = words[place], words[place - 1]
    if here in _NEVER_FIRST or here == " " or unicodedata.combining(here):
        return False
    if before in _BREAK_AFTER:
        return True
    return (
        unicodedata.east_asian_width(here) in "WF" or unicodedata.east_asian_width(before) in "WF"
    )


def _before_marks(words: str, start: int, place: int) -> int:
    """The nearest place not after `place` that parts no letter from its marks."""
    end = place
    while end > start + 1 and unicodedata.combining(words[end]):
        end -= 1
    return end if end > start + 1 or not unicodedata.combining(words[end]) else place


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
def _width(character: str, voice: Voice) -> float:
    """In sizes of the font."""
    if _first_face(character, voice) is None:
        character = NOT_THERE
    return float(font_of(_face(character, voice)).stringWidth(character, 1.0))
