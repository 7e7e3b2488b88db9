"""What the readers of the single formats hand over, and what they refuse alike."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import DyeshadeError, Notice
from dyeshade.photo.encoding import Encoding
from dyeshade.photo.exif import CameraNotes

Coded = NDArray[np.uint8] | NDArray[np.uint16]

SHORTEST_SIDE = 600
MOST_PIXELS = 250_000_000


@dataclass(frozen=True, eq=False)
class Contents:
    """A decoded file.

    Attributes
    ----------
    coded : ndarray, shape (height, width, 3), uint8 or uint16
        Red, green, blue, as stored: not turned.
    exif : bytes
        The Exif block from its byte order mark on; empty where there is none.
    profile : bytes
        The ICC profile; empty where there is none.
    stated : Encoding or None
        What the format itself states in place of a profile.
    orientation : int or None
        How `coded` lies, as in Exif's tag; None where Exif tells.
    notes : CameraNotes or None
        What the camera noted, where that is not read from `exif`.
    notices : tuple of Notice
        What a reader of the numbers must know of this file.
    shrunk : int
        How many of the file's pixels, along each side, one of `coded` stands for.
    """

    coded: Coded
    exif: bytes = field(default=b"", repr=False)
    profile: bytes = field(default=b"", repr=False)
    stated: Encoding | None = None
    orientation: int | None = None
    notes: CameraNotes | None = None
    notices: tuple[Notice, ...] = ()
    shrunk: int = 1


def check_size(width: int, height: int) -> None:
    """Refuse a photo by the size in its header, before anything is unpacked.

    Raises
    ------
    DyeshadeError
        photo_too_small or photo_too_large, with width, height and the limit.
    """
    if min(width, height) < SHORTEST_SIDE:
        raise DyeshadeError("photo_too_small", width=width, height=height, least=SHORTEST_SIDE)
    if width * height > MOST_PIXELS:
        raise DyeshadeError("photo_too_large", width=width, height=height, most=MOST_PIXELS)


def unreadable(reason: str) -> DyeshadeError:
    """A photo_unreadable with a few plain words."""
    return DyeshadeError("photo_unreadable", reason=reason)


def unsupported(kind: str) -> DyeshadeError:
    """A photo_kind_unsupported with the kind."""
    return DyeshadeError("photo_kind_unsupported", kind=kind)


def without_alpha(coded: Coded) -> Coded:
    """The first three channels.

    Raises
    ------
    DyeshadeError
        photo_transparent, where the fourth is not full everywhere: what shows through is unknown.
    """
    if coded.shape[2] == 4 and coded[..., 3].min() != np.iinfo(coded.dtype).max:
        raise DyeshadeError("photo_transparent")
    return coded[..., :3]
