"""Reading records, and changing them within one transaction that notes each change."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import replace
from typing import Any, TypeVar, cast

from dyeshade.errors import DyeshadeError
from dyeshade.library.changes import Changes, RowChange
from dyeshade.library.tables import TABLES, Record, Row, referring_to, table_of

R = TypeVar("R", bound=Record)


class Reader:
    """Reads records of any kind by id or by a condition on their columns."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection

    def get(self, record: type[R], id: int) -> R | None:  # noqa: A002 - the field's own name
        """The record of a type with an id, None where there is none."""
        # Beyond what the file can number there is none.
        found = self.where(record, "id = ?", (id,)) if abs(id) < 2**63 else []
        return found[0] if found else None

    def the(self, record: type[R], id: int) -> R:  # noqa: A002 - the field's own name
        """The record of a type with an id.

        Raises
        ------
        DyeshadeError
            ``record_gone`` (kind, id): another window has removed it.
        """
        found = self.get(record, id)
        if found is None:
            raise DyeshadeError("record_gone", kind=table_of(record).kind, id=id)
        return found

    def where(
        self,
        record: type[R],
        condition: str = "1",
        values: Sequence[object] = (),
        order: str = "id",
    ) -> list[R]:
        """All records of a type that meet a condition in SQL, in an order."""
        table = table_of(record)
        sql = f"{table.select} WHERE {condition} ORDER BY {order}"
        return cast(list[R], [table.to_record(row) for row in self.rows(sql, values)])

    def coded(self, record: type[R], code: str) -> list[R]:
        """The record of a type with a code, upper and lower case being the same; or none.

        SQLite knows no small letters but those of ASCII: by others, codes are looked through.
        """
        text = code.strip()
        found = self.where(record, "code = ?", (text,))
        if found or text.isascii():
            return found[:1]
        codes = [str(row[0]) for row in self.rows(f"SELECT code FROM {table_of(record).kind}")]
        alike = [one for one in codes if one.casefold() == text.casefold()]
        return self.where(record, "code = ?", (alike[0],)) if alike else []

    def among(self, record: type[R], column: str, ids: Sequence[int], order: str = "id") -> list[R]:
        """All records of a type whose column is one of many ids, in an order."""
        listed = "[" + ",".join(map(str, ids)) + "]"
        return self.where(record, f"{column} IN (SELECT value FROM json_each(?))", (listed,), order)

    def rows(self, sql: str, values: Sequence[object] = ()) -> list[Row]:
        """Rows of a query; always read to the end, so that no lock outlives it."""
        return cast(list[Row], self._connection.execute(sql, tuple(values)).fetchall())

    def value(self, sql: str, values: Sequence[object] = ()) -> Any:
        """The first column of a query's first row, None where there is none."""
        rows = self.rows(sql, values)
        return rows[0][0] if rows else None


class Edit(Reader):
    """Changes within one open transaction; made by `Library.edit`."""

    def __init__(self, connection: sqlite3.Connection, job: str) -> None:
        super().__init__(connection)
        self._job = job
        self._noted: list[RowChange] = []
        self._ended = False

    @property
    def changes(self) -> Changes:
        """What was changed so far."""
        return Changes(self._job, tuple(self._noted))

    def end(self) -> None:
        """Take no more changes: the transaction is over."""
        self._ended = True

    def add(self, record: Record) -> int:
        """Keep a new record.

        Returns
        -------
        int
            Its id.

        Raises
        ------
        DyeshadeError
            ``record_gone`` (kind, id): another window has removed what it points at.
        """
        assert record.id == 0, f"kept already: {record}"
        self._check_pointed_at(record)
        kept = replace(record, id=self._insert(record))
        self._noted.append(RowChange(table_of(record).kind, kept.id, None, kept))
        return kept.id

    def change(self, record: Record) -> None:
        """Put other contents into a kept record.

        Raises
        ------
        DyeshadeError
            ``record_gone``: it, or what it points at.
        """
        self._check_open()
        table = table_of(record)
        before = self.the(type(record), record.id)
        row = table.to_row(record)
        if row != table.to_row(before):
            self._check_pointed_at(record)
            self._connection.execute(table.update, (*row, record.id))
            self._noted.append(RowChange(table.kind, record.id, before, record))

    def remove(self, record: type[Record], id: int) -> None:  # noqa: A002 - the field's own name
        """Remove a record that no other points at.

        Raises
        ------
        DyeshadeError
            ``record_gone``; ``still_used`` (kind, id, by, count): others of kind `by` need it.
        """
        self._check_open()
        table = table_of(record)
        before = self.the(record, id)
        for other, column in referring_to(table.kind):
            sql = f"SELECT count(*) FROM {other.kind} WHERE {column} = ?"
            count = self.value(sql, (id,))
            if count:
                raise DyeshadeError(
                    "still_used", kind=table.kind, id=id, by=other.kind, count=count
                )
        self._connection.execute(table.delete, (id,))
        self._noted.append(RowChange(table.kind, id, before, None))

    def apply(self, changes: Changes) -> None:
        """Make changes that are known row by row, as undo and redo do.

        Raises
        ------
        DyeshadeError
            ``changed_elsewhere`` (kind, id): a record is not what these changes start from.
        """
        self._check_open()
        for row in changes.rows:
            self._apply_one(row)

    def _apply_one(self, row: RowChange) -> None:
        table = TABLES[row.kind]
        current = self.get(table.record, row.id)
        expected = None if row.before is None else table.to_row(row.before)
        if (None if current is None else table.to_row(current)) != expected:
            raise DyeshadeError("changed_elsewhere", kind=row.kind, id=row.id)
        try:
            if row.after is None:
                self._connection.execute(table.delete, (row.id,))
            elif row.before is None:
                self._insert(row.after)
            else:
                self._connection.execute(table.update, (*table.to_row(row.after), row.id))
        except sqlite3.IntegrityError as error:
            raise DyeshadeError("changed_elsewhere", kind=row.kind, id=row.id) from error
        self._noted.append(row)

    def _insert(self, record: Record) -> int:
        table = table_of(record)
        cursor = self._connection.execute(table.insert, table.to_row(record))
        return int(cursor.lastrowid or 0)

    def _check_pointed_at(self, record: Record) -> None:
        self._check_open()
        for column, kind in table_of(record).refers.items():
            pointed_at = getattr(record, column)
            if pointed_at is None:
                continue
            if self.value(f"SELECT 1 FROM {kind} WHERE id = ?", (pointed_at,)) is None:
                raise DyeshadeError("record_gone", kind=kind, id=pointed_at)

    def _check_open(self) -> None:
        if self._ended:
            raise RuntimeError(f"{self._job} is over: changes belong into its block")
