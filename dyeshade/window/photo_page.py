"""One photo as the window holds it: what is asked of it, and what was found so far."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import DyeshadeError
from dyeshade.measure.result import Measurement, Sample
from dyeshade.work.look_at_photos import Asked, PhotoLook
from dyeshade.work.said import Said

Array = NDArray[np.float64]


SHEET_CHANGED = ("sheet_changed", "sheet_colours_changed", "sheet_colours_few")
"""Codes of notices that a print does not agree with what was learnt of it."""


@dataclass(frozen=True, eq=False)
class Entry:
    """A line of the list of samples.

    Attributes
    ----------
    name : str
    outline_px : ndarray, shape (k, 2)
    sample : Sample or None
        None while it is not measured.
    drawn : bool
        Drawn by hand, rather than found in a cell.
    """

    name: str
    outline_px: Array
    sample: Sample | None
    drawn: bool


class PhotoPage:
    """A photo, what is asked of it and what became of it.

    Attributes
    ----------
    asked : Asked
        The latest wish.
    look : PhotoLook or None
        The latest answer.
    measured : PhotoLook or None
        The latest answer with a measurement.
    busy : bool
        Whether an answer is on its way.
    said : mapping of str to Said
        What the dyer says of the samples, by name.
    kept : mapping of str to Said
        What the library holds of them.
    kept_asked : Asked or None
        The wish whose answer the library holds.
    tags_read : set of str
        Samples whose tag has been gone by already: what a person says after that stays.
    """

    def __init__(self, asked: Asked) -> None:
        self.asked = asked
        self.look: PhotoLook | None = None
        self.measured: PhotoLook | None = None
        self.busy = False
        self.said: Mapping[str, Said] = {}
        self.kept: Mapping[str, Said] = {}
        self.kept_asked: Asked | None = None
        self.tags_read: set[str] = set()

    @property
    def name(self) -> str:
        """The file's name."""
        return Path(self.asked.path).name

    @property
    def refusal(self) -> DyeshadeError | None:
        """Why the latest wish could not be measured."""
        found = None if self.look is None else self.look.found
        return found if isinstance(found, DyeshadeError) else None

    @property
    def measurement(self) -> Measurement | None:
        """The latest measurement."""
        found = None if self.measured is None else self.measured.found
        return found if isinstance(found, Measurement) else None

    @property
    def can_draw_greys(self) -> bool:
        """Whether there is a picture, and no sheet in it."""
        if self.look is None or not self.look.taken:
            return False
        measurement = self.measurement
        return measurement is None or measurement.sheet is None

    @property
    def unsaved(self) -> list[str]:
        """Samples that are measured and assigned, and not kept so yet."""
        if self.measured is None or self.measured.asked is not self.asked:
            return []
        same = self.kept_asked is self.asked
        return [
            entry.name
            for entry in self.entries()
            if self._has_piece(entry.name)
            and not (same and self.said[entry.name] == self.kept.get(entry.name))
        ]

    @property
    def unsaid(self) -> list[str]:
        """Samples that are measured and belong to no piece yet."""
        return [entry.name for entry in self.entries() if not self._has_piece(entry.name)]

    @property
    def has_work(self) -> bool:
        """Whether closing the program would lose something."""
        nothing = self.refusal is not None and not (self.asked.samples or self.asked.greys)
        untouched = self.asked is self.kept_asked or (nothing and not self.said)
        return not untouched or self.said != self.kept

    def _has_piece(self, name: str) -> bool:
        return name in self.said and bool(self.said[name].piece)

    def take(self, look: PhotoLook) -> bool:
        """Keep an answer; False where the wish has changed meanwhile and it is of no use."""
        if look.asked is not self.asked:
            return False
        self.busy = False
        self.look = look
        if isinstance(look.found, Measurement):
            self.measured = look
        elif not self.asked.greys and self.measured and self.measured.asked.greys:
            # The greys that it rested on are gone.
            self.measured = None
        return True

    def entries(self) -> list[Entry]:
        """The samples: those found in cells, then those drawn by hand."""
        entries = []
        found: dict[str, Sample] = {}
        before: dict[str, object] = {}
        same = False
        if self.measured is not None and self.measurement is not None:
            asked = self.measured.asked
            found = {sample.name: sample for sample in self.measurement.samples}
            before = {drawn.name: drawn for drawn in asked.samples}
            same = asked.light == self.asked.light and asked.greys is self.asked.greys
            for name, sample in found.items():
                if name not in before and name not in self.asked.without:
                    entries.append(Entry(name, sample.outline_px, sample if same else None, False))
        for drawn in self.asked.samples:
            known = same and before.get(drawn.name) is drawn
            sample_now = found.get(drawn.name) if known else None
            entries.append(Entry(drawn.name, np.asarray(drawn.corners), sample_now, True))
        return entries
