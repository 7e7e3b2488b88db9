"""HEIC files, as phones write them, of 8, 10 and 12 bits.

References
----------
ISO/IEC 23008-12 (HEIF): 6.5.10 (rotation) and 6.5.12 (mirroring) belong to the picture, and Exif's
orientation is no more than a note; 6.5.5 (colour information).
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pillow_heif

from dyeshade.errors import DyeshadeError
from dyeshade.photo.code_points import encoding_of
from dyeshade.photo.container import Coded, Contents, check_size, unreadable, without_alpha

_EXIF = b"Exif\0\0"
_UPRIGHT = 1
_STRIP = 8


def read_heif(data: bytes) -> Contents:
    """Decode the main picture of a HEIC file.

    Parameters
    ----------
    data : bytes
        The whole file.

    Returns
    -------
    Contents
        8 bits; 10 and 12 bits come as 16. Turned already, as the format asks of its decoders.

    Raises
    ------
    DyeshadeError
        photo_unreadable, photo_truncated, photo_kind_unsupported (high dynamic range),
        photo_without_colour, photo_transparent, photo_too_small, photo_too_large.
    """
    try:
        # Opened by itself: as a plugin of Pillow it would change Pillow for everybody.
        file = pillow_heif.open_heif(data, convert_hdr_to_8bit=False)
        image = file[file.primary_index]
        check_size(*image.size)
        if not image.mode.startswith("RGB"):
            raise DyeshadeError("photo_without_colour")
        info: dict[str, Any] = image.info
        nclx = info.get("nclx_profile") or {}
        stated = encoding_of(
            int(nclx.get("color_primaries", 2)),
            int(nclx.get("transfer_characteristics", 2)),
            "HEIC",
        )
        stored = np.asarray(image)
    except DyeshadeError:
        raise
    except (ValueError, RuntimeError, EOFError, SyntaxError, OSError, IndexError) as error:
        # What the decoder raises on damaged data is not of one kind.
        if "end of file" in str(error).lower() or isinstance(error, EOFError):
            raise DyeshadeError("photo_truncated") from error
        raise unreadable("damaged HEIC data") from error
    return Contents(
        without_alpha(_full_scale(stored, int(info["bit_depth"]))),
        bytes(info.get("exif") or b"").removeprefix(_EXIF),
        bytes(info.get("icc_profile") or b""),
        stated,
        orientation=_UPRIGHT,
    )


def _full_scale(stored: Coded, depth: int) -> Coded:
    """Codes of 10 or 12 bits, which come as the upper bits of 16, spread over all of 16."""
    if stored.dtype == np.uint8:
        return stored
    most, up = (1 << depth) - 1, 16 - depth
    rest = 65535 - (most << up)
    full = np.empty_like(stored)
    # Whole numbers, in strips that stay near the processor: a photo has a hundred million values.
    for row in range(0, len(stored), _STRIP):
        codes = stored[row : row + _STRIP] >> up
        np.left_shift(codes, up, out=full[row : row + _STRIP])
        # Of what is left between that and the code's share of 65535, the nearest.
        codes *= rest
        codes += most // 2
        codes //= most
        full[row : row + _STRIP] += codes
    return full
