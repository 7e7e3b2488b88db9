"""Numbered steps from one version of the library's file to the next.

A new library takes the same steps as an old one, so that both end alike. A step that was released
is never changed; a change of the tables is a new step at the end.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path

from dyeshade.errors import DyeshadeError
from dyeshade.library.schema import VERSION_1
from dyeshade.library.schema_2 import VERSION_2
from dyeshade.library.schema_3 import VERSION_3
from dyeshade.library.schema_4 import VERSION_4
from dyeshade.library.schema_5 import VERSION_5

STEPS: tuple[str, ...] = (VERSION_1, VERSION_2, VERSION_3, VERSION_4, VERSION_5)
"""SQL of each step; the first makes version 1 from an empty file."""

BACKUPS = "backups"
"""Folder within the library for copies made before a migration."""


def newest_version(steps: Sequence[str] = STEPS) -> int:
    """The version that this program writes."""
    return len(steps)


def version_of(connection: sqlite3.Connection) -> int:
    """The version of an open file."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def statements(script: str) -> Iterator[str]:
    """Single statements of a script: `executescript` would end the transaction of a step."""
    gathered = ""
    for line in script.splitlines(keepends=True):
        gathered += line
        if sqlite3.complete_statement(gathered):
            yield gathered.strip()
            gathered = ""
    if gathered.strip():
        raise ValueError(f"unfinished statement: {gathered.strip()[:60]}")


def migrate(
    connection: sqlite3.Connection,
    file: Path,
    steps: Sequence[str] = STEPS,
    backup: bool = True,
) -> Path | None:
    """Bring an open file to the newest version, each step in a transaction of its own.

    Parameters
    ----------
    connection : sqlite3.Connection
        With no transaction open.
    file : Path
    steps : sequence of str
    backup : bool
        Copy the file first; False only for one that is just being made.

    Returns
    -------
    Path or None
        The copy of the file as it was.

    Raises
    ------
    DyeshadeError
        ``library_newer``: another program with a newer version got there first.
    sqlite3.Error
        A step failed; the file is as the last whole step left it.
    """
    copy: Path | None = None
    # Steps may rebuild tables that others point at; each checks all references before it commits.
    connection.execute("PRAGMA foreign_keys = OFF")
    try:
        while version_of(connection) != newest_version(steps):
            connection.execute("BEGIN IMMEDIATE")
            try:
                version = version_of(connection)
                refuse_newer(version, file, steps)
                if version < newest_version(steps):
                    if backup and copy is None:
                        copy = back_up(file, version)
                    _take_step(connection, steps, version)
                connection.execute("COMMIT")
            except BaseException:
                if connection.in_transaction:
                    connection.execute("ROLLBACK")
                raise
    finally:
        connection.execute("PRAGMA foreign_keys = ON")
    return copy


def refuse_newer(version: int, file: Path, steps: Sequence[str] = STEPS) -> None:
    """Refuse a file that a newer program wrote.

    Raises
    ------
    DyeshadeError
        ``library_newer``
    """
    ours = newest_version(steps)
    if version > ours:
        raise DyeshadeError("library_newer", path=str(file.parent), version=version, ours=ours)


def _take_step(connection: sqlite3.Connection, steps: Sequence[str], version: int) -> None:
    for statement in statements(steps[version]):
        connection.execute(statement)
    broken = connection.execute("PRAGMA foreign_key_check").fetchall()
    assert not broken, f"step {version + 1} leaves records that point nowhere: {broken[:3]}"
    connection.execute(f"PRAGMA user_version = {version + 1}")


def back_up(file: Path, version: int) -> Path:
    """Copy the library's file into `BACKUPS` beside it; others may read, none may write meanwhile.

    Returns
    -------
    Path
        The copy, whole on the disk.
    """
    folder = file.parent / BACKUPS
    folder.mkdir(exist_ok=True)
    stem = f"{file.stem}-version-{version}-{datetime.now():%Y%m%d-%H%M%S}"
    copy = folder / f"{stem}{file.suffix}"
    number = 1
    while copy.exists():
        number += 1
        copy = folder / f"{stem}-{number}{file.suffix}"
    part = copy.with_suffix(".part")
    part.unlink(missing_ok=True)
    # A connection of its own: SQLite refuses to copy from one that holds the write lock, and a
    # plain copy of the file would, on closing it, drop this process's locks (POSIX).
    source = sqlite3.connect(f"{file.absolute().as_uri()}?mode=ro", uri=True)
    target = sqlite3.connect(part)
    try:
        source.backup(target)
    finally:
        target.close()
        source.close()
    # Where it could not be written to, Windows would not sync it.
    with part.open("r+b") as written:
        os.fsync(written.fileno())
    part.rename(copy)
    return copy
