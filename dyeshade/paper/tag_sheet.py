"""What a tag says, and how tags are printed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, get_args

from dyeshade.paper.card_measures import PAPERS_MM
from dyeshade.paper.shade_card import PAPERS, Paper
from dyeshade.sheet.tag import BOTTOM, LEFT, RIGHT, TOP

TagSize = Literal["small", "middle", "large"]
TAG_SIZES: Final[tuple[str, ...]] = get_args(TagSize)
CODE_MM: Final = {"small": 14.0, "middle": 18.0, "large": 24.0}
"""Side of the code: at 14 mm and 21 modules a photo needs 4.5 pixels to a millimetre."""

_EDGE_MM: Final = 9.0
"""What printers leave white, and room for the marks."""


@dataclass(frozen=True)
class Tag:
    """What a tag says.

    Attributes
    ----------
    piece : str
        The piece's code.
    line : str
        One line more, as its fibre; "" for none.
    """

    piece: str
    line: str = ""


@dataclass(frozen=True)
class TagSheet:
    """How tags are printed.

    Attributes
    ----------
    paper : str
        "A4" or "Letter".
    size : str
        "small", "middle" or "large": 21, 27 or 36 mm wide.
    """

    paper: Paper = "A4"
    size: TagSize = "small"

    def __post_init__(self) -> None:
        if self.paper not in PAPERS or self.size not in TAG_SIZES:
            raise ValueError(f"paper {self.paper!r}, size {self.size!r}")

    @property
    def tag_mm(self) -> tuple[float, float]:
        """Width and height of a tag."""
        side = CODE_MM[self.size]
        return (RIGHT - LEFT) * side, (BOTTOM - TOP) * side

    @property
    def grid(self) -> tuple[int, int]:
        """Columns and rows of tags on a page."""
        wide, high = self.tag_mm
        width, height = PAPERS_MM[self.paper]
        return int((width - 2 * _EDGE_MM) // wide), int((height - 2 * _EDGE_MM) // high)
