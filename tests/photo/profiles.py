"""ICC profiles built byte by byte (ICC.1:2022, 7.2, 9.2, 10.6, 10.18, 10.31)."""

from __future__ import annotations

import struct

import numpy as np

# ICC.1:2022, 6.3.4.3
D50 = (0.9642, 1.0, 0.8249)
# Display P3 and Adobe RGB in D50, as Bradford brings them there: sums are D50.
DISPLAY_P3 = [[0.5151, 0.2920, 0.1571], [0.2412, 0.6922, 0.0666], [-0.0011, 0.0419, 0.7841]]
# The chad of ICC sRGB and Display P3 profiles, D65 to D50 by Bradford.
CHAD = [[1.04788, 0.02292, -0.05020], [0.02957, 0.99049, -0.01706], [-0.00923, 0.01508, 0.75168]]
# ROMM RGB (ISO 22028-2), whose white is D50 itself.
ROMM = [[0.7977, 0.1352, 0.0313], [0.2880, 0.7119, 0.0001], [0.0000, 0.0000, 0.8249]]


def fixed(*numbers: float) -> bytes:
    return struct.pack(f">{len(numbers)}i", *(round(number * 65536) for number in numbers))


def xyz(*numbers: float) -> bytes:
    return b"XYZ \0\0\0\0" + fixed(*numbers)


def chad(matrix=CHAD) -> bytes:
    return b"sf32\0\0\0\0" + fixed(*np.ravel(matrix))


def para(function: int, *parameters: float) -> bytes:
    return b"para\0\0\0\0" + struct.pack(">HH", function, 0) + fixed(*parameters)


def curv(*entries: int) -> bytes:
    return b"curv\0\0\0\0" + struct.pack(f">I{len(entries)}H", len(entries), *entries)


def gamma(exponent: float) -> bytes:
    return curv(round(exponent * 256))


def desc(name: str) -> bytes:
    """Version 2."""
    text = name.encode("ascii") + b"\0"
    return b"desc\0\0\0\0" + struct.pack(">I", len(text)) + text + bytes(78)


def mluc(name: str) -> bytes:
    """Version 4."""
    text = name.encode("utf-16-be")
    return b"mluc\0\0\0\0" + struct.pack(">II4sII", 1, 12, b"enUS", len(text), 28) + text


SRGB_CURVE = para(3, 2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)


def profile(tags: dict[bytes, bytes], space=b"RGB ", version=4, pcs=b"XYZ ") -> bytes:
    table, body = b"", b""
    start = 128 + 4 + 12 * len(tags)
    for name, data in tags.items():
        table += struct.pack(">4sII", name, start + len(body), len(data))
        body += data + bytes(-len(data) % 4)
    header = bytearray(128)
    struct.pack_into(">I", header, 0, start + len(body))
    header[8] = version
    header[12:24] = b"mntr" + space + pcs
    struct.pack_into(">6H", header, 24, 2024, 1, 1, 0, 0, 0)
    header[36:40] = b"acsp"
    header[68:80] = fixed(*D50)
    return bytes(header) + struct.pack(">I", len(tags)) + table + body


def matrix_profile(
    matrix=DISPLAY_P3, curve: bytes = SRGB_CURVE, name="built", version=4, adaptation=CHAD
) -> bytes:
    columns = np.array(matrix).T
    tags = {
        b"desc": mluc(name) if version == 4 else desc(name),
        b"cprt": mluc("none"),
        b"wtpt": xyz(*D50),
        b"rXYZ": xyz(*columns[0]),
        b"gXYZ": xyz(*columns[1]),
        b"bXYZ": xyz(*columns[2]),
        b"rTRC": curve,
        b"gTRC": curve,
        b"bTRC": curve,
    }
    if adaptation is not None:
        tags[b"chad"] = chad(adaptation)
    return profile(tags, version=version)
