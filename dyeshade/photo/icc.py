"""ICC matrix profiles as numbers, evaluated in float.

A conversion by a colour engine would leave 8-bit steps in the shadows; the three curves and the
matrix of a profile are read here instead, and applied where a region is read.

References
----------
ICC.1:2022 (version 4) and ICC.1:2001-04 (version 2): 7.2 header, 9.2 tags, 10.6 curveType,
10.18 parametricCurveType, 10.31 XYZType, annex E (chromatic adaptation tag).
"""

from __future__ import annotations

import math
import struct

import numpy as np
from numpy.typing import NDArray

from dyeshade.photo.curves import Curve, ParametricCurve, TableCurve
from dyeshade.photo.encoding import Encoding, adapted_to_d65

_MOST_TAGS = 200
# Parameters of the function types 0 to 4.
_PARAMETERS = (1, 3, 4, 5, 7)


class ProfileError(Exception):
    """A profile that cannot be honoured as curves and a matrix.

    Attributes
    ----------
    only_tables : bool
        True for a sound profile that has no matrix but look-up tables.
    reason : str
        A few plain words.
    """

    def __init__(self, reason: str, only_tables: bool = False) -> None:
        super().__init__(reason)
        self.reason = reason
        self.only_tables = only_tables


def read_profile(profile: bytes) -> Encoding:
    """The curves and the matrix of an RGB profile.

    Parameters
    ----------
    profile : bytes
        An ICC profile of version 2 or 4.

    Returns
    -------
    Encoding
        Its matrix leads to XYZ under D65: the profile's own adaptation to D50 ("chad") is
        undone where it is stated, and what is left to D65 is done by Bradford.

    Raises
    ------
    ProfileError
        Where the profile is damaged, not of RGB, or has look-up tables only.
    """
    tags = _tags_of(profile)
    name = _description(tags.get(b"desc", b""))
    if profile[16:20] != b"RGB ":
        kind = profile[16:20].decode("ascii", errors="replace").strip()
        raise ProfileError(f"a profile of {kind}, not of RGB")
    colourants = [tags.get(tag) for tag in (b"rXYZ", b"gXYZ", b"bXYZ")]
    responses = [tags.get(tag) for tag in (b"rTRC", b"gTRC", b"bTRC")]
    if None in colourants or None in responses:
        if b"A2B0" in tags or b"A2B1" in tags or b"A2B2" in tags:
            raise ProfileError("look-up tables only", only_tables=True)
        raise ProfileError("a profile without primaries or curves")
    # The connection space of a matrix profile is XYZ; Lab goes with look-up tables.
    if profile[20:24] != b"XYZ ":
        raise ProfileError("primaries that are not XYZ")
    red, green, blue = (_curve(data or b"") for data in responses)
    matrix = np.column_stack([_numbers(data or b"", b"XYZ ", 3) for data in colourants])
    return Encoding((red, green, blue), _under_d65(matrix, tags.get(b"chad")), name, assumed=False)


def _tags_of(profile: bytes) -> dict[bytes, bytes]:
    if len(profile) < 132 or profile[36:40] != b"acsp":
        raise ProfileError("not an ICC profile")
    (count,) = struct.unpack_from(">I", profile, 128)
    if count > _MOST_TAGS or 132 + 12 * count > len(profile):
        raise ProfileError("a damaged table of tags")
    tags: dict[bytes, bytes] = {}
    for index in range(count):
        name, offset, size = struct.unpack_from(">4sII", profile, 132 + 12 * index)
        if offset + size <= len(profile):
            tags[name] = profile[offset : offset + size]
    return tags


def _numbers(data: bytes, kind: bytes, count: int) -> NDArray[np.float64]:
    """`count` s15Fixed16 numbers of an XYZ or sf32 tag."""
    if data[:4] != kind or len(data) < 8 + 4 * count:
        raise ProfileError("a damaged tag of numbers")
    return np.frombuffer(data, dtype=">i4", count=count, offset=8).astype(np.float64) / 65536.0


def _under_d65(matrix: NDArray[np.float64], chad: bytes | None) -> NDArray[np.float64]:
    """The matrix of primaries, in the connection space's D50, carried over to D65."""
    native: NDArray[np.float64] = matrix
    if chad is not None:
        adaptation = _numbers(chad, b"sf32", 9).reshape(3, 3)
        # A chad of zeros, as some writers leave behind, says nothing.
        if abs(np.linalg.det(adaptation)) > 0.05:
            native = np.linalg.solve(adaptation, matrix).astype(np.float64)
    white = native.sum(axis=1)
    if not 0.5 < white[1] < 1.5 or abs(np.linalg.det(native)) < 1e-4:
        raise ProfileError("primaries that make no white")
    try:
        return adapted_to_d65(native)
    except ValueError as error:
        raise ProfileError("primaries that make no white") from error


def _curve(data: bytes) -> Curve:
    curve = _parametric(data) if data[:4] == b"para" else _tabulated(data)
    light = curve(np.linspace(0.0, 1.0, 257))
    if not np.all(np.isfinite(light)) or np.any(np.diff(light) < -1e-3) or light[-1] < 0.5:
        raise ProfileError("a curve that does not rise from dark to light")
    return curve


def _tabulated(data: bytes) -> Curve:
    if data[:4] != b"curv" or len(data) < 12:
        raise ProfileError("a damaged curve")
    (count,) = struct.unpack_from(">I", data, 8)
    if 12 + 2 * count > len(data):
        raise ProfileError("a damaged curve")
    if count == 0:
        return ParametricCurve(1.0)
    entries = np.frombuffer(data, dtype=">u2", count=count, offset=12)
    if count == 1:
        exponent = float(entries[0]) / 256.0
        if not 0.1 <= exponent <= 10.0:
            raise ProfileError("a curve that does not rise from dark to light")
        return ParametricCurve(exponent)
    return TableCurve(tuple((entries / 65535.0).tolist()))


def _parametric(data: bytes) -> ParametricCurve:
    if len(data) < 12:
        raise ProfileError("a damaged curve")
    (function,) = struct.unpack_from(">H", data, 8)
    if function >= len(_PARAMETERS):
        raise ProfileError(f"a curve of unknown function type {function}")
    count = _PARAMETERS[function]
    if len(data) < 12 + 4 * count:
        raise ProfileError("a damaged curve")
    stored = struct.unpack_from(f">{count}i", data, 12)
    g, a, b, c, d, e, f = [number / 65536.0 for number in stored] + [0.0] * (7 - count)
    if not 0.1 <= g <= 10.0:
        raise ProfileError("a curve that does not rise from dark to light")
    if function == 0:
        return ParametricCurve(g)
    if function in (1, 2):
        # Below -b/a these stay at the constant, which is the third parameter of type 2.
        if a == 0.0 or not math.isfinite(b / a):
            raise ProfileError("a curve that does not rise from dark to light")
        return ParametricCurve(g, a, b, 0.0, -b / a, e=c, f=c)
    return ParametricCurve(g, a, b, c, d, e, f)


def _description(data: bytes) -> str:
    """The profile's name, from a version 2 or a version 4 description."""
    text = ""
    if data[:4] == b"desc" and len(data) >= 12:
        (length,) = struct.unpack_from(">I", data, 8)
        text = data[12 : 12 + min(length, 200)].decode("latin-1")
    elif data[:4] == b"mluc" and len(data) >= 28:
        length, offset = struct.unpack_from(">II", data, 20)
        text = data[offset : offset + min(length, 400)].decode("utf-16-be", errors="replace")
    printable = "".join(letter for letter in text.split("\0")[0] if letter.isprintable()).strip()
    return printable or "unnamed profile"
