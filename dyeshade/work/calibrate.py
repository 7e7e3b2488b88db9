"""Calibrations and the shade library: learn one and keep it, list, use and remove them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
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
    """

    record: Calibration
    value: CameraCalibration | SheetCalibration | None
    readings: int


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
    return [KeptCalibration(one, _value(one), counts.get(one.id, 0)) for one in records]


def calibrations_in(library: Reader) -> Calibrations:
    """All calibrations that measuring may use, the newest first."""
    values = [_value(one) for one in library.where(Calibration, order="made DESC, id DESC")]
    return Calibrations(
        tuple(one for one in values if isinstance(one, CameraCalibration)),
        tuple(one for one in values if isinstance(one, SheetCalibration)),
    )


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


def _value(record: Calibration) -> CameraCalibration | SheetCalibration | None:
    payload = record.payload
    if not isinstance(payload, Mapping):
        return None
    try:
        if record.kind == CAMERA:
            return CameraCalibration.from_json(payload, record.id)
        return SheetCalibration.from_json(payload, record.id)
    except (KeyError, TypeError, ValueError):
        # A later program has written it: it is listed, and not used.
        return None
