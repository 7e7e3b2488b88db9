"""The colours that a reference sheet with colours asks its printer for."""

from __future__ import annotations

from typing import Final

from dyeshade.cie.lab import lch_to_lab
from dyeshade.cie.rgb_spaces import lab_to_srgb

# L*, C*ab and hab in degrees: full colours all round the circle, each at a lightness where inks
# reach far, then pale and deep ones between them. All lie inside sRGB. What a printer makes of them
# is not known and need not be: they only have to be many, far apart, and to stay as they are.
_FULL: Final = (
    (55, 60, 0),
    (52, 70, 30),
    (66, 66, 60),
    (82, 74, 90),
    (74, 64, 120),
    (60, 50, 150),
    (62, 38, 180),
    (60, 32, 210),
    (57, 33, 240),
    (45, 40, 270),
    (40, 54, 300),
    (48, 56, 330),
)
_PALE: Final = (
    (81, 22, 15),
    (87, 28, 75),
    (84, 24, 135),
    (82, 20, 195),
    (78, 22, 255),
    (78, 24, 315),
)
_DEEP: Final = (
    (34, 32, 45),
    (42, 32, 105),
    (34, 22, 165),
    (32, 18, 225),
    (28, 28, 285),
    (28, 28, 345),
)


def _in_page_order() -> tuple[tuple[int, int, int], ...]:
    by_hue = sorted((*_FULL, *_PALE, *_DEEP), key=lambda lch: lch[2])
    # Seven steps around the circle from one place to the next: whatever part of the page is hidden
    # or in shade, colours of every hue remain elsewhere.
    stepped = [by_hue[(7 * place) % len(by_hue)] for place in range(len(by_hue))]
    return tuple(lab_to_srgb(lch_to_lab(lch))[0] for lch in stepped)


PATCH_COLOURS: Final = _in_page_order()
"""sRGB 0..255 of "colour-1", "colour-2" and so on."""
