"""The fonts that pages are written in: where their files are, and which scripts each is for."""

from __future__ import annotations

from pathlib import Path
from typing import Final, Literal

import reportlab
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from dyeshade.resources import resource_path

Face = Literal[
    "plain",
    "bold",
    "serif",
    "sans",
    "more",
    "thai",
    "lao",
    "hangul",
    "east",
    "devanagari",
    "bengali",
    "gurmukhi",
    "gujarati",
    "oriya",
    "tamil",
    "telugu",
    "kannada",
    "malayalam",
    "sinhala",
    "myanmar",
    "khmer",
    "tibetan",
    "ethiopic",
    "javanese",
    "balinese",
    "cherokee",
]

SHAPED: Final[tuple[Face, ...]] = (
    "devanagari",
    "bengali",
    "gurmukhi",
    "gujarati",
    "oriya",
    "tamil",
    "telugu",
    "kannada",
    "malayalam",
    "sinhala",
    "myanmar",
    "khmer",
    "tibetan",
    "javanese",
    "balinese",
    "thai",
    "lao",
)
"""Faces of scripts whose letters change, join or change places beside each other."""

FALLBACKS: Final[tuple[Face, ...]] = (
    *SHAPED,
    "more",
    "ethiopic",
    "cherokee",
    "hangul",
    "east",
)
"""Faces that are asked for what the Latin, Greek and Cyrillic ones have not, in their order."""

# Bitstream Vera comes with reportlab, and its licence lets it be embedded.
_WITH_REPORTLAB: Final = {"plain": "Vera.ttf", "bold": "VeraBd.ttf"}

# Ours are told of in resources/fonts/README.md.
_OURS: Final = {
    "serif": "dyeroom-serif.ttf",
    "sans": "dyeroom-sans.ttf",
    "more": "dejavu-more.ttf",
    "east": "droid-east-asia.ttf",
}


def font_file(face: Face) -> Path:
    """The file of a font that pages are written in."""
    if face in _WITH_REPORTLAB:
        return Path(reportlab.__file__).parent / "fonts" / _WITH_REPORTLAB[face]
    return resource_path(f"fonts/{_OURS.get(face, f'noto-{face}.ttf')}")


def font_of(face: Face) -> TTFont:
    """A face's font, made known to reportlab."""
    if face not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont(face, str(font_file(face))))
    return pdfmetrics.getFont(face)
