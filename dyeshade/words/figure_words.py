"""What all figures of questions to the library have in common: a reading as a mark, said aloud."""

from __future__ import annotations

from dyeshade.library.shade_records import Reading
from dyeshade.paper.plot import Rgb
from dyeshade.words.dye_words import STATES, day_words
from dyeshade.words.shades import lab_words, sure_to

DELTA_E = "ΔE00"


def rgb_of(srgb: str) -> Rgb:
    """A colour as "#d6c84a" in three levels."""
    red, green, blue = bytes.fromhex(srgb.removeprefix("#"))
    return red, green, blue


def reading_words(piece: str, reading: Reading) -> str:
    """A reading as in "W-014, 12 March 2026, dry: L* 52.3, a* 10.2, b* 33.1, sure to about 2"."""
    sure = sure_to(reading.u95).partition(":")[0]
    when = f"{day_words(reading.read)}, {STATES[reading.state]}"
    return f"{piece}, {when}: {lab_words(reading.lab)}, sure to {sure}"


def short_reading_words(reading: Reading) -> str:
    """A reading among those of its piece, as in "12 March 2026, dry, sample A1"."""
    return f"{day_words(reading.read)}, {STATES[reading.state]}, sample {reading.sample}"


def signed(value: float) -> str:
    """A number in a plot, with the minus sign that its axes have."""
    return f"{value:z.1f}".replace("-", "\u2212")
