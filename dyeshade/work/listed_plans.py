"""The baths of a library as a list shows them, and the pieces that were in one."""

from __future__ import annotations

from dataclasses import dataclass

from dyeshade.library.bath_records import BathPlanRecord, DayStep
from dyeshade.library.baths import whole_baths
from dyeshade.library.dye_records import Bath, Piece, Treatment
from dyeshade.library.edit import Reader


def in_the_bath(reader: Reader, bath_id: int) -> tuple[str, ...]:
    """Codes of the pieces that were in a bath."""
    ids = [one.piece_id for one in reader.where(Treatment, "bath_id = ?", (bath_id,))]
    return tuple(one.code for one in reader.among(Piece, "id", ids))


@dataclass(frozen=True)
class ListedPlan:
    """A bath as the list of the bath room shows it.

    Attributes
    ----------
    dyestuffs : tuple of str
    exhausts : str
        Code of the bath that it exhausts, or "".
    planned, finished : bool
        Whether it was planned here, and whether its pieces are out.
    running : tuple of DayStep
        Steps of its day that are under way; none once its pieces are out.
    """

    bath_id: int
    code: str
    dyestuffs: tuple[str, ...]
    exhausts: str
    planned: bool
    finished: bool
    running: tuple[DayStep, ...] = ()

    @property
    def under_way(self) -> bool:
        """Whether a step of its day is under way."""
        return bool(self.running)


def listed_plans(reader: Reader) -> tuple[ListedPlan, ...]:
    """All baths, the newest first."""
    baths = reader.where(Bath, order="id DESC")
    codes = {bath.id: bath.code for bath in baths}
    finished = {one.bath_id: one.finished is not None for one in reader.where(BathPlanRecord)}
    running = reader.where(DayStep, "started IS NOT NULL AND ended IS NULL", order="place, id")
    whole = whole_baths(reader, list(codes))
    return tuple(
        ListedPlan(
            bath.id,
            bath.code,
            tuple(lot.name for lot, _ in whole[bath.id].dyestuffs),
            codes.get(bath.parent_bath_id or 0, ""),
            bath.id in finished,
            finished.get(bath.id, False),
            tuple(
                one
                for one in running
                if one.bath_id == bath.id and not finished.get(bath.id, False)
            ),
        )
        for bath in baths
    )
