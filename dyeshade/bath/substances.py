"""Mordants and assistants: what they are, and how much of them is usual on which fibre.

All ranges are common practice, no source; a dyer puts their own in their place. Amounts are shares
of the dry weight of fibre (wof).
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from dyeshade.bath.fibres import CELLULOSE, PROTEIN, find_fibre, group_of
from dyeshade.errors import DyeshadeError

MORDANT, ASSISTANT = "mordant", "assistant"


@dataclass(frozen=True)
class Substance:
    """A mordant or an assistant.

    Attributes
    ----------
    name : str
    kind : str
        `MORDANT` or `ASSISTANT`.
    spellings : tuple of str
        Other names that dyers write, in lower case.
    """

    name: str
    kind: str
    spellings: tuple[str, ...] = ()


SUBSTANCES: tuple[Substance, ...] = (
    Substance("alum", MORDANT, ("potassium alum", "potash alum", "potassium aluminium sulphate")),
    Substance("aluminium acetate", MORDANT, ("aluminum acetate", "alum acetate")),
    Substance(
        "iron",
        MORDANT,
        (
            "ferrous sulphate",
            "ferrous sulfate",
            "iron sulphate",
            "iron sulfate",
            "copperas",
            "iron(ii) sulphate",
        ),
    ),
    Substance("copper", MORDANT, ("copper sulphate", "copper sulfate", "blue vitriol")),
    Substance("tin", MORDANT, ("stannous chloride", "tin chloride", "tin(ii) chloride")),
    Substance("tannin", MORDANT, ("tannic acid", "gallnut", "oak gall", "sumac")),
    Substance(
        "cream of tartar",
        ASSISTANT,
        ("tartar", "potassium bitartrate", "potassium hydrogen tartrate"),
    ),
    Substance("citric acid", ASSISTANT),
    Substance("vinegar", ASSISTANT, ("white vinegar", "acetic acid")),
    Substance("chalk", ASSISTANT, ("calcium carbonate",)),
    Substance("soda ash", ASSISTANT, ("sodium carbonate",)),
    Substance("washing soda", ASSISTANT, ("soda crystals",)),
    Substance("baking soda", ASSISTANT, ("sodium hydrogen carbonate", "sodium bicarbonate")),
    Substance("lime", ASSISTANT, ("slaked lime", "calcium hydroxide")),
    Substance("lye", ASSISTANT, ("caustic soda", "sodium hydroxide")),
)
"""Substances that something is known of here. Others may be used: then it is said that nothing is
known."""

_NOT_SUPPORTED = re.compile(r"\b(?:chrom(?:e|ic|ium|ate)|(?:di|bi)chromate)\b")
"""Chrome, however it is called."""
_BY_NAME = {name: one for one in SUBSTANCES for name in (one.name, *one.spellings)}


def find_substance(written: str) -> Substance | None:
    """The substance that somebody wrote, or None where nothing is known of it.

    Raises
    ------
    DyeshadeError
        ``mordant_not_supported`` (substance): chrome.
    """
    word = " ".join(written.lower().split())
    if _NOT_SUPPORTED.search(word):
        raise DyeshadeError("mordant_not_supported", substance=written.strip())
    return _BY_NAME.get(word)


@dataclass(frozen=True)
class UsualRange:
    """How much of a substance is usual.

    Attributes
    ----------
    substance : str
    on : str
        A kind of fibre, a group of them, or "" for all.
    low, high : float
        Shares of the weight of fibre: 0.10 is 10 % wof.
    own : bool
        Whether the dyer has set it.
    """

    substance: str
    on: str
    low: float
    high: float
    own: bool = False

    def __post_init__(self) -> None:
        if not 0 <= self.low <= self.high:
            raise ValueError(f"no range: {self.low} to {self.high}")


@dataclass(frozen=True)
class Ranges:
    """Usual ranges; a later one is taken before an earlier one that says the same."""

    ranges: tuple[UsualRange, ...]

    def find(self, substance: str, fibre: str) -> UsualRange | None:
        """The range for a fibre: that of its kind, else of its group, else of all fibres.

        Raises
        ------
        DyeshadeError
            ``fibre_unknown``
        """
        for on in (find_fibre(fibre).name, group_of(fibre), ""):
            for one in reversed(self.ranges):
                if (one.substance, one.on) == (substance, on):
                    return one
        return None

    def with_own(self, substance: str, on: str, low: float, high: float) -> Ranges:
        """The same with a range that the dyer sets."""
        own = UsualRange(substance, on, low, high, own=True)
        kept = [
            one for one in self.ranges if (one.substance, one.on, one.own) != (substance, on, True)
        ]
        return replace(self, ranges=(*kept, own))


COMMON_PRACTICE = Ranges(
    (
        UsualRange("alum", PROTEIN, 0.10, 0.20),
        UsualRange("aluminium acetate", CELLULOSE, 0.05, 0.10),
        UsualRange("cream of tartar", "wool", 0.05, 0.07),
        UsualRange("iron", "", 0.01, 0.04),
    )
)
"""Common practice, no source."""
