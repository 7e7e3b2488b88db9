"""Making and opening a library's file, so that no foreign or newer file is ever touched."""

from __future__ import annotations

import os
import sqlite3
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from dyeshade.errors import DyeshadeError
from dyeshade.library.faults import told_of_files
from dyeshade.library.migrations import STEPS, migrate, newest_version, refuse_newer, version_of
from dyeshade.library.schema import APPLICATION_ID

FILE_NAME = "shades.sqlite"
"""The library's file within its folder."""

PATIENCE_S = 3.0
"""How long to wait for another window that is just saving, before saying so."""

_MAGIC = b"SQLite format 3\0"
_open_here: set[Path] = set()
_open_here_lock = threading.Lock()


@dataclass(frozen=True)
class Store:
    """An open file.

    Attributes
    ----------
    folder : Path
    connection : sqlite3.Connection
        In autocommit: transactions are begun and ended by name.
    read_only : bool
    backup : Path or None
        The copy made before a migration, where there was one.
    """

    folder: Path
    connection: sqlite3.Connection
    read_only: bool
    backup: Path | None = None

    @property
    def file(self) -> Path:
        """The library's file."""
        return self.folder / FILE_NAME

    def close(self) -> None:
        """Close the file."""
        self.connection.close()
        with _open_here_lock:
            _open_here.discard(self.file.resolve())


def folder_of(path: Path) -> Path:
    """The library's folder, given that or the file in it."""
    return path.parent if path.name == FILE_NAME and not path.is_dir() else path


def create_store(path: Path, steps: Sequence[str] = STEPS) -> Store:
    """Make a new, empty library in a folder that is new or empty, and open it.

    Raises
    ------
    DyeshadeError
        ``library_folder_in_use`` where the folder holds other things; else as `open_store`.
    """
    folder = folder_of(path)
    with told_of_files(folder):
        folder.mkdir(parents=True, exist_ok=True)
        strangers = [entry.name for entry in folder.iterdir() if not entry.name.startswith(".")]
        if strangers:
            raise DyeshadeError("library_folder_in_use", path=str(folder), holds=min(strangers))
        # Made under another name, then renamed: half a library is never found under the real one.
        part = folder / f".{FILE_NAME}.{os.getpid()}.new"
        part.unlink(missing_ok=True)
        connection = _connect(part, "rwc")
        try:
            connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
            migrate(connection, part, steps, backup=False)
        finally:
            connection.close()
        try:
            os.link(part, folder / FILE_NAME)
        except FileExistsError:
            # Another program made one in this moment: that one is opened.
            pass
        except OSError:
            # A file system without hard links, as on memory sticks.
            part.replace(folder / FILE_NAME)
        part.unlink(missing_ok=True)
        sync_folder(folder)
    return open_store(folder, steps=steps)


def open_store(path: Path, read_only: bool = False, steps: Sequence[str] = STEPS) -> Store:
    """Open a library, upgrading an older one.

    Raises
    ------
    DyeshadeError
        ``library_missing`` (path), ``not_a_library`` (path), ``library_newer`` (path, version,
        ours), ``library_older`` (path, version, ours) where it needs an upgrade and may not be
        written, and what `dyeshade.library.faults.told_of_files` tells.
    """
    folder = folder_of(path)
    file = folder / FILE_NAME
    with _only_once(file, steps), told_of_files(folder):
        read_only = read_only or not _writable(folder, file)
        connection = _connect(file, "ro" if read_only else "rw")
        try:
            version = version_of(connection)
            refuse_newer(version, file, steps)
            backup = None
            if version < newest_version(steps):
                if read_only:
                    ours = newest_version(steps)
                    raise DyeshadeError(
                        "library_older", path=str(folder), version=version, ours=ours
                    )
                backup = migrate(connection, file, steps)
            connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()
        except BaseException:
            connection.close()
            raise
    return Store(folder, connection, read_only, backup)


@contextmanager
def _only_once(file: Path, steps: Sequence[str]) -> Iterator[None]:
    """Hold a file's place in this process: reading its head while open would drop its locks."""
    place = file.resolve()
    with _open_here_lock:
        if place in _open_here:
            raise RuntimeError(f"{file} is already open in this process: one worker owns a library")
        _refuse_foreign(file, steps)
        _open_here.add(place)
    try:
        yield
    except BaseException:
        with _open_here_lock:
            _open_here.discard(place)
        raise


def _refuse_foreign(file: Path, steps: Sequence[str]) -> None:
    """Read the file's head by hand: SQLite would roll a foreign file's journal back on opening it.

    References
    ----------
    SQLite, "Database File Format", 1.3: magic string, user version at 60, application id at 68.
    """
    with told_of_files(file.parent):
        if not file.exists():
            others = file.parent.is_file() or (file.parent.is_dir() and any(file.parent.iterdir()))
            code = "not_a_library" if others else "library_missing"
            raise DyeshadeError(code, path=str(file.parent))
        if not file.is_file():
            raise DyeshadeError("not_a_library", path=str(file.parent))
        with file.open("rb") as opened:
            head = opened.read(100)
    marked = int.from_bytes(head[68:72], "big") == APPLICATION_ID
    if len(head) < 100 or head[:16] != _MAGIC or not marked:
        raise DyeshadeError("not_a_library", path=str(file.parent))
    refuse_newer(int.from_bytes(head[60:64], "big"), file, steps)


def _connect(file: Path, mode: str) -> sqlite3.Connection:
    uri = f"{file.absolute().as_uri()}?mode={mode}"
    connection = sqlite3.connect(uri, uri=True, timeout=PATIENCE_S, isolation_level=None)
    try:
        if mode != "ro":
            connection.execute("PRAGMA journal_mode = DELETE")
        connection.execute("PRAGMA synchronous = EXTRA")
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA trusted_schema = OFF")
    except BaseException:
        connection.close()
        raise
    return connection


def _writable(folder: Path, file: Path) -> bool:
    # The journal is made beside the file, so the folder must be writable too.
    return os.access(file, os.W_OK, effective_ids=_EFFECTIVE) and os.access(
        folder, os.W_OK, effective_ids=_EFFECTIVE
    )


_EFFECTIVE = os.access in os.supports_effective_ids


def sync_folder(folder: Path) -> None:
    """Make a rename or a new name in a folder last; where folders can't be synced, they needn't."""
    if os.name != "posix":
        return
    opened = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)
