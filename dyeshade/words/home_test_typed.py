"""Days of photos as they are typed, and shown again so that they can be."""

from __future__ import annotations

from collections.abc import Sequence

from dyeshade.words.typed import MistypedError

MOST_DAYS = 3650
"""Ten years."""


def read_days(text: str, what: str = "The days of the photos") -> tuple[int, ...]:
    """Days after a beginning, as "1, 2, 4, 8"; () where nothing was typed.

    Raises
    ------
    MistypedError
    """
    words = text.replace(";", " ").replace(",", " ").split()
    if not all(word.isascii() and word.isdigit() and int(word) <= MOST_DAYS for word in words):
        raise MistypedError(f"{what} are whole numbers, as 1, 2, 4, 8, up to {MOST_DAYS}.")
    return tuple(sorted({int(word) for word in words}))


def days_typed(days: Sequence[int]) -> str:
    """Days as they are typed."""
    return ", ".join(map(str, days))
