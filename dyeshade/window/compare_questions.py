"""The questions of the place where shades are compared, as they are asked in the library's thread.

What answers them is imported when it is first asked for: it takes a second, and the window's start
need not wait for it.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from dyeshade.library.find import ShadeQuery
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Reading
from dyeshade.words.answered import Answered

if TYPE_CHECKING:
    from dyeshade.work.wanted_colour import Wanted


def drift(library: Library, piece: str, base_id: int | None, wet_too: bool) -> Answered:
    """How a piece has moved."""
    from dyeshade.insight.drift import drift_of
    from dyeshade.words.answers_of_pieces import drift_answer

    return drift_answer(drift_of(library, piece, base_id, wet_too))


def check(library: Library, piece: str, learning: int) -> Answered:
    """Whether the check standard has moved."""
    from dyeshade.insight.check_standard import check_standard
    from dyeshade.words.answers_of_pieces import check_answer

    return check_answer(check_standard(library, piece, learning))


def fastness(
    library: Library, piece: str, kind: str | None, named: Sequence[tuple[int, int]]
) -> Answered:
    """What home tests of a piece came to."""
    from dyeshade.words.fastness_answer import fastness_answer
    from dyeshade.work.ask_fastness import FastnessAsked, ask_fastness

    return fastness_answer(piece, ask_fastness(library, piece, FastnessAsked(kind, named)))


def ph(
    library: Library,
    query: ShadeQuery,
    which: str | None,
    colour: Wanted,
    chosen: str,
    beside: str,
) -> Answered:
    """The shown pH series, and the pH of a wanted colour where one is given."""
    from dyeshade.words.answers_of_shades import chosen_series, ph_answer
    from dyeshade.work.ask_ph_series import most_series
    from dyeshade.work.kept_series import kept_answer
    from dyeshade.work.wanted_colour import wanted_colour

    wanted = None if colour == "" else wanted_colour(library, colour)
    series = most_series(library, query, which)
    places = chosen_series(series, chosen, beside)
    shown = [kept_answer(library, series[place], wanted) for place in places]
    return ph_answer(series, shown, wanted)


def nearest(library: Library, colour: Wanted, query: ShadeQuery, tolerance: float) -> Answered:
    """The shades nearest to a colour."""
    from dyeshade.words.answers_of_shades import nearest_answer
    from dyeshade.work.ask_nearest import ask_nearest
    from dyeshade.work.wanted_colour import wanted_colour

    wanted = wanted_colour(library, colour)
    asked = None if query == ShadeQuery() else query
    return nearest_answer(wanted, ask_nearest(library, wanted, asked, tolerance), tolerance)


def repeats(library: Library, query: ShadeQuery) -> Answered:
    """How well shades repeat."""
    from dyeshade.insight.repeatability import find_repeatability
    from dyeshade.library.find import found_shades
    from dyeshade.words.answers_of_shades import repeat_answer

    found = find_repeatability(library, query)
    ids = sorted({one for group in found.groups for one in group.reading_ids})
    shades = found_shades(library, library.among(Reading, "id", ids))
    return repeat_answer(found, {one.reading.id: one for one in shades})


def commissions(library: Library, state: str | None, today: date) -> Answered:
    """Commissions, all or those of a state."""
    from dyeshade.words.commission_answer import commissions_answer
    from dyeshade.work.commissions import commissions as all_of_them
    from dyeshade.work.commissions import state_of

    kept = all_of_them(library)
    asked = [one for one in kept if state is None or state_of(one) == state]
    return commissions_answer(asked, today, len(kept))


def read_anew(library: Library) -> Answered:
    """What reading photos again has changed, and what there is to be read."""
    from dyeshade.words.read_again_answer import read_again_answer
    from dyeshade.work.read_again import all_read_anew, photos_to_read

    return read_again_answer(all_read_anew(library), photos_to_read(library))
