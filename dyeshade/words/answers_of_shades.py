"""Answers about many shades: pH series, the nearest shade, how well they repeat."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from dyeshade.cie.lab import lab_to_lch
from dyeshade.insight.ph_curve import LEAST_BATHS
from dyeshade.insight.ph_series import PhSeries
from dyeshade.insight.ph_wanted import nearest_point
from dyeshade.insight.repeatability import Repeatability
from dyeshade.library.find import FoundShade
from dyeshade.words.answered import Answered, BathAt, Line, PhAnswered
from dyeshade.words.change_words import size_words
from dyeshade.words.dye_words import WHICH_PH, listed, ph_words
from dyeshade.words.figure_words import DELTA_E
from dyeshade.words.nearest_figure import (
    chance_words,
    made_words,
    nearest_figure,
    nearest_sentence,
)
from dyeshade.words.ph_figure import ph_figure, ph_sentences
from dyeshade.words.ph_series_lines import nearest_ph_words, series_words
from dyeshade.words.repeat_figure import repeat_figure
from dyeshade.words.repeat_lines import claim_words, part_words
from dyeshade.words.sentences import counted
from dyeshade.words.shade_lines import dyestuff_names, mordant_words, ratio_words
from dyeshade.words.shades import sure_to
from dyeshade.work.ask_nearest import NearAnswer
from dyeshade.work.ask_ph_series import BesideAt, SeriesAnswer, beside
from dyeshade.work.wanted_colour import WantedColour

_TOLD = 13


def chosen_series(series: Sequence[PhSeries], chosen: str, beside_it: str) -> tuple[int, ...]:
    """Which series are shown, by `series_words`: the first where none is chosen."""
    names = [series_words(one) for one in series]
    first = names.index(chosen) if chosen in names else 0
    second = names.index(beside_it) if beside_it in names else first
    return (first,) if second == first else (first, second)


def ph_answer(
    series: Sequence[PhSeries], shown: Sequence[SeriesAnswer], wanted: WantedColour | None = None
) -> PhAnswered:
    """A pH series, alone or with another beside it.

    Parameters
    ----------
    series : sequence of PhSeries
        What there is to choose from.
    shown : sequence of SeriesAnswer
        One of them, or two.
    wanted : WantedColour, optional
    """
    names = [series_words(one) for one in series]
    told: list[str] = []
    apart: tuple[BesideAt, ...] = ()
    near = [one for one in shown if one.wanted is not None]
    meant = min(near, key=_away, default=shown[0])
    if len(shown) > 1:
        apart = beside(shown[0], shown[1])
        told.append(_beside_words(apart))
    for answer in shown:
        said = [words for words in (*ph_sentences(answer), _few_words(answer)) if words]
        if len(shown) > 1 and answer is meant and answer.wanted is not None:
            # It is the answer, and stands above.
            del said[0]
        # One series after the other, each in a paragraph; a single one sentence by sentence.
        told += said if len(shown) == 1 else [f"{series_words(answer.series)}: {' '.join(said)}"]
    if wanted is not None and meant.wanted is not None:
        others = [one for one in series if all(one is not answer.series for answer in shown)]
        told += _nearer_words(others, wanted, meant.wanted.difference.value)
    heads: tuple[str, ...]
    if apart:
        lines = [Line((f"{one.ph:.2f}", size_words(one.difference))) for one in apart]
        heads = ("pH", "ΔE00 between them (95 %)")
    else:
        lines, heads = _curve_lines(shown[0]), _CURVE_HEADS
    choices = tuple(enumerate(names))
    points = [point for answer in shown for point in answer.series.points]
    readings = tuple(point.taken.reading.id for point in sorted(points, key=lambda one: one.ph))
    if len(shown) > 1 and meant.wanted is not None:
        told.insert(0, f"{nearest_ph_words(meant.wanted)} That is {_which_words(meant, shown)}.")
    return PhAnswered(
        tuple(told),
        ph_figure(shown, wanted),
        heads,
        tuple(lines),
        choices,
        readings,
        None if meant.wanted is None else _bath_at(meant.series, meant.wanted.ph),
        None if meant.next is None else _bath_at(meant.series, meant.next.ph),
    )


def _nearer_words(others: Sequence[PhSeries], wanted: WantedColour, away: float) -> list[str]:
    """That a shade of another series lies nearer, where one does."""
    found = nearest_point(others, wanted.lab)
    if found is None or found[2] >= away:
        return []
    one, point, nearer = found
    ph = ph_words(round(point.ph, 1))
    said = f"Another series comes nearer: {series_words(one)}, at pH {ph}"
    return [f"{said}, {DELTA_E} {nearer:.1f} away as it was read."]


def _which_words(answer: SeriesAnswer, shown: Sequence[SeriesAnswer]) -> str:
    """A series among two: by its fibre, where that tells them apart."""
    fibres = {one.series.conditions.fibre for one in shown}
    fibre = answer.series.conditions.fibre
    return f"on {fibre}" if fibre and len(fibres) == len(shown) else series_words(answer.series)


_IN_THE_BATH = ("bath_start", "bath_end")


def _bath_at(series: PhSeries, ph: float) -> BathAt | None:
    """The bath of a series that is to be dyed at a pH."""
    if series.which not in _IN_THE_BATH:
        return None
    point = min(series.points, key=lambda one: abs(one.ph - ph))
    return BathAt(point.taken.reading.id, round(ph, 2))


def _away(answer: SeriesAnswer) -> float:
    assert answer.wanted is not None
    return answer.wanted.difference.value


_CURVE_HEADS = ("pH", "L*", "a*", "b*", "C*ab", "hab", "Sure to")


def _curve_lines(answer: SeriesAnswer) -> list[Line]:
    count = len(answer.values)
    told = min(_TOLD, count)
    lines = []
    for k in range(told):
        value = answer.values[round(k * (count - 1) / max(told - 1, 1))]
        _, chroma, hue = lab_to_lch(value.lab)
        numbers = tuple(f"{one:.1f}" for one in (*value.lab, chroma, hue))
        lines.append(Line((f"{value.ph:.2f}", *numbers, sure_to(value.u95).partition(":")[0])))
    return lines


def _few_words(answer: SeriesAnswer) -> str:
    """What to do where there is no curve yet."""
    if answer.curve is not None:
        return ""
    had = sorted({point.ph for point in answer.series.points})
    read = listed([ph_words(one) for one in had])
    which = WHICH_PH[answer.series.which]
    return (
        f"No curve yet: it takes {LEAST_BATHS} pH {which} at least, and here "
        f"{'is' if len(had) == 1 else 'are'} {read}. Dye one more piece at another pH with "
        "everything else as before."
    )


def _beside_words(apart: Sequence[BesideAt]) -> str:
    if not apart:
        return "These two share no stretch of measured pH, so they can't be set beside each other."
    far = max(apart, key=lambda one: one.difference.value)
    near = min(apart, key=lambda one: one.difference.value)
    return (
        f"They differ most at pH {far.ph:.1f}, by {DELTA_E} {size_words(far.difference)}, and "
        f"least at pH {near.ph:.1f}, by {DELTA_E} {size_words(near.difference)}."
    )


def nearest_answer(wanted: WantedColour, found: Sequence[NearAnswer], tolerance: float) -> Answered:
    """The shades nearest to a colour."""
    sentence = nearest_sentence(wanted, found, tolerance)
    if not found:
        return Answered((sentence,))
    lines = tuple(
        Line(
            (
                one.shade.history.piece.code,
                size_words(one.near.difference),
                chance_words(one, tolerance),
                made_words(one),
            ),
            one.shade.reading.id,
        )
        for one in found
    )
    heads = ("Piece", "ΔE00 (95 %)", "Chance", "Made with")
    return Answered((sentence,), nearest_figure(wanted, found, tolerance), heads, lines)


def repeat_answer(found: Repeatability, shades: Mapping[int, FoundShade]) -> Answered:
    """How well the dyer repeats."""
    told = [claim_words(found)]
    for name, part, limit in (
        ("Measuring (repeatability)", found.measuring, found.limit_measuring),
        ("Between pieces of one bath", found.between_pieces, found.limit_pieces),
        ("Between baths", found.between_baths, found.limit_baths),
    ):
        told.append(f"{name}: {part_words(part, limit)}.")
    lines = []
    for place, group in enumerate(found.groups, 1):
        conditions = group.conditions
        made = [dyestuff_names(conditions), ratio_words(conditions), conditions.fibre]
        cells = (
            str(place),
            ", ".join(filter(None, [*made, mordant_words(conditions)])),
            counted(group.baths, "bath", "baths"),
            counted(group.pieces, "piece", "pieces"),
            counted(len(group.reading_ids), "reading", "readings"),
        )
        lines.append(Line(cells))
    heads = ("Set", "Equal conditions", "Baths", "Pieces", "Readings")
    return Answered(tuple(told), repeat_figure(found, shades), heads, tuple(lines))
