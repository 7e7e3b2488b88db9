"""Readings that show a piece as it was dyed: not washed, not faded, not read months later."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

from dyeshade.library.find import FoundShade

SAME_TIME = timedelta(days=7)
"""Within so long of a piece's first reading a next one still shows it so (ours)."""

STATES = ("wet", "dry", "after_rinse")
WORN = ("wash", "light")
"""Treatments after which a piece no longer is as it was dyed."""


def as_dyed(found: Iterable[FoundShade]) -> list[FoundShade]:
    """Of each piece the first reading after its last treatment, and those soon after it.

    Wet and dry readings have first ones of their own.
    """
    first: dict[tuple[int, tuple[int, ...], bool], FoundShade] = {}
    kept = []
    for one in sorted(found, key=lambda shade: (shade.reading.read, shade.reading.id)):
        steps = one.history.before(one.reading)
        worn = any(step.treatment.kind in WORN for step in steps)
        if worn or one.reading.state not in STATES:
            continue
        ids = tuple(step.treatment.id for step in steps)
        start = first.setdefault((one.reading.piece_id, ids, one.reading.state == "wet"), one)
        if one.reading.read - start.reading.read <= SAME_TIME:
            kept.append(one)
    return kept
