"""Fonts come with their licences, small enough to be carried along, and may be embedded."""

from pathlib import Path
from typing import get_args

import pytest
from PIL import ImageFont
from reportlab.pdfbase.ttfonts import TTFontFile

from dyeshade.paper.faces import Face, font_file
from dyeshade.resources import resource_path

FOLDER = resource_path("fonts/README.md").parent
OURS = sorted(FOLDER.glob("*.ttf"))


@pytest.mark.parametrize("font", OURS, ids=lambda font: font.stem)
def test_a_font_has_its_licence_beside_it(font: Path):
    licence = font.with_suffix(".LICENCE.txt").read_text(encoding="utf-8")
    assert "copyright" in licence.casefold() or "©" in licence
    told = (FOLDER / "README.md").read_text(encoding="utf-8")
    assert f"`{font.name}`" in told
    # The SIL Open Font License keeps a reserved name for the unchanged font.
    family = ImageFont.truetype(str(font), 10).getname()[0]
    assert "Reserved Font Name 'Source'" not in licence or "Source" not in family


@pytest.mark.parametrize("face", get_args(Face))
def test_a_font_may_be_embedded(face):
    # OpenType, OS/2 fsType: bit 1 forbids it, bit 9 allows bitmaps only.
    table = TTFontFile(str(font_file(face))).get_table("OS/2")
    permission = int.from_bytes(table[8:10], "big")
    assert not permission & 0x0202


def test_fonts_are_used_and_small():
    used = {font_file(face).name for face in get_args(Face)}
    assert {font.name for font in OURS} <= used
    assert sum(font.stat().st_size for font in OURS) < 5_000_000
