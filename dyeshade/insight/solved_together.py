"""The difference of two readings, from the signals of both photos where they were kept.

What can't be solved together (other sheets or cameras, greys drawn by hand, a calibration, photos
kept before signals were) is told from the stored shades, with what that leaves unsure.
"""

from __future__ import annotations

from dyeshade.insight.difference import Difference, Measured, apart, stored_difference
from dyeshade.library.edit import Reader
from dyeshade.library.shade_records import SheetReading
from dyeshade.measure.difference import Alone, TwoPhotos, difference_of, solve_alone, solve_pair
from dyeshade.measure.kept_signals import kept_signals
from dyeshade.sheet.kinds import PAPERS


class SolvedTogether:
    """Gives the difference of two readings; each photo and each pair is solved once.

    Parameters
    ----------
    reader : Reader
        The library that the readings are of.
    """

    def __init__(self, reader: Reader) -> None:
        self._reader = reader
        self._alone: dict[int, Alone | None] = {}
        self._pairs: dict[tuple[int, int], TwoPhotos | None] = {}

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
                    return Difference(told.lab_from, told.lab_to, told.covariance, "together")
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
        if (first, second) not in self._pairs:
            one, other = self._solved(first), self._solved(second)
            self._pairs[first, second] = (
                None if one is None or other is None else solve_pair(one, other)
            )
        return self._pairs[first, second]

    def _solved(self, sheet_reading_id: int) -> Alone | None:
        if sheet_reading_id not in self._alone:
            sheet = self._reader.the(SheetReading, sheet_reading_id)
            kept = kept_signals(sheet.signals)
            page = PAPERS.get(sheet.paper or "")
            self._alone[sheet_reading_id] = (
                None if kept is None or page is None else solve_alone(kept, page)
            )
        return self._alone[sheet_reading_id]
