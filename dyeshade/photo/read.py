"""From a photo's file to a :class:`Photo`."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable
from importlib import import_module
from pathlib import Path

import numpy as np

from dyeshade.errors import DyeshadeError, Notice
from dyeshade.photo.container import Coded, Contents, unreadable
from dyeshade.photo.encoding import Encoding, adobe_rgb_encoding, srgb_encoding
from dyeshade.photo.exif import CameraNotes, read_exif
from dyeshade.photo.icc import ProfileError, read_profile
from dyeshade.photo.kinds import kind_of
from dyeshade.photo.orientation import upright
from dyeshade.photo.photo import Photo

_READERS = {
    "JPEG": ("jpeg", "read_jpeg"),
    "PNG": ("png", "read_png"),
    "TIFF": ("tiff", "read_tiff"),
    "HEIC": ("heif", "read_heif"),
    "DNG": ("raw", "read_raw"),
    "raw": ("raw", "read_raw"),
}
"""Module here, and its function. Imported when such a file comes: each brings a decoder along."""

_MOST_BYTES = 3 * 1024**3
_SOME = 17
"""Of so many rows and columns one is enough to tell whether a photo has colours."""


def read_photo(path: str | os.PathLike[str], halved: bool = False) -> Photo:
    """Read a photo, upright, with what its values stand for.

    Parameters
    ----------
    path : path-like
        A JPEG, PNG (8 or 16 bits), TIFF (8 or 16 bits), HEIC, DNG or other camera raw file; its
        contents tell which, not its name.
    halved : bool
        Whether a large JPEG may come with half its rows and columns, which is sooner decoded:
        its decoder gives the means of squares of four pixels. `Photo.shrunk` tells.

    Returns
    -------
    Photo
        Its notices may be: no_profile (the file does not say what its values stand for, sRGB is
        assumed), profile_unreadable (with the reason; sRGB assumed), lut_profile (with the
        reason: look-up tables only; sRGB assumed), photo_looks_grey (the channels are
        equal everywhere), camera_colours_unknown (raw light of a camera that the file says nothing
        of; a typical camera's colours are taken).

    Raises
    ------
    DyeshadeError
        photo_missing; photo_unreadable (reason); photo_truncated; photo_kind_unknown;
        photo_kind_unsupported (kind); photo_without_colour; photo_transparent; photo_too_small
        (width, height, least); photo_too_large (width, height, most, or bytes).
        All carry photo, the file's name.
    """
    path = Path(path)
    try:
        data = _bytes_of(path)
        file_format = kind_of(data)
        if file_format == "JPEG" and halved:
            contents = _halved_jpeg(data)
        else:
            contents = _reader_of(file_format)(data)
    except DyeshadeError as error:
        raise DyeshadeError(error.code, **{**error.facts, "photo": path.name}) from error
    notes = contents.notes or read_exif(contents.exif)
    turn = notes.orientation if contents.orientation is None else contents.orientation
    encoding, notice = _encoding_of(contents, notes)
    notices = [*contents.notices] if notice is None else [*contents.notices, notice]
    if _looks_grey(contents.coded):
        notices.append(Notice("photo_looks_grey", {}))
    return Photo(
        name=path.name,
        coded=upright(contents.coded, turn),
        encoding=encoding,
        taken=notes.taken,
        camera=notes.camera,
        file_format=file_format,
        flash=notes.flash,
        notices=tuple(notices),
        shrunk=contents.shrunk,
    )


def _reader_of(file_format: str) -> Callable[[bytes], Contents]:
    module, name = _READERS[file_format]
    reader: Callable[[bytes], Contents] = getattr(import_module(f"dyeshade.photo.{module}"), name)
    return reader


def _halved_jpeg(data: bytes) -> Contents:
    from dyeshade.photo.jpeg import read_jpeg

    return read_jpeg(data, halved=True)


def _bytes_of(path: Path) -> bytes:
    try:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode):
            raise unreadable("not a file")
        if found.st_size > _MOST_BYTES:
            raise DyeshadeError("photo_too_large", bytes=found.st_size)
        return path.read_bytes()
    except (FileNotFoundError, NotADirectoryError) as error:
        raise DyeshadeError("photo_missing") from error
    except PermissionError as error:
        raise unreadable("no permission to read it") from error
    except OSError as error:
        raise unreadable(error.strerror or "the disk did not give it") from error


def _encoding_of(contents: Contents, notes: CameraNotes) -> tuple[Encoding, Notice | None]:
    """What the values stand for: the profile, else the format, else Exif, else sRGB assumed."""
    if contents.profile:
        try:
            return read_profile(contents.profile), None
        except ProfileError as error:
            code = "lut_profile" if error.only_tables else "profile_unreadable"
            return srgb_encoding(assumed=True), Notice(code, {"reason": error.reason})
    if contents.stated is not None:
        return contents.stated, None
    if notes.colour_space == "Adobe RGB":
        return adobe_rgb_encoding(), None
    if notes.colour_space == "sRGB":
        return srgb_encoding(), None
    return srgb_encoding(assumed=True), Notice("no_profile", {})


def _looks_grey(coded: Coded) -> bool:
    """Whether the channels are equal: only a black-and-white photo has no noise between them."""
    some = coded[::_SOME, ::_SOME].astype(np.int32)
    red, green, blue = some[..., 0], some[..., 1], some[..., 2]
    step = np.iinfo(coded.dtype).max // 255
    most = max(
        np.abs(one - other).max() for one, other in ((red, green), (green, blue), (blue, red))
    )
    return bool(most <= step)
