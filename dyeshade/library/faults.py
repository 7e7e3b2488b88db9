"""What the world can do to an open library, told by code: locked, read-only, full, damaged."""

from __future__ import annotations

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from dyeshade.errors import DyeshadeError

_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
_FORBIDDEN = {errno.EACCES, errno.EPERM, errno.EROFS}
_PRIMARY = 0xFF
"""SQLite's extended result codes carry the plain one in their lowest byte."""


def fault_of(error: sqlite3.Error, path: Path) -> DyeshadeError | None:
    """The refusal that an error of SQLite stands for; None where the mistake is ours.

    References
    ----------
    SQLite, "Result and Error Codes".
    """
    extended = getattr(error, "sqlite_errorcode", None)
    if extended is None:
        return None
    code = extended & _PRIMARY
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return DyeshadeError("library_locked", path=str(path))
    if code in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM):
        # "Can't open" is what a write says where the journal may not be made beside the file.
        return DyeshadeError("library_read_only", path=str(path))
    if code == sqlite3.SQLITE_FULL:
        return DyeshadeError("disk_full", path=str(path))
    if code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
        return DyeshadeError("library_damaged", path=str(path))
    if code == sqlite3.SQLITE_IOERR:
        return DyeshadeError("library_unreachable", path=str(path))
    return None


def fault_of_os(error: OSError, path: Path) -> DyeshadeError:
    """The refusal that an error of the operating system stands for."""
    if error.errno in _FULL:
        return DyeshadeError("disk_full", path=str(path))
    if error.errno in _FORBIDDEN:
        return DyeshadeError("library_read_only", path=str(path))
    return DyeshadeError("library_unreachable", path=str(path))


@contextmanager
def told(path: Path) -> Iterator[None]:
    """Turn what SQLite says of the library at `path` into a `DyeshadeError`.

    What only a mistake of ours can cause stays as it is.

    Raises
    ------
    DyeshadeError
        ``library_locked``, ``library_read_only``, ``disk_full``, ``library_damaged``,
        ``library_unreachable``, each with the path.
    """
    try:
        yield
    except sqlite3.Error as error:
        fault = fault_of(error, path)
        if fault is None:
            raise
        raise fault from error


@contextmanager
def told_of_files(path: Path) -> Iterator[None]:
    """As `told`, and the same for what the operating system says."""
    try:
        with told(path):
            yield
    except OSError as error:
        raise fault_of_os(error, path) from error
