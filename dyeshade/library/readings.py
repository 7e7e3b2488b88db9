"""Readings: kept once for each photo, sample and way of measuring; the newest is shown."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from dyeshade.errors import Notice
from dyeshade.library.dye_records import wall_time
from dyeshade.library.edit import Edit, Reader
from dyeshade.library.shade_records import KeptPhoto, Reading, SheetReading, six_of
from dyeshade.measure.result import Measurement, Sample

NEWEST = (
    "NOT EXISTS (SELECT 1 FROM reading AS newer WHERE newer.photo_id = reading.photo_id"
    " AND newer.sample = reading.sample AND newer.id <> reading.id"
    " AND (newer.method_version, newer.measured, newer.id)"
    " > (reading.method_version, reading.measured, reading.id))"
)
"""SQL: no newer way of measuring has read the same sample of the same photo."""


@dataclass(frozen=True)
class Assigned:
    """What a dyer says of a sample.

    Attributes
    ----------
    piece_id : int
    state : str
        One of `dyeshade.library.shade_records.STATES`.
    read : datetime or None
        Where None, the photo's own time, or else the time of saving.
    after_treatment_id : int or None
        The last treatment before the reading; where None, the dates tell.
    """

    piece_id: int
    state: str = "dry"
    read: datetime | None = None
    after_treatment_id: int | None = None
    note: str = ""


def save_measurement(
    edit: Edit,
    measurement: Measurement,
    photo: KeptPhoto,
    assigned: Mapping[str, Assigned],
    method_version: int,
    signals: Any = None,
    calibration_id: int | None = None,
    now: datetime | None = None,
) -> tuple[int, ...]:
    """Keep the samples of a photo that a dyer has assigned to pieces.

    The same sample of the same photo, measured the same way, is kept once: saving it again puts the
    new value, piece and state in place of the old. Measured by a newer method it is kept beside it.

    Parameters
    ----------
    edit : Edit
    measurement : Measurement
    photo : KeptPhoto
        With its id, as `dyeshade.library.photos.keep_photo` gives it.
    assigned : mapping of str to Assigned
        By the sample's name; samples that are not in it are not kept.
    method_version : int
        Of the way of measuring, from 1 on.
    signals : object, optional
        Whatever JSON can hold of the sheet's patches.
    calibration_id : int, optional
        Of the camera or sheet calibration that was used.
    now : datetime, optional
        The time of measuring.

    Returns
    -------
    tuple of int
        Ids of the readings, in the order of the measurement's samples.
    """
    known = {sample.name for sample in measurement.samples}
    if not set(assigned) <= known:
        raise ValueError(f"no such sample: {sorted(set(assigned) - known)}")
    if method_version < 1:
        raise ValueError("methods are counted from 1 on")
    measured = wall_time(now or datetime.now())
    sheet = _sheet_reading(measurement, photo.id, method_version, signals, calibration_id)
    sheet_id = _keep_sheet_reading(edit, sheet)
    ids = []
    for sample in measurement.samples:
        if sample.name in assigned:
            said = assigned[sample.name]
            reading = replace(
                reading_of(sample, said, measurement.taken or photo.taken or measured, measured),
                method_version=method_version,
                photo_id=photo.id,
                sheet_reading_id=sheet_id,
                calibration_id=calibration_id,
            )
            ids.append(keep_reading(edit, reading))
    return tuple(ids)


def reading_of(sample: Sample, said: Assigned, taken: datetime, measured: datetime) -> Reading:
    """A measured sample as a record, of no photo yet."""
    shade = sample.shade
    lab_l, lab_a, lab_b = (float(value) for value in shade.lab)
    return Reading(
        piece_id=said.piece_id,
        sample=sample.name,
        read=wall_time(said.read or taken),
        state=said.state,
        lab_l=lab_l,
        lab_a=lab_a,
        lab_b=lab_b,
        covariance_photo=six_of(shade.covariance_photo),
        covariance_common=six_of(shade.covariance_common),
        u95=float(shade.u95),
        srgb="#{:02x}{:02x}{:02x}".format(*sample.srgb),
        in_gamut=bool(sample.in_gamut),
        measured=measured,
        after_treatment_id=said.after_treatment_id,
        shades=tuple(
            ((float(s.lab[0]), float(s.lab[1]), float(s.lab[2])), float(s.share))
            for s in sample.shades
        ),
        outline_px=_outline(sample),
        notices=plain_notices(sample.notices),
        note=said.note,
    )


def _outline(sample: Sample) -> tuple[tuple[float, float], ...]:
    return tuple((round(float(x), 2), round(float(y), 2)) for x, y in sample.outline_px)


def plain_notices(notices: tuple[Notice, ...]) -> tuple[Notice, ...]:
    """Notices whose facts JSON can hold: numbers of numpy become plain ones."""
    return tuple(
        Notice(one.code, {name: _plain(value) for name, value in one.facts.items()})
        for one in notices
    )


def _plain(value: object) -> object:
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    if hasattr(value, "tolist"):
        return value.tolist()
    return value


def _sheet_reading(
    measurement: Measurement,
    photo_id: int,
    method_version: int,
    signals: Any,
    calibration_id: int | None,
) -> SheetReading:
    seen = measurement.sheet
    return SheetReading(
        photo_id=photo_id,
        method_version=method_version,
        light=measurement.light,
        paper=seen.paper if seen else None,
        cells=seen.cells if seen else None,
        serial=seen.serial if seen else None,
        layout_version=seen.version if seen else None,
        residual=float(seen.residual) if seen else None,
        signals=signals,
        notices=plain_notices(measurement.notices),
        calibration_id=calibration_id,
    )


def _keep_sheet_reading(edit: Edit, sheet: SheetReading) -> int:
    found = edit.where(
        SheetReading,
        "photo_id = ? AND method_version = ? AND calibration_id IS ?",
        (sheet.photo_id, sheet.method_version, sheet.calibration_id),
    )
    if not found:
        return edit.add(sheet)
    edit.change(replace(sheet, id=found[0].id))
    return found[0].id


def keep_reading(edit: Edit, reading: Reading) -> int:
    """Keep a reading, in place of the same sample of the same photo measured the same way.

    Returns
    -------
    int
        Its id.
    """
    found = []
    if reading.photo_id is not None:
        found = edit.where(
            Reading,
            "photo_id = ? AND sample = ? AND method_version = ? AND calibration_id IS ?",
            (reading.photo_id, reading.sample, reading.method_version, reading.calibration_id),
        )
    if not found:
        return edit.add(reading)
    old = found[0]
    # Measured again with the same result: nothing has changed, not even the time of measuring; but
    # where another way of measuring is shown by now, what is kept last must be.
    same = replace(reading, id=old.id, measured=old.measured)
    shown = edit.where(Reading, f"id = ? AND {NEWEST}", (old.id,))
    edit.change(same if same == old and shown else replace(reading, id=old.id))
    return old.id


def readings_of(reader: Reader, piece_id: int, every_version: bool = False) -> list[Reading]:
    """A piece's readings in the order of their time; only the newest of each sample unless told."""
    condition = "piece_id = ?" if every_version else f"piece_id = ? AND {NEWEST}"
    return reader.where(Reading, condition, (piece_id,), "read, id")


def readings_in(reader: Reader, photo_id: int, every_version: bool = False) -> list[Reading]:
    """Readings from a photo, by the names of the samples; only the newest of each unless told."""
    condition = "photo_id = ?" if every_version else f"photo_id = ? AND {NEWEST}"
    return reader.where(Reading, condition, (photo_id,), "sample, method_version, id")


def carry_names(edit: Edit, photo_id: int, samples: Sequence[Sample]) -> None:
    """Give kept readings the names that their samples have now.

    A sample that was renamed after it was kept lies where it lay: it is no second sample.

    Parameters
    ----------
    edit : Edit
    photo_id : int
    samples : sequence of Sample
        All that the photo has now.
    """
    kept = readings_in(edit, photo_id, every_version=True)
    now = {sample.name for sample in samples}
    gone = {one.outline_px: one.sample for one in kept if one.outline_px and one.sample not in now}
    known = {one.sample for one in kept}
    for sample in samples:
        old = None if sample.name in known else gone.get(_outline(sample))
        for reading in kept:
            if old is not None and reading.sample == old:
                edit.change(replace(reading, sample=sample.name))


def read_anew(reader: Reader) -> list[tuple[Reading, Reading]]:
    """Readings that a newer way of measuring has read anew: each as it was last, and as it is.

    Returns
    -------
    list of (Reading, Reading)
        In the order in which they were read anew.
    """
    again = (
        "EXISTS (SELECT 1 FROM reading AS older WHERE older.photo_id = reading.photo_id"
        " AND older.sample = reading.sample AND older.id <> reading.id)"
    )
    newest = reader.where(Reading, f"photo_id IS NOT NULL AND {NEWEST} AND {again}", (), "id")
    photos = sorted({one.photo_id for one in newest if one.photo_id is not None})
    before: dict[tuple[int | None, str], Reading] = {}
    now = {one.id for one in newest}
    for one in reader.among(Reading, "photo_id", photos, "method_version, measured, id"):
        if one.id not in now:
            before[one.photo_id, one.sample] = one
    return [(before[one.photo_id, one.sample], one) for one in newest]
