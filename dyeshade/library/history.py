"""The history of pieces, read together: what each is made of and what it went through."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from dyeshade.library.baths import WholeBath, whole_baths
from dyeshade.library.dye_records import FibreLot, Mordant, PhReading, Piece, Treatment
from dyeshade.library.edit import Reader
from dyeshade.library.shade_records import Reading


@dataclass(frozen=True)
class Step:
    """A treatment with its bath and its own pH (of an afterbath, dip or rinse), as last read.

    `ph_sd` is that pH's standard uncertainty and `ph_by` what it was read with, where written down.
    """

    treatment: Treatment
    bath: WholeBath | None = None
    ph: float | None = None
    ph_sd: float | None = None
    ph_by: str = ""


@dataclass(frozen=True)
class History:
    """A piece, what it is made of, and what it went through in order."""

    piece: Piece
    fibre: FibreLot | None
    mordant: Mordant | None
    steps: tuple[Step, ...]

    def before(self, reading: Reading) -> tuple[Step, ...]:
        """The treatments that a reading comes after.

        Those up to the one that the reading names; where it names none, those that had begun by
        then, and those without a date.
        """
        if reading.after_treatment_id is not None:
            ids = [step.treatment.id for step in self.steps]
            return self.steps[: ids.index(reading.after_treatment_id) + 1]
        return tuple(step for step in self.steps if _begun(step.treatment, reading.read))


def _begun(treatment: Treatment, time: datetime) -> bool:
    return treatment.started is None or treatment.started <= time


def histories(reader: Reader, piece_ids: Sequence[int]) -> dict[int, History]:
    """Histories of pieces, by the piece's id."""
    pieces = reader.among(Piece, "id", piece_ids)
    fibre_ids = sorted({p.fibre_lot_id for p in pieces if p.fibre_lot_id is not None})
    mordant_ids = sorted({p.mordant_id for p in pieces if p.mordant_id is not None})
    fibres = {lot.id: lot for lot in reader.among(FibreLot, "id", fibre_ids)}
    mordants = {one.id: one for one in reader.among(Mordant, "id", mordant_ids)}
    treatments = reader.among(Treatment, "piece_id", piece_ids, "piece_id, place, id")
    bath_ids = sorted({one.bath_id for one in treatments if one.bath_id is not None})
    baths = whole_baths(reader, bath_ids)
    ph = _last_ph(reader, piece_ids)
    steps: dict[int, list[Step]] = {}
    for one in treatments:
        bath = None if one.bath_id is None else baths[one.bath_id]
        own = ph.get(one.id)
        step = Step(one, bath) if own is None else Step(one, bath, own.ph, own.ph_sd, own.by)
        steps.setdefault(one.piece_id, []).append(step)
    return {
        piece.id: History(
            piece,
            None if piece.fibre_lot_id is None else fibres[piece.fibre_lot_id],
            None if piece.mordant_id is None else mordants[piece.mordant_id],
            tuple(steps.get(piece.id, ())),
        )
        for piece in pieces
    }


def _last_ph(reader: Reader, piece_ids: Sequence[int]) -> dict[int, PhReading]:
    listed = "[" + ",".join(map(str, piece_ids)) + "]"
    condition = (
        "treatment_id IN (SELECT id FROM treatment"
        " WHERE piece_id IN (SELECT value FROM json_each(?)))"
    )
    found = reader.where(PhReading, condition, (listed,), "read, id")
    return {one.treatment_id: one for one in found if one.treatment_id is not None}
