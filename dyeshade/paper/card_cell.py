"""One shade on its card: how its caption is wrapped, and how high that makes it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from dyeshade.paper.card_measures import LEADING
from dyeshade.paper.page import CAP_HEIGHT, POINT_MM
from dyeshade.paper.shade_card import Caption
from dyeshade.paper.typeset import SetText, balanced, set_line, wrapped

_SHRINK: Final = 0.93
_HEADING_LEADING: Final = 1.14
_AFTER_HEADING: Final = 1.5
"""From the heading's last baseline to the first line's, in sizes of the lines."""


@dataclass(frozen=True)
class SetCaption:
    """A caption wrapped to a width; sizes in points.

    Attributes
    ----------
    height_mm : float
        From the top of the heading's capitals to the end of the last line's descenders.
    """

    heading: tuple[str, ...]
    lines: tuple[str, ...]
    heading_pt: float
    line_pt: float

    @property
    def height_mm(self) -> float:
        """From the top of the heading's capitals to below the last line."""
        baselines = self._baselines()
        return (baselines[-1] if baselines else 0.0) + 0.3 * self.line_pt * POINT_MM

    def placed(self, x: float, top: float) -> tuple[SetText, ...]:
        """Its words with the top of the heading's capitals at `top`, in mm."""
        placed: list[SetText] = []
        below = self._baselines()
        for line, down in zip(self.heading, below, strict=False):
            placed += set_line(line, "serif", self.heading_pt, x, top + down)
        for line, down in zip(self.lines, below[len(self.heading) :], strict=True):
            placed += set_line(line, "sans", self.line_pt, x, top + down)
        return tuple(placed)

    def _baselines(self) -> list[float]:
        """Each line's baseline below the top, in mm."""
        size, line = self.heading_pt * POINT_MM, self.line_pt * POINT_MM
        baselines = [
            CAP_HEIGHT * size + n * _HEADING_LEADING * size for n in range(len(self.heading))
        ]
        for number in range(len(self.lines)):
            if number == 0:
                start = baselines[-1] + _AFTER_HEADING * line if baselines else CAP_HEIGHT * line
                baselines.append(start)
            else:
                baselines.append(baselines[-1] + LEADING * line)
        return baselines


def set_caption(
    caption: Caption, heading_pt: float, line_pt: float, width: float, most_mm: float
) -> SetCaption:
    """Wrap a caption; one that is higher than `most_mm` is set smaller until it fits."""
    while True:
        set_ = SetCaption(
            balanced(caption.heading, "serif", heading_pt, width),
            tuple(part for line in caption.lines for part in wrapped(line, "sans", line_pt, width)),
            heading_pt,
            line_pt,
        )
        if set_.height_mm <= most_mm:
            return set_
        heading_pt, line_pt = heading_pt * _SHRINK, line_pt * _SHRINK
