"""Writes files that are there whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from dyeshade.errors import DyeshadeError


def write_whole(data: bytes, out: str | Path) -> None:
    """Write a file that is there whole or not at all; an older one stays until then.

    Parameters
    ----------
    data : bytes
    out : str or Path

    Raises
    ------
    DyeshadeError
        ``cannot_write`` (path, reason): no such folder, no permission, a full disk.
    """
    target = Path(out)
    part: Path | None = None
    try:
        if target.exists() and not target.is_file():
            # A pipe or a device takes what comes and keeps nothing.
            target.write_bytes(data)
            return
        # What a link points at is replaced, not the link.
        target = target.resolve()
        with tempfile.NamedTemporaryFile(
            dir=target.parent, prefix=f".{target.name}.", delete=False
        ) as file:
            part = Path(file.name)
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        # Temporary files are private; it should be as readable as any other new file.
        mask = os.umask(0)
        os.umask(mask)
        part.chmod(0o666 & ~mask)
        os.replace(part, target)
    except OSError as error:
        if part is not None:
            part.unlink(missing_ok=True)
        reason = error.strerror or "the disk did not take it"
        raise DyeshadeError("cannot_write", path=str(out), reason=reason) from error
