"""Letters of scripts that change, join or change places beside each other, by their font's rules.

References
----------
OpenType 1.9, GSUB and GPOS, as HarfBuzz follows them.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache
from typing import Final

import uharfbuzz
from reportlab.lib.abag import ABag
from reportlab.pdfbase.ttfonts import ShapedStr, TTFont, shapeFragWord

from dyeshade.paper.faces import SHAPED, Face, font_of
from dyeshade.paper.right_to_left import is_right_to_left

JOINERS: Final = "\u200c\u200d"
"""Zero width non-joiner and joiner; in these scripts they decide how letters look."""

_PLAIN: Final = {"kern": False, "liga": False, "clig": False, "calt": False}
# What a font does for one language only would follow the computer's own language.
_FEATURES: Final = {"locl": False}
_WORDS_KEPT: Final = 4096
_OWN: Final = 0xE000
"""Where Unicode's first private area begins, which has room for 6400 characters."""

_OWN_ROOM: Final = 6400


def is_shaped(words: str, face: Face) -> bool:
    """Whether words of one face are more than their letters one after the other.

    Words that run from right to left are not: their letters are joined and ordered before.
    """
    if face in SHAPED:
        return True
    if words.isascii():
        return False
    return any(map(unicodedata.combining, words)) and not is_right_to_left(words)


@lru_cache(_WORDS_KEPT)
def clusters(words: str, face: Face) -> tuple[tuple[str, float], ...]:
    """What can't be parted, each with its width in sizes of the font.

    Parameters
    ----------
    words : str
        In the order in which they are read, all of one face.
    face : Face
    """
    font = font_of(face)
    buffer = uharfbuzz.Buffer()
    buffer.add_str(words)
    buffer.guess_segment_properties()
    uharfbuzz.shape(font.hbFont(), buffer, features_of(face))
    advances: dict[int, int] = {}
    for info, position in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        advances[info.cluster] = advances.get(info.cluster, 0) + position.x_advance
    starts = sorted(advances)
    ends = [*starts[1:], len(words)]
    per_em = font.hbFace.upem
    return tuple(
        (words[start:end], advances[start] / per_em)
        for start, end in zip(starts, ends, strict=True)
    )


def shaped(words: str, face: Face, points: float) -> tuple[ShapedStr | str, float]:
    """Words as reportlab writes their shapes, and how wide they are in points."""
    plain = [0.0, (ABag(fontName=face, fontSize=points), words)]
    _number_shapes(font_of(face))
    shapes = shapeFragWord(plain, features_of(face))[1][1]
    return shapes, points * sum(width for _, width in clusters(words, face))


def features_of(face: Face) -> dict[str, bool]:
    """Which of a font's rules are left out: none that a script needs."""
    return _FEATURES if face in SHAPED else {**_FEATURES, **_PLAIN}


def _number_shapes(font: TTFont) -> None:
    """Give each shape that is no letter by itself a private character.

    Otherwise reportlab numbers them as they come, and the same page would give other bytes after
    another one.
    """
    face, measures = font.face, font.hbFont()
    if face.charToGlyph.get(_OWN) == 0 or face.numGlyphs > _OWN_ROOM:
        return
    for glyph in range(face.numGlyphs):
        face.charToGlyph[_OWN + glyph] = glyph
        if face.glyphToChar.setdefault(glyph, [_OWN + glyph]) == [_OWN + glyph]:
            advance = measures.get_glyph_h_advance(glyph)
            face.charWidths[_OWN + glyph] = font.pdfScale(advance)
