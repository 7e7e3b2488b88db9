"""The colours that a reference sheet with colours asks its printer for.

What a printer makes of them is not known and need not be: they only have to be many, far apart, and
to stay as they are.
"""

from __future__ import annotations

from typing import Final

from dyeshade.cie.lab import lch_to_lab
from dyeshade.cie.rgb_spaces import lab_to_srgb

# Twelve full colours all round the circle, each at a lightness where inks reach far, and six pale
# and six deep ones between them; all lie inside sRGB. They stand in an order found by trial: on
# every kind of sheet, neighbours are far apart, and neither lightness nor red to green nor yellow
# to blue goes with the place on the page. So whatever part of it is hidden or in shade, colours of
# every sort remain elsewhere.
_IN_PAGE_ORDER: Final = (
    (78, 24, 315),
    (42, 32, 105),
    (48, 56, 330),
    (45, 40, 270),
    (32, 18, 225),
    (82, 20, 195),
    (87, 28, 75),
    (66, 66, 60),
    (84, 24, 135),
    (57, 33, 240),
    (34, 22, 165),
    (34, 32, 45),
    (62, 38, 180),
    (82, 74, 90),
    (28, 28, 285),
    (55, 60, 0),
    (52, 70, 30),
    (81, 22, 15),
    (74, 64, 120),
    (60, 50, 150),
    (78, 22, 255),
    (60, 32, 210),
    (28, 28, 345),
    (40, 54, 300),
)
"""L*, C*ab and hab in degrees."""

PATCH_COLOURS: Final = tuple(lab_to_srgb(lch_to_lab(lch))[0] for lch in _IN_PAGE_ORDER)
"""sRGB 0..255 of "colour-1", "colour-2" and so on."""
