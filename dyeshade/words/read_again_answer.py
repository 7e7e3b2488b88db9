"""What reading photos again has changed, as an answer to be shown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dyeshade.paper.plot import Curve, Figure, Mark, Plot
from dyeshade.paper.plot_axes import number_axis
from dyeshade.words.answered import Answered, Line
from dyeshade.words.figure_words import DELTA_E, rgb_of
from dyeshade.words.read_again_words import anew_line
from dyeshade.words.sentences import counted
from dyeshade.words.shades import lab_words, sure_to
from dyeshade.work.read_again import NotRead, PhotoToRead, ReadAnew

HEADS = ("Piece", "Photo and sample", "Was", "Is now", "Apart (ΔE00)", "Stated before")


@dataclass(frozen=True)
class ReadAgainAnswered(Answered):
    """The answer, and how many photos can be read again."""

    waits: int = 0


def read_again_answer(
    anew: Sequence[ReadAnew], waiting: Sequence[PhotoToRead | NotRead]
) -> ReadAgainAnswered:
    """What was read anew, the largest change first, and what waits for it.

    Parameters
    ----------
    anew : sequence of ReadAnew
    waiting : sequence of PhotoToRead or NotRead
        Photos that today's way of measuring has not read yet.
    """
    waits = sum(isinstance(one, PhotoToRead) for one in waiting)
    told = [waiting_words(waits)]
    lost = [one for one in waiting if isinstance(one, NotRead)]
    if lost:
        photos = counted(len(lost), "photo that waits", "photos that wait")
        told.append(f"{photos} can't be read any more: {', '.join(one.name for one in lost)}.")
    if not anew:
        return ReadAgainAnswered((*told, "Nothing was read anew before."), waits=waits)
    ordered = sorted(anew, key=lambda one: -one.delta_e)
    beyond = sum(one.beyond for one in anew)
    samples = counted(len(anew), "sample was", "samples were")
    told.append(
        f"In all, {samples} read anew; both values are kept, and the newer is shown. "
        f"Further apart than was stated: {beyond}."
    )
    lines = tuple(_line(one) for one in ordered)
    return ReadAgainAnswered(tuple(told), _figure(ordered), HEADS, lines, waits=waits)


def waiting_words(count: int) -> str:
    """How many photos wait to be read again."""
    if not count:
        return (
            "Not now: all were read by the newest way of measuring, and with the calibrations that "
            "there are."
        )
    return f"Yes: {counted(count, 'photo waits', 'photos wait')} to be read again."


def _line(one: ReadAnew) -> Line:
    cells = (
        one.piece,
        f"{one.photo}, {one.new.sample}",
        lab_words(one.old.lab),
        lab_words(one.new.lab),
        f"{one.delta_e:.1f}",
        f"{sure_to(one.old.u95).partition(':')[0]}{': less than that' if one.beyond else ''}",
    )
    return Line(cells, one.new.id)


def _figure(anew: Sequence[ReadAnew]) -> Figure:
    """How far each sample has moved, over how sure its older value was said to be."""
    marks = tuple(
        Mark(
            one.old.u95,
            one.delta_e,
            anew_line(one),
            rgb_of(one.new.srgb),
            one.new.id,
            chosen=one.beyond,
        )
        for one in anew
    )
    across = number_axis("sure to, as was stated before", [0.0, *(m.x for m in marks)], 2.0, 0.0)
    height = number_axis(
        f"{DELTA_E} between both values; framed: more than was stated",
        [0.0, *(m.y for m in marks)],
        2.0,
        0.0,
    )
    most = min(across.high, height.high)
    stated = Curve(((0.0, 0.0), (most, most)), dashed=True)
    plot = Plot("", across, height, curves=(stated,), marks=marks)
    return Figure("Photos read again", (), ((plot,),), (1.0,))
