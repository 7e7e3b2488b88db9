"""The difference of two readings, from the signals of both photos where they were kept.

What can't be solved together (other sheets or cameras, greys drawn by hand, a calibration, photos
kept before signals were) is told from the stored shades, with what that leaves unsure.
"""

from __future__ import annotations

import hashlib
import json
from weakref import WeakKeyDictionary

from dyeshade.insight.difference import Difference, Measured, apart, stored_difference
from dyeshade.library.edit import Reader
from dyeshade.library.shade_records import SheetReading
from dyeshade.measure.difference import Alone, TwoPhotos, difference_of, solve_alone, solve_pair
from dyeshade.measure.kept_signals import kept_signals
from dyeshade.sheet.kinds import PAPERS

MOST_KEPT = 400
"""Photos and pairs that are remembered for a library; then all is forgotten and begun anew."""

Print = tuple[int, bytes]
_Solved = tuple[dict[Print, "Alone | None"], dict[tuple[Print, Print], "TwoPhotos | None"]]

_SOLVED: WeakKeyDictionary[Reader, _Solved] = WeakKeyDictionary()


class SolvedTogether:
    """Gives the difference of two readings.

    Each photo and each pair is solved once while the library is open and the photo's signals stay
    what they are: a pair takes some tenths of a second.

    Parameters
    ----------
    reader : Reader
        The library that the readings are of.
    """

    def __init__(self, reader: Reader) -> None:
        self._reader = reader
        self._sheets: dict[int, tuple[Print, SheetReading]] = {}
        self._alone, self._pairs = _SOLVED.setdefault(reader, ({}, {}))
        if len(self._alone) + len(self._pairs) > MOST_KEPT:
            self._alone.clear()
            self._pairs.clear()

    def __call__(self, one: Measured, other: Measured) -> Difference:
        """The difference, the earlier reading first.

        Parameters
        ----------
        one, other : Measured

        Returns
        -------
        Difference
        """
        if self._alike(one, other):
            pair = self._pair(one.reading.sheet_reading_id, other.reading.sheet_reading_id)
            if pair is not None:
                names = (one.reading.sample, other.reading.sample)
                first, second = (
                    kept.samples.get(name) for kept, name in zip(pair.kept, names, strict=True)
                )
                if first is not None and second is not None:
                    assert one.light is not None
                    told = difference_of(pair, first, second, one.light)
                    return Difference(
                        told.lab_from, told.lab_to, told.covariance, "together", (), told.lasting
                    )
        return stored_difference(one, other)

    def _alike(self, one: Measured, other: Measured) -> bool:
        """Whether both are of one camera and sheet, by the greys as printed, in two photos."""
        return (
            not apart(one, other)
            and one.reading.calibration_id is None
            and one.reading.photo_id != other.reading.photo_id
        )

    def _pair(self, first: int | None, second: int | None) -> TwoPhotos | None:
        if first is None or second is None:
            return None
        prints = (self._sheet(first)[0], self._sheet(second)[0])
        if prints not in self._pairs:
            one, other = self._solved(first), self._solved(second)
            self._pairs[prints] = None if one is None or other is None else solve_pair(one, other)
        return self._pairs[prints]

    def _sheet(self, sheet_reading_id: int) -> tuple[Print, SheetReading]:
        """A photo's sheet as kept, and what tells it from the same one with other signals."""
        if sheet_reading_id not in self._sheets:
            sheet = self._reader.the(SheetReading, sheet_reading_id)
            text = json.dumps(sheet.signals, sort_keys=True).encode()
            print_ = (sheet_reading_id, hashlib.blake2b(text, digest_size=16).digest())
            self._sheets[sheet_reading_id] = (print_, sheet)
        return self._sheets[sheet_reading_id]

    def _solved(self, sheet_reading_id: int) -> Alone | None:
        print_, sheet = self._sheet(sheet_reading_id)
        if print_ not in self._alone:
            kept = kept_signals(sheet.signals)
            page = PAPERS.get(sheet.paper or "")
            self._alone[print_] = None if kept is None or page is None else solve_alone(kept, page)
        return self._alone[print_]
