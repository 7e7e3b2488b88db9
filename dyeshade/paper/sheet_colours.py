"""The printed colours of a sheet with colours: lasting, but of unknown value.

They are chosen in CIELAB and spread over hue, lightness and chroma, about as far as office printers
reach on matte paper (common practice, no source). What a printer makes of them is not known; that
each stays the same is what they are for.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from dyeshade.cie.lab import lch_to_lab
from dyeshade.cie.rgb_spaces import lab_to_srgb

# In an order that gives every patch neighbours of other colours, and puts no lightness, redness or
# yellowness more on one side of the page than on the other, on each kind of sheet.
COLOURS_LCH: Final = (
    (62.0, 44.0, 165.0),
    (56.0, 28.0, 120.0),
    (36.0, 41.0, 90.0),
    (40.0, 26.0, 180.0),
    (86.0, 18.0, 60.0),
    (84.0, 21.0, 330.0),
    (62.0, 58.0, 345.0),
    (42.0, 28.0, 315.0),
    (36.0, 35.0, 270.0),
    (64.0, 38.0, 255.0),
    (86.0, 16.0, 240.0),
    (82.0, 23.0, 15.0),
    (64.0, 58.0, 75.0),
    (84.0, 28.0, 150.0),
    (44.0, 28.0, 45.0),
    (40.0, 46.0, 0.0),
    (44.0, 16.0, 225.0),
    (60.0, 17.0, 210.0),
    (82.0, 42.0, 195.0),
    (78.0, 50.0, 105.0),
    (78.0, 25.0, 285.0),
    (56.0, 28.0, 300.0),
    (60.0, 28.0, 30.0),
    (42.0, 28.0, 135.0),
)
"""L*, C*ab and hab in degrees, in the order of `Layout.colours`."""


@lru_cache(maxsize=1)
def sheet_colours() -> tuple[tuple[float, float, float], ...]:
    """DeviceRGB values 0..1 of the colours, in the order of `Layout.colours`."""
    rgbs = []
    for lch in COLOURS_LCH:
        rgb, inside = lab_to_srgb(lch_to_lab(lch))
        assert inside, f"no screen or printer shows {lch}"
        rgbs.append((rgb[0] / 255.0, rgb[1] / 255.0, rgb[2] / 255.0))
    return tuple(rgbs)
