"""The history of pieces, read together: what each is made of and what it went through."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from dyeshade.library.baths import WholeBath, whole_baths
from dyeshade.library.dye_records import FibreLot, Mordant, PhReading, Piece, Treatment
from dyeshade.library.edit import Reader
from dyeshade.library.shade_records import Reading
from dyeshade.library.trials import tested_apart

FIRST = ("scour", "tannin", "mordant", "bath")
"""What makes a dyed piece; without a date it is taken to have come before every reading."""


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
    """A piece, what it is made of, and what it went through in order.

    `first_told` holds, for later treatments without a date (not `FIRST`), when the first reading
    after each was, by the treatment's id; none where no reading comes after it. `apart` names the
    treatments that only one half of the piece went through, in a home fastness test: a reading
    comes after such a one only where it says so.
    """

    piece: Piece
    fibre: FibreLot | None
    mordant: Mordant | None
    steps: tuple[Step, ...]
    first_told: Mapping[int, datetime] = field(default_factory=dict)
    apart: frozenset[int] = frozenset()

    def before(self, reading: Reading) -> tuple[Step, ...]:
        """The treatments that a reading comes after.

        Those up to the one that the reading names; where it names none, those that had begun by
        then, and those without a date, but for what only a later reading comes after.
        """
        if reading.after_treatment_id is not None:
            named = reading.after_treatment_id
            ids = [step.treatment.id for step in self.steps]
            upto = self.steps[: ids.index(named) + 1]
            others = self.apart - {named}
            return tuple(step for step in upto if step.treatment.id not in others)
        return self.begun_by(reading.read)

    def begun_by(self, time: datetime) -> tuple[Step, ...]:
        """The treatments that had begun by a time, as far as is known."""
        return tuple(step for step in self.steps if self._begun(step.treatment, time))

    def _begun(self, treatment: Treatment, time: datetime) -> bool:
        if treatment.id in self.apart:
            return False
        begun = treatment.started or self.first_told.get(treatment.id)
        return begun is None or begun <= time


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
    told = _first_told(reader, treatments)
    apart = tested_apart(reader)
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
            {
                step.treatment.id: told[step.treatment.id]
                for step in steps.get(piece.id, ())
                if step.treatment.id in told
            },
            frozenset(step.treatment.id for step in steps.get(piece.id, ())) & apart,
        )
        for piece in pieces
    }


def _first_told(reader: Reader, treatments: Iterable[Treatment]) -> dict[int, datetime]:
    """When the first reading after each later treatment without a date was, by its id."""
    kept = list(treatments)
    undated = {one.piece_id for one in kept if one.started is None and one.kind not in FIRST}
    if not undated:
        return {}
    rows = reader.rows(
        "SELECT after_treatment_id, MIN(read) FROM reading WHERE after_treatment_id IS NOT NULL"
        " AND piece_id IN (SELECT value FROM json_each(?)) GROUP BY after_treatment_id",
        ("[" + ",".join(map(str, sorted(undated))) + "]",),
    )
    named = {int(row[0]): datetime.fromisoformat(str(row[1])) for row in rows}
    told: dict[int, datetime] = {}
    later: dict[int, datetime] = {}
    # From the last to the first: a reading comes after all treatments before the one it names.
    for one in reversed(kept):
        times = [time for time in (later.get(one.piece_id), named.get(one.id)) if time is not None]
        if times:
            later[one.piece_id] = min(times)
            if one.started is None and one.kind not in FIRST:
                told[one.id] = min(times)
    return told


def _last_ph(reader: Reader, piece_ids: Sequence[int]) -> dict[int, PhReading]:
    listed = "[" + ",".join(map(str, piece_ids)) + "]"
    condition = (
        "treatment_id IN (SELECT id FROM treatment"
        " WHERE piece_id IN (SELECT value FROM json_each(?)))"
    )
    found = reader.where(PhReading, condition, (listed,), "read, id")
    return {one.treatment_id: one for one in found if one.treatment_id is not None}
