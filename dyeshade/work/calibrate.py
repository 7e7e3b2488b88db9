"""Calibrations and the shade library: learn one and keep it, list, use and remove them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from dyeshade.errors import DyeshadeError
from dyeshade.exchange.cgats import Grid, read_chart
from dyeshade.library.dye_records import wall_time
from dyeshade.library.edit import Reader
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Calibration
from dyeshade.measure.calibrations import (
    CAMERA,
    SHEET,
    Calibrations,
    CameraCalibration,
    SheetCalibration,
)
from dyeshade.measure.chart import CHARTS, Chart, carried_chart


@dataclass(frozen=True, eq=False)
class KeptCalibration:
    """A calibration as the library lists it.

    Attributes
    ----------
    record : Calibration
    value : CameraCalibration, SheetCalibration or None
        None where a later program has written it.
    readings : int
        How many readings were made with it.
    in_use : bool
        Whether measuring may use it: switched on, and written by a program as old as this.
    replaced : bool
        Whether a newer one that is in use stands before it.
    """

    record: Calibration
    value: CameraCalibration | SheetCalibration | None
    readings: int
    in_use: bool = True
    replaced: bool = False


def chart_named(chart: str, grid: Grid | None = None) -> Chart:
    """A chart whose values are at hand, or one described in a CGATS.17 file.

    Parameters
    ----------
    chart : str
        One of `dyeshade.measure.chart.CHARTS`, or the path of a file.
    grid : tuple of (int, int), optional
        Rows and columns, for a file that does not tell them.

    Raises
    ------
    DyeshadeError
        As `dyeshade.exchange.cgats.read_chart`.
    """
    return carried_chart(chart) if chart in CHARTS else read_chart(chart, grid)


def keep_calibration(
    library: Library, value: CameraCalibration | SheetCalibration, now: datetime | None = None
) -> int:
    """Keep a calibration; returns its number. One of the same name stays beside it, unused.

    Raises
    ------
    DyeshadeError
        As `Library.edit`.
    """
    kind = CAMERA if isinstance(value, CameraCalibration) else SHEET
    made = wall_time(now or datetime.now())
    with library.edit("calibrate") as edit:
        return edit.add(Calibration(kind, value.name, made, value.to_json()))


def kept_calibrations(library: Reader) -> list[KeptCalibration]:
    """All calibrations, the newest first."""
    records = library.where(Calibration, order="made DESC, id DESC")
    counts = {
        int(row[0]): int(row[1])
        for row in library.rows(
            "SELECT calibration_id, count(*) FROM reading "
            "WHERE calibration_id IS NOT NULL GROUP BY calibration_id"
        )
    }
    kept = []
    known = Calibrations()
    for record in records:
        value = _value(record)
        in_use = value is not None and _switched_on(record)
        replaced = value is not None and _stands_before(known, value)
        kept.append(KeptCalibration(record, value, counts.get(record.id, 0), in_use, replaced))
        if in_use:
            known = _and(known, value)
    return kept


def calibrations_in(library: Reader) -> Calibrations:
    """All calibrations that measuring may use, the newest first."""
    records = library.where(Calibration, order="made DESC, id DESC")
    values = [_value(one) for one in records if _switched_on(one)]
    return Calibrations(
        tuple(one for one in values if isinstance(one, CameraCalibration)),
        tuple(one for one in values if isinstance(one, SheetCalibration)),
    )


def use_calibration(library: Library, number: int, use: bool) -> None:
    """Have measuring use a calibration from now on, or leave it out; what was read stays.

    Raises
    ------
    DyeshadeError
        ``calibration_unknown`` (number); as `Library.edit`.
    """
    record = library.get(Calibration, number)
    if record is None:
        raise DyeshadeError("calibration_unknown", number=number)
    payload = dict(record.payload) if isinstance(record.payload, Mapping) else {}
    with library.edit("use_calibration") as edit:
        edit.change(replace(record, payload={**payload, _IN_USE: use}))


def remove_calibration(library: Library, number: int) -> Calibration:
    """Remove a calibration that no reading was made with; returns what it was.

    Raises
    ------
    DyeshadeError
        ``calibration_unknown`` (number), ``calibration_used`` (number, readings); as
        `Library.edit`.
    """
    record = library.get(Calibration, number)
    if record is None:
        raise DyeshadeError("calibration_unknown", number=number)
    kept = next(one for one in kept_calibrations(library) if one.record.id == number)
    sheets = library.value("SELECT count(*) FROM sheet_reading WHERE calibration_id = ?", (number,))
    if kept.readings or sheets:
        raise DyeshadeError("calibration_used", number=number, readings=kept.readings)
    with library.edit("remove_calibration") as edit:
        edit.remove(Calibration, number)
    return record


_IN_USE = "in_use"


def _switched_on(record: Calibration) -> bool:
    return not isinstance(record.payload, Mapping) or bool(record.payload.get(_IN_USE, True))


def _stands_before(known: Calibrations, value: CameraCalibration | SheetCalibration) -> bool:
    if isinstance(value, CameraCalibration):
        return known.camera_for(value.camera, value.file_format, value.light) is not None
    return known.sheet_for(value.serial, value.paper, value.cells) is not None


def _and(known: Calibrations, value: CameraCalibration | SheetCalibration | None) -> Calibrations:
    if isinstance(value, CameraCalibration):
        return replace(known, cameras=(*known.cameras, value))
    assert value is not None
    return replace(known, sheets=(*known.sheets, value))


def _value(record: Calibration) -> CameraCalibration | SheetCalibration | None:
    payload = record.payload
    if not isinstance(payload, Mapping):
        return None
    try:
        if record.kind == CAMERA:
            of_camera = CameraCalibration.from_json(payload, record.id)
            return replace(of_camera, made=record.made)
        return replace(SheetCalibration.from_json(payload, record.id), made=record.made)
    except (KeyError, TypeError, ValueError):
        # A later program has written it: it is listed, and not used.
        return None
