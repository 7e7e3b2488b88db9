"""Photos kept in the library's folder under the hash of their bytes."""

from __future__ import annotations

import hashlib
import os
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from tempfile import NamedTemporaryFile

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import wall_time
from dyeshade.library.edit import Edit, Reader
from dyeshade.library.faults import told_of_files
from dyeshade.library.library import Library
from dyeshade.library.shade_records import KeptPhoto
from dyeshade.library.store import sync_folder

_BLOCK = 1 << 20


def hash_of(path: Path) -> str:
    """SHA-256 of a file's bytes, in hexadecimal.

    Raises
    ------
    DyeshadeError
        ``photo_not_kept`` (name, reason)
    """
    try:
        with path.open("rb") as opened:
            return hashlib.file_digest(opened, "sha256").hexdigest()
    except OSError as error:
        raise DyeshadeError("photo_not_kept", name=path.name, reason=error.strerror) from error


def keep_file(
    library: Library,
    source: str | Path,
    file_format: str = "",
    taken: datetime | None = None,
    camera: str | None = None,
) -> KeptPhoto:
    """Copy a photo's file into the library, without a record yet: that is `keep_photo`'s.

    The copy is whole on the disk when this returns, so that a record never waits for its photo.
    Copying a photo again that is there already costs nothing.

    Returns
    -------
    KeptPhoto
        With an id of 0.

    Raises
    ------
    DyeshadeError
        ``photo_not_kept`` (name, reason) where the source can't be read; ``disk_full``,
        ``library_read_only``, ``library_unreachable`` (path) where the copy can't be written.
    """
    source = Path(source)
    if library.read_only:
        raise DyeshadeError("library_read_only", path=str(library.folder))
    sha256 = hash_of(source)
    photo = known_photo(library, sha256)
    if photo is None:
        suffix = source.suffix.lower() if source.suffix[1:].isalnum() else ""
        time = None if taken is None else wall_time(taken)
        size = source.stat().st_size
        photo = KeptPhoto(sha256, suffix, source.name, file_format, time, camera, size)
    target = library.folder / photo.relative_path
    with told_of_files(library.folder):
        if not (target.exists() and target.stat().st_size == photo.size_bytes):
            _copy(source, target, sha256)
    return replace(photo, id=0)


def _copy(source: Path, target: Path, sha256: str) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    with NamedTemporaryFile(dir=target.parent, prefix=".", delete=False) as part:
        try:
            digest = hashlib.sha256()
            with source.open("rb") as opened:
                while block := opened.read(_BLOCK):
                    digest.update(block)
                    part.write(block)
            if digest.hexdigest() != sha256:
                raise DyeshadeError(
                    "photo_not_kept", name=source.name, reason="it changed while being copied"
                )
            part.flush()
            os.fsync(part.fileno())
            part.close()
            os.chmod(part.name, 0o644)
            os.replace(part.name, target)
        except BaseException:
            part.close()
            Path(part.name).unlink(missing_ok=True)
            raise
    sync_folder(target.parent)
    sync_folder(target.parent.parent)


def keep_photo(edit: Edit, photo: KeptPhoto) -> KeptPhoto:
    """The record of a photo, made where its bytes are not known yet.

    Returns
    -------
    KeptPhoto
        With its id.
    """
    known = known_photo(edit, photo.sha256)
    if known is None:
        known = edit.the(KeptPhoto, edit.add(photo))
    return known


def known_photo(reader: Reader, sha256: str) -> KeptPhoto | None:
    """The record of a photo of these bytes, None where it was never kept."""
    found = reader.where(KeptPhoto, "sha256 = ?", (sha256,))
    return found[0] if found else None


def photo_path(library: Library, photo: KeptPhoto) -> Path:
    """Where a kept photo's file lies.

    Raises
    ------
    DyeshadeError
        ``photo_gone`` (name, path): someone has removed it from the folder.
    """
    path = library.folder / photo.relative_path
    if not path.is_file():
        raise DyeshadeError("photo_gone", name=photo.name, path=str(path))
    return path


def photos_gone(library: Library) -> tuple[KeptPhoto, ...]:
    """Photos whose file is missing or holds other bytes than were kept."""
    return tuple(photo for photo in library.where(KeptPhoto) if not _is_whole(library, photo))


def _is_whole(library: Library, photo: KeptPhoto) -> bool:
    path = library.folder / photo.relative_path
    return path.is_file() and hash_of(path) == photo.sha256
