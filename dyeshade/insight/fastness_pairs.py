"""Which readings of a piece make a home fastness test, as its treatments and states tell."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from dyeshade.insight.difference import Measured, measured
from dyeshade.insight.fastness import Pair
from dyeshade.library.history import History, Step, histories
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import readings_of
from dyeshade.library.trials import treated_apart

NEUTRAL_PH = 7.0


def pairs_of_piece(library: Library, piece: str) -> Mapping[str, list[Pair]]:
    """Pairs of readings by the kind of test that they make; kinds without one are left out.

    Light: in each photo that shows the piece exposed (state "after_light") and covered (any other
    dry state), those two; where there is none, a whole piece before and after. Wash and dips: the
    last dry reading before the treatment and the first after it; a dip is acid or alkaline by its
    pH. Rubbing is no treatment: its pair is named by hand. Readings that belong to a test that was
    set up are left out (`dyeshade.insight.fastness_kept`).

    Raises
    ------
    DyeshadeError
        ``piece_unknown``
    """
    found = find_piece(library, piece)
    halves = treated_apart(library, found.id)
    readings = [
        one for one in readings_of(library, found.id) if one.state != "wet" and one.id not in halves
    ]
    history = histories(library, [found.id])[found.id]
    return pairs_in(history, measured(library, readings))


def pairs_in(history: History, readings: Sequence[Measured]) -> dict[str, list[Pair]]:
    """The same of readings at hand, dry and in the order of time."""
    pairs: dict[str, list[Pair]] = {}
    by_photo: dict[int, list[Measured]] = {}
    for one in readings:
        if one.reading.photo_id is not None:
            by_photo.setdefault(one.reading.photo_id, []).append(one)
    for together in by_photo.values():
        exposed = [one for one in together if one.reading.state == "after_light"]
        covered = [one for one in together if one.reading.state != "after_light"]
        if exposed and covered:
            pairs.setdefault("light", []).append(Pair(covered[0], exposed[0]))
    if "light" not in pairs:
        pairs["light"] = _whole_in_light(history, readings)
        if not pairs["light"]:
            del pairs["light"]
    # An exposed half tells of light, and of nothing else.
    whole = [one for one in readings if one.reading.state != "after_light"]
    for earlier, later in pairwise(whole):
        known = {step.treatment.id for step in history.before(earlier.reading)}
        new = [s for s in history.before(later.reading) if s.treatment.id not in known]
        # Two treatments between two readings can't be told apart.
        kinds = [kind for kind in map(_kind_of, new) if kind is not None]
        if len(kinds) == 1 and len(new) - _rinses(new) == 1:
            pairs.setdefault(kinds[0], []).append(Pair(earlier, later))
    return pairs


def _whole_in_light(history: History, readings: Sequence[Measured]) -> list[Pair]:
    """A whole piece that went into the light, before and after: two photos, less sure."""
    found = []
    for k, later in enumerate(readings):
        before = [one for one in readings[:k] if one.reading.state != "after_light"]
        if later.reading.state != "after_light" or not before:
            continue
        known = {step.treatment.id for step in history.before(before[-1].reading)}
        steps = history.before(later.reading)
        if all(s.treatment.kind in ("light", "rest") for s in steps if s.treatment.id not in known):
            found.append(Pair(before[-1], later))
    return found


def _kind_of(step: Step) -> str | None:
    if step.treatment.kind == "wash":
        return "wash"
    if step.treatment.kind == "dip" and step.ph is not None:
        return "acid_dip" if step.ph < NEUTRAL_PH else "alkaline_dip"
    return None


def _rinses(steps: Sequence[Step]) -> int:
    return sum(step.treatment.kind in ("rinse", "rest") for step in steps)
