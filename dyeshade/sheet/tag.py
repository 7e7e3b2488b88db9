"""A piece's tag: what its code says, and where things are on it.

The code is a QR code (ISO/IEC 18004) of ``DS1:<piece>:<check>``, as ``DS1:W-014:QH``: the piece's
code, and two letters that tell a tag of ours from any other code. All of it is in QR's alphanumeric
set, which every reader decodes alike: letters in upper case (upper and lower case of a piece's code
are the same), any other character as ``%`` and two hexadecimal digits for each byte of its UTF-8.
The check is the CRC-32 of what stands before its colon, modulo 841, written as two letters of
`dyeshade.sheet.serial.ALPHABET`, the higher one first.

Whoever sees the code knows where the tag ends: all sizes have the same shape.
"""

from __future__ import annotations

import zlib
from typing import Final
from urllib.parse import unquote

from dyeshade.sheet.serial import ALPHABET

_KIND: Final = "DS1"
_PLAIN: Final = frozenset("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $*+-./")
_UPPER: Final = {code: code - 32 for code in range(ord("a"), ord("z") + 1)}

LEFT, TOP, RIGHT, BOTTOM = -0.25, -0.72, 1.25, 1.75
"""The tag's edges, from its code's top left corner, in sides of the code."""

HOLE: Final = (0.5, -0.44)
"""The middle of its hole, likewise."""

HOLE_ACROSS: Final = 0.3

QUIET: Final = 0.2
"""What stays white around the code: four modules (ISO/IEC 18004) of twenty-one."""


def tag_text(piece: str) -> str:
    """What the code on a piece's tag says.

    Parameters
    ----------
    piece : str
        The piece's code.

    Raises
    ------
    ValueError
        For an empty code.
    """
    if not piece.strip():
        raise ValueError("a tag without a piece")
    upper = piece.strip().translate(_UPPER)
    body = f"{_KIND}:{''.join(one if one in _PLAIN else _escaped(one) for one in upper)}"
    return f"{body}:{_check(body)}"


def piece_on_tag(text: str) -> str | None:
    """The piece that a code names; None where it is no tag of ours.

    Parameters
    ----------
    text : str
        As a reader of QR codes gives it.
    """
    body, colon, check = text.rpartition(":")
    kind, second, piece = body.partition(":")
    if not (colon and second and kind == _KIND and check == _check(body)):
        return None
    try:
        code = unquote(piece, errors="strict").strip()
    except UnicodeDecodeError:
        return None
    return code if code and code.isprintable() else None


def _escaped(character: str) -> str:
    return "".join(f"%{byte:02X}" for byte in character.encode())


def _check(body: str) -> str:
    rest = zlib.crc32(body.encode()) % len(ALPHABET) ** 2
    high, low = divmod(rest, len(ALPHABET))
    return ALPHABET[high] + ALPHABET[low]
