"""pH series as lines for people."""

from __future__ import annotations

from collections.abc import Sequence

from dyeshade.cie.lab import lab_to_lch
from dyeshade.insight.ph_curve import LEAST_BATHS
from dyeshade.insight.ph_series import PhSeries
from dyeshade.insight.ph_wanted import NextBath, WantedPh
from dyeshade.words.change_words import size_words
from dyeshade.words.dye_words import WHICH_PH, exhaust_words, ph_words
from dyeshade.words.figure_words import DELTA_E
from dyeshade.words.sentences import counted
from dyeshade.words.shade_lines import dyestuff_names, mordant_words, ratio_words
from dyeshade.words.shades import hex_colour, sure_to
from dyeshade.work.ask_ph_series import BesideAt, SeriesAnswer

_HEAD = "      pH     L*     a*     b*   C*ab    hab  sRGB      sure to"


def series_words(series: PhSeries) -> str:
    """What a series is of, as in "weld, 100 % wof, on wool, alum 12 %, first bath, wet"."""
    conditions = series.conditions
    last = conditions.last_bath
    told = [
        dyestuff_names(conditions),
        ratio_words(conditions),
        f"on {conditions.fibre}" if conditions.fibre else "",
        mordant_words(conditions),
        exhaust_words(last.exhaust_number) if last and last.exhaust_number else "",
        *(f"{kind} {what}".strip() for kind, what in conditions.afters),
        "wet" if series.state == "wet" else "",
    ]
    return ", ".join(filter(None, told))


def ph_series_lines(
    answers: Sequence[SeriesAnswer], beside: Sequence[BesideAt] = (), steps: int = 9
) -> list[str]:
    """Series with their curves at a few pH, the wanted shade, and the next bath.

    Parameters
    ----------
    answers : sequence of SeriesAnswer
    beside : sequence of BesideAt
        The first two of them beside each other.
    steps : int
        How many pH of each curve are told.
    """
    lines: list[str] = []
    for answer in answers:
        series = answer.series
        baths = counted(series.baths, "bath", "baths")
        readings = counted(len(series.points), "reading", "readings")
        lines.append(f"{series_words(series)}: {baths}, {readings}, pH {WHICH_PH[series.which]}")
        if answer.curve is None:
            least = counted(LEAST_BATHS, "pH", "pH")
            lines += [f"  No curve yet: that takes baths at {least} at least.", ""]
            continue
        lines.append(_HEAD)
        count = len(answer.values)
        for k in range(min(steps, count)):
            value = answer.values[round(k * (count - 1) / max(min(steps, count) - 1, 1))]
            lightness, a, b = value.lab
            _, chroma, hue = lab_to_lch(value.lab)
            lines.append(
                f"   {value.ph:5.2f} {lightness:6.1f} {a:z6.1f} {b:z6.1f} {chroma:6.1f} "
                f"{hue:6.1f}  {hex_colour(value.srgb)}{' ' if value.in_gamut else '*'}  "
                f"{sure_to(value.u95).split(':')[0]}"
            )
        if answer.wanted is not None:
            lines.append(f"  {nearest_ph_words(answer.wanted)}")
        if answer.next is not None:
            lines.append(f"  {next_words(answer.next, answer.wanted is not None)}")
        lines.append("")
    if beside:
        lines.append("The first two beside each other, in CIEDE2000:")
        lines += [f"   {one.ph:5.2f}  {size_words(one.difference)}" for one in beside]
    return lines


def nearest_ph_words(wanted: WantedPh) -> str:
    """Which pH comes nearest to a wanted shade, in a sentence."""
    told = (
        f"The wanted shade comes nearest at pH {ph_words(round(wanted.ph, 1))} "
        f"({wanted.low:.1f} to {wanted.high:.1f}), {DELTA_E} {size_words(wanted.difference)} away."
    )
    if wanted.at_end:
        told += " That is the end of what was measured: a nearer shade may lie beyond it."
    return told


def next_words(bath: NextBath, for_wanted: bool) -> str:
    """Which bath to run next, in a sentence."""
    aim = "about the wanted shade" if for_wanted else "along the series"
    told = (
        f"Most would be learnt {aim} from a bath at pH {ph_words(bath.ph)}: the curve is sure to "
        f"{DELTA_E} {1.96 * bath.spread_now:.1f} now, and would be to "
        f"{1.96 * bath.spread_then:.1f} then."
    )
    return f"{told} That pH is beyond what was measured." if bath.beyond else told
