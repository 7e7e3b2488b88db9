"""The shade library, opened: one thread owns it, and its changes can be undone."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType

from dyeshade.errors import DyeshadeError
from dyeshade.library.changes import Changes, RowChange
from dyeshade.library.edit import Edit, Reader
from dyeshade.library.faults import told
from dyeshade.library.migrations import STEPS
from dyeshade.library.shade_records import Reading
from dyeshade.library.store import Store, create_store, open_store
from dyeshade.library.tables import Row
from dyeshade.library.undo import UndoStack


class Library(Reader):
    """An open shade library, used by the thread that opened it and by no other.

    Make one with `open_library` or `create_library`; it is a context manager that closes itself.
    """

    def __init__(self, store: Store) -> None:
        super().__init__(store.connection)
        self._store = store
        self._thread = threading.get_ident()
        self._undo = UndoStack()
        self._editing = False
        self._seen_version = self._data_version()
        self._changed_elsewhere = False
        self.memo: dict[str, object] = {}
        """What queries work out from pieces, baths and what belongs to them; emptied when those
        change, and when a reading does that names the treatment before it."""
        self.on_commit: Callable[[Changes, bool], None] | None = None
        """Called in the library's thread with what an `edit` has changed, once it is on the disk,
        and with whether it can be undone; not called for `undo` and `redo`."""

    @property
    def folder(self) -> Path:
        """The folder that is the library."""
        return self._store.folder

    @property
    def read_only(self) -> bool:
        """True where file or folder may not be written."""
        return self._store.read_only

    @property
    def backup(self) -> Path | None:
        """The copy made before this opening upgraded the file, None where it did not."""
        return self._store.backup

    @property
    def undo_job(self) -> str | None:
        """Name of the job that `undo` takes back, None where there is none."""
        return self._undo.undo_job

    @property
    def redo_job(self) -> str | None:
        """Name of the job that `redo` does again, None where there is none."""
        return self._undo.redo_job

    @contextmanager
    def edit(self, job: str, undoable: bool = True) -> Iterator[Edit]:
        """Change records in one transaction, all or nothing.

        Parameters
        ----------
        job : str
            Short name of what is done, as ``save_readings``.
        undoable : bool
            False for what nobody would take back, as drafts of unsaved work.

        Yields
        ------
        Edit
            Its `changes` are safe on the disk once the block has ended without an error.

        Raises
        ------
        DyeshadeError
            ``library_read_only``, ``library_locked``, ``disk_full``, ``library_unreachable``;
            nothing has changed then.
        """
        with self._transaction(job) as edit:
            yield edit
        if undoable:
            self._undo.push(edit.changes)
        if self.on_commit is not None and edit.changes:
            self.on_commit(edit.changes, undoable)

    def undo(self) -> Changes | None:
        """Take the latest job back; None where there is none.

        Raises
        ------
        DyeshadeError
            ``changed_elsewhere`` where another window has changed the same records; else as `edit`.
        """
        return self._undo.undo(self._apply)

    def take_back(self) -> Changes | None:
        """Take the latest job back for good, as one whose other half failed. Raises as `undo`."""
        return self._undo.take_back(self._apply)

    def redo(self) -> Changes | None:
        """Do the job that was taken back last again; None where there is none. Raises as `undo`."""
        return self._undo.redo(self._apply)

    def forget_undo(self) -> None:
        """Forget what could be undone."""
        self._undo.clear()

    def changed_elsewhere(self) -> bool:
        """Whether another window or command has changed the file since this was last asked."""
        self.forget_if_changed_elsewhere()
        changed = self._changed_elsewhere
        self._changed_elsewhere = False
        return changed

    def forget_if_changed_elsewhere(self) -> None:
        """Empty `memo` where another window or command has changed the file."""
        version = self._data_version()
        if version != self._seen_version:
            self._seen_version = version
            self._changed_elsewhere = True
            self.memo.clear()

    def rows(self, sql: str, values: Sequence[object] = ()) -> list[Row]:
        """Rows of a query. Raises as `dyeshade.library.faults.told`."""
        self._check_thread()
        with told(self.folder):
            return super().rows(sql, values)

    def check(self) -> tuple[str, ...]:
        """What is wrong within the file, in SQLite's words; empty where all is well."""
        found = [str(row[0]) for row in self.rows("PRAGMA integrity_check")]
        found += [f"points nowhere: {row}" for row in self.rows("PRAGMA foreign_key_check")]
        return tuple(one for one in found if one != "ok")

    def close(self) -> None:
        """Close the file; nothing can be read or changed after that."""
        self._check_thread()
        self._store.close()

    def __enter__(self) -> Library:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    @contextmanager
    def _transaction(self, job: str) -> Iterator[Edit]:
        self._check_thread()
        if self._editing:
            raise RuntimeError(f"{job} within another edit: one job is one transaction")
        if self.read_only:
            raise DyeshadeError("library_read_only", path=str(self.folder))
        connection = self._connection
        with told(self.folder):
            connection.execute("BEGIN IMMEDIATE")
        self._editing = True
        try:
            with told(self.folder):
                # Undo puts records back in the reverse order, children before their parents.
                connection.execute("PRAGMA defer_foreign_keys = ON")
                edit = Edit(connection, job)
                try:
                    yield edit
                finally:
                    edit.end()
                connection.execute("COMMIT")
        except BaseException:
            if connection.in_transaction:
                connection.execute("ROLLBACK")
            # A query within the block may have worked things out from what is now taken back.
            self.memo.clear()
            raise
        finally:
            self._editing = False
        if any(_told_by_memo(row) for row in edit.changes.rows):
            self.memo.clear()

    def _apply(self, changes: Changes) -> Changes:
        try:
            with self._transaction(changes.job) as edit:
                edit.apply(changes)
        except sqlite3.IntegrityError as error:
            # Another window made a record that needs one which these changes remove.
            first = changes.rows[0]
            raise DyeshadeError("changed_elsewhere", kind=first.kind, id=first.id) from error
        return edit.changes

    def _data_version(self) -> int:
        return int(self.rows("PRAGMA data_version")[0][0])

    def _check_thread(self) -> None:
        if threading.get_ident() != self._thread:
            raise RuntimeError("a library is used by the thread that opened it")


def _told_by_memo(row: RowChange) -> bool:
    """Whether what is worked out in `Library.memo` may follow from a record."""
    if row.kind != "reading":
        return row.kind not in ("sheet_reading", "photo", "draft")
    # It dates a treatment that has no date of its own (`dyeshade.library.history`).
    both = (row.before, row.after)
    return any(isinstance(one, Reading) and one.after_treatment_id is not None for one in both)


def open_library(
    path: str | Path, read_only: bool = False, steps: Sequence[str] = STEPS
) -> Library:
    """Open a library: its folder, or the file in it.

    Raises
    ------
    DyeshadeError
        As `dyeshade.library.store.open_store`.
    """
    return Library(open_store(Path(path), read_only, steps))


def create_library(path: str | Path) -> Library:
    """Make a new library in a folder that is new or empty, and open it.

    Raises
    ------
    DyeshadeError
        As `dyeshade.library.store.create_store`.
    """
    return Library(create_store(Path(path)))


def open_or_create(path: str | Path) -> Library:
    """Open a library, or make it where there is nothing yet. Raises as both."""
    try:
        return open_library(path)
    except DyeshadeError as error:
        if error.code != "library_missing":
            raise
    return create_library(path)
