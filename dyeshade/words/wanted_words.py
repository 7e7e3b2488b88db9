"""A wanted colour in words: what it is, whose, and how sure."""

from __future__ import annotations

from dyeshade.words.shades import lab_words, sure_to
from dyeshade.work.pick_shade import SPOT, PickedShade
from dyeshade.work.wanted_colour import WantedColour


def picked_words(picked: PickedShade) -> str:
    """Where a shade was picked, as in "A in skeins.jpg"."""
    if picked.sample == SPOT:
        return f"a spot in {picked.photo}"
    return f"{picked.sample} in {picked.photo}"


def wanted_words(wanted: WantedColour) -> str:
    """As in "L* 52.3, a* 10.2, b* 33.1, of A in skeins.jpg, sure to about 4"."""
    lightness, a, b = (float(value) for value in wanted.lab)
    told = lab_words((lightness, a, b))
    if wanted.picked is not None:
        told += f", of {picked_words(wanted.picked)}"
    elif wanted.piece:
        told += f", of piece {wanted.piece}"
    if wanted.measured is not None:
        told += f", sure to {sure_to(wanted.measured.reading.u95).partition(':')[0]}"
    return told


def how_sure_words(picked: PickedShade) -> str:
    """How sure a picked shade is, and beside what it is surer."""
    told = f"Sure to {sure_to(picked.shade.u95)}."
    if picked.camera and picked.serial:
        return f"{told} Beside readings by this camera on this sheet it is surer."
    return f"{told} What no sheet or camera tells cannot be left out beside other readings."
