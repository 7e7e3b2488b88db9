"""Nearest shades as a figure, and as the cells of a table."""

from __future__ import annotations

from collections.abc import Sequence

from dyeshade.cie.rgb_spaces import lab_to_srgb
from dyeshade.paper.plot import Axis, Figure, Level, Mark, Plot
from dyeshade.paper.plot_axes import number_axis
from dyeshade.words.change_words import size_words
from dyeshade.words.figure_words import DELTA_E, reading_words, rgb_of
from dyeshade.words.sentences import percent
from dyeshade.words.shade_lines import acted_words, dyestuff_names, mordant_words
from dyeshade.words.wanted_words import wanted_words
from dyeshade.work.ask_nearest import NearAnswer
from dyeshade.work.wanted_colour import WantedColour


def made_words(near: NearAnswer) -> str:
    """How a shade was made, as in "weld, wool, alum 12 %, pH 8.5 of the bath at end"."""
    conditions = near.shade.conditions
    acted = acted_words(conditions)
    told = [dyestuff_names(conditions), conditions.fibre, mordant_words(conditions)]
    return ", ".join(filter(None, [*told, f"pH {acted}" if acted else ""]))


def chance_words(near: NearAnswer, tolerance: float) -> str:
    """The chance that a shade is near enough, as in "82 % within ΔE00 2"."""
    return f"{percent(near.near.chance)} within {DELTA_E} {tolerance:g}"


def nearest_sentence(wanted: WantedColour, found: Sequence[NearAnswer], tolerance: float) -> str:
    """What the nearest shade is, in a sentence."""
    begin = f"Wanted: {wanted_words(wanted)}."
    if not found:
        return f"{begin} No shade of the library can be set beside it; ask with fewer conditions."
    best = found[0]
    code = best.shade.history.piece.code
    return (
        f"{begin} {code} comes nearest: {DELTA_E} {size_words(best.near.difference)} away, "
        f"{chance_words(best, tolerance)}."
    )


def nearest_figure(wanted: WantedColour, found: Sequence[NearAnswer], tolerance: float) -> Figure:
    """Differences from the wanted colour, the nearest first.

    Parameters
    ----------
    wanted : WantedColour
    found : sequence of NearAnswer
        At least one.
    tolerance : float
        CIEDE2000.
    """
    srgb, _ = lab_to_srgb(wanted.lab)
    marks = [Mark(0.0, 0.0, "The wanted colour", srgb, chosen=True)]
    ticks = [(0.0, "wanted")]
    for place, one in enumerate(found, 1):
        code, size = one.shade.history.piece.code, one.near.difference
        told = (
            f"{reading_words(code, one.shade.reading)}. {DELTA_E} {size_words(size)}, "
            f"{chance_words(one, tolerance)}. {made_words(one)}"
        )
        ends = (size.low, size.high)
        colour = rgb_of(one.shade.reading.srgb)
        marks.append(
            Mark(float(place), size.value, told, colour, one.shade.reading.id, y_ends=ends)
        )
        ticks.append((float(place), code))
    tops = [mark.y_ends[1] for mark in marks if mark.y_ends]
    across = Axis("", -0.6, len(found) + 0.6, tuple(ticks))
    height = number_axis(
        f"{DELTA_E} from the wanted colour, with its 95 % interval", [0.0, tolerance, *tops], 2.0
    )
    levels = (Level(0.0, dashed=False), Level(tolerance, f"{DELTA_E} {tolerance:g}"))
    return Figure(
        "Nearest shades",
        (nearest_sentence(wanted, found, tolerance),),
        ((Plot("", across, height, levels=levels, marks=tuple(marks)),),),
        (1.0,),
    )
