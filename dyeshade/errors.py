"""What can go wrong in the world, and what a reader of a number must know.

The floors below the top state a code and the facts; only the top floor words them for people. What
we did wrong is no `DyeshadeError`: it crashes loudly.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


class DyeshadeError(Exception):
    """Something in the world stands in the way: an unreadable photo, no sheet in view, a full disk.

    Parameters
    ----------
    code : str
        Short name of the trouble, as in ``no_sheet``; the top floor holds a sentence for each.
    **facts : object
        What the sentence needs: numbers, names, paths.

    Attributes
    ----------
    code : str
    facts : dict of str to object
    """

    def __init__(self, code: str, **facts: object) -> None:
        super().__init__(code, facts)
        self.code = code
        self.facts = facts

    def __str__(self) -> str:
        told = ", ".join(f"{name}={value!r}" for name, value in self.facts.items())
        return f"{self.code} ({told})" if told else self.code

    def __reduce__(self) -> tuple[object, ...]:
        # Keyword facts do not survive the default pickling, and photos are read in other processes.
        return (_rebuilt, (self.code, self.facts))


def _rebuilt(code: str, facts: dict[str, object]) -> DyeshadeError:
    return DyeshadeError(code, **facts)


@dataclass(frozen=True)
class Notice:
    """Something that the reader of a number must know, worded by the top floor.

    Attributes
    ----------
    code : str
        Short name, as in ``paper_clipped``.
    facts : mapping of str to object
        What the sentence needs.
    """

    code: str
    facts: Mapping[str, object] = field(default_factory=dict)
