"""Between records and rows: one table for each kind of record, one column for each field."""

from __future__ import annotations

import json
import struct
from collections.abc import Callable
from dataclasses import dataclass, fields
from datetime import date, datetime
from typing import Any, TypeAlias

from dyeshade.errors import Notice
from dyeshade.library.bath_records import (
    BathLine,
    BathPiece,
    BathPlanRecord,
    DayStep,
    DyestuffMove,
    LogReading,
    OwnDensity,
    OwnRange,
    OwnYield,
    Preference,
    StripKind,
)
from dyeshade.library.dye_records import (
    Addition,
    Bath,
    BathDyestuff,
    DyestuffLot,
    FibreLot,
    Mordant,
    PhReading,
    Piece,
    Treatment,
)
from dyeshade.library.shade_records import Calibration, Draft, KeptPhoto, Reading, SheetReading
from dyeshade.library.trial_records import (
    Commission,
    CommissionResult,
    HomeTestPair,
    HomeTestRecord,
)

Record: TypeAlias = (
    Addition
    | Bath
    | BathDyestuff
    | BathLine
    | BathPiece
    | BathPlanRecord
    | Calibration
    | Commission
    | CommissionResult
    | DayStep
    | Draft
    | DyestuffLot
    | DyestuffMove
    | FibreLot
    | HomeTestPair
    | HomeTestRecord
    | KeptPhoto
    | LogReading
    | Mordant
    | OwnDensity
    | OwnRange
    | OwnYield
    | PhReading
    | Piece
    | Preference
    | Reading
    | SheetReading
    | StripKind
    | Treatment
)
Row: TypeAlias = tuple[Any, ...]


@dataclass(frozen=True)
class Codec:
    """How a field's value becomes a column's, and back; None stays None."""

    to_column: Callable[[Any], Any]
    to_field: Callable[[Any], Any]


def _to_json(value: Any) -> str:
    # Sorted, so that equal values are equal text. NaN is no JSON: whoever passes one is mistaken.
    return json.dumps(value, allow_nan=False, sort_keys=True, separators=(",", ":"))


def _notices_to_json(notices: tuple[Notice, ...]) -> str:
    return _to_json([{"code": one.code, "facts": dict(one.facts)} for one in notices])


def _notices_from_json(text: str) -> tuple[Notice, ...]:
    return tuple(Notice(**one) for one in json.loads(text)) if text != "[]" else ()


def _shades_from_json(text: str) -> tuple[object, ...]:
    return tuple((tuple(lab), share) for lab, share in json.loads(text)) if text != "[]" else ()


def _points_from_json(text: str) -> tuple[object, ...]:
    return tuple((x, y) for x, y in json.loads(text)) if text != "[]" else ()


_SIX = struct.Struct("<6d")
_TIME = Codec(datetime.isoformat, datetime.fromisoformat)
_DAY = Codec(date.isoformat, date.fromisoformat)
_FLAG = Codec(int, bool)
_NUMBER = Codec(float, float)
_COVARIANCE = Codec(lambda six: _SIX.pack(*six), _SIX.unpack)
_JSON = Codec(_to_json, json.loads)

_BY_TYPE = {
    "datetime": _TIME,
    "datetime | None": _TIME,
    "date | None": _DAY,
    "bool": _FLAG,
    "float": _NUMBER,
    "float | None": _NUMBER,
    "Six": _COVARIANCE,
    "Any": _JSON,
    "tuple[Notice, ...]": Codec(_notices_to_json, _notices_from_json),
    "tuple[tuple[tuple[float, float, float], float], ...]": Codec(_to_json, _shades_from_json),
    "tuple[tuple[float, float], ...]": Codec(_to_json, _points_from_json),
}
_AS_IT_IS = {"int", "int | None", "str", "str | None"}


class Table:
    """One kind of record and its table.

    Attributes
    ----------
    kind : str
        The table's name, and what `Changes` call the record.
    record : type
    columns : tuple of str
        `id` among them, in the order of the record's fields.
    """

    def __init__(self, kind: str, record: type, refers: dict[str, str] | None = None) -> None:
        self.kind = kind
        self.record = record
        self.columns = tuple(field.name for field in fields(record))
        self.refers = refers or {}
        self._codecs: list[tuple[int, Codec]] = []
        for number, field in enumerate(fields(record)):
            type_name = str(field.type)
            if type_name not in _AS_IT_IS:
                self._codecs.append((number, _BY_TYPE[type_name]))
        self._id = self.columns.index("id")
        listed = ", ".join(self.columns)
        marks = ", ".join("?" * len(self.columns))
        setters = ", ".join(f"{name} = ?" for name in self.columns)
        self.select = f"SELECT {listed} FROM {kind}"
        self.insert = f"INSERT INTO {kind} ({listed}) VALUES ({marks})"
        self.update = f"UPDATE {kind} SET {setters} WHERE id = ?"
        self.delete = f"DELETE FROM {kind} WHERE id = ?"

    def selected(self, alias: str) -> str:
        """The columns as a SELECT lists them, of a table named `alias` there."""
        return ", ".join(f"{alias}.{name}" for name in self.columns)

    def to_row(self, record: Record) -> Row:
        """The record's columns; an id of 0 is left to the database."""
        row = [getattr(record, name) for name in self.columns]
        for number, codec in self._codecs:
            value = row[number]
            if value is not None or codec is _JSON:
                row[number] = codec.to_column(value)
        if not row[self._id]:
            row[self._id] = None
        return tuple(row)

    def to_record(self, row: Row) -> Any:
        """The record of a row whose columns are in order."""
        values = list(row)
        for number, codec in self._codecs:
            value = values[number]
            if value is not None:
                values[number] = codec.to_field(value)
        return self.record(*values)


_TABLES = (
    Table("dyestuff_lot", DyestuffLot),
    Table("fibre_lot", FibreLot),
    Table("mordant", Mordant),
    Table("piece", Piece, {"fibre_lot_id": "fibre_lot", "mordant_id": "mordant"}),
    Table("bath", Bath, {"parent_bath_id": "bath"}),
    Table("bath_dyestuff", BathDyestuff, {"bath_id": "bath", "dyestuff_lot_id": "dyestuff_lot"}),
    Table("addition", Addition, {"bath_id": "bath"}),
    Table("treatment", Treatment, {"piece_id": "piece", "bath_id": "bath"}),
    Table("ph_reading", PhReading, {"bath_id": "bath", "treatment_id": "treatment"}),
    Table("photo", KeptPhoto),
    Table("calibration", Calibration),
    Table("sheet_reading", SheetReading, {"photo_id": "photo", "calibration_id": "calibration"}),
    Table(
        "reading",
        Reading,
        {
            "piece_id": "piece",
            "photo_id": "photo",
            "sheet_reading_id": "sheet_reading",
            "calibration_id": "calibration",
            "after_treatment_id": "treatment",
        },
    ),
    Table("draft", Draft),
    Table("bath_plan", BathPlanRecord, {"bath_id": "bath"}),
    Table("bath_piece", BathPiece, {"bath_id": "bath"}),
    Table("bath_line", BathLine, {"bath_id": "bath"}),
    Table(
        "log_reading",
        LogReading,
        {"bath_id": "bath", "addition_id": "addition", "photo_id": "photo"},
    ),
    Table("day_step", DayStep, {"bath_id": "bath"}),
    Table("dyestuff_move", DyestuffMove, {"dyestuff_lot_id": "dyestuff_lot", "bath_id": "bath"}),
    Table("own_density", OwnDensity),
    Table("own_range", OwnRange),
    Table("own_yield", OwnYield),
    Table("preference", Preference),
    Table("strip_kind", StripKind),
    Table("commission", Commission, {"reading_id": "reading"}),
    Table(
        "commission_result",
        CommissionResult,
        {"commission_id": "commission", "reading_id": "reading"},
    ),
    Table("home_test", HomeTestRecord, {"piece_id": "piece", "treatment_id": "treatment"}),
    Table(
        "home_test_pair",
        HomeTestPair,
        {"home_test_id": "home_test", "untreated_id": "reading", "treated_id": "reading"},
    ),
)
TABLES = {table.kind: table for table in _TABLES}
"""By kind."""

_BY_RECORD = {table.record: table for table in _TABLES}


def table_of(record: Record | type) -> Table:
    """The table that keeps a record, or records of a type."""
    return _BY_RECORD[record if isinstance(record, type) else type(record)]


def referring_to(kind: str) -> tuple[tuple[Table, str], ...]:
    """Tables and their columns that point at records of a kind."""
    return tuple(
        (table, column) for table in _TABLES for column, to in table.refers.items() if to == kind
    )
