"""HEIC and DNG files for the tests, of known values."""

from __future__ import annotations

import io

import numpy as np
import pillow_heif
import tifffile

BLACK, WHITE = (500, 510, 520, 530), 15000
MATRIX = np.array([[0.8, -0.2, -0.1], [-0.4, 1.2, 0.2], [-0.1, 0.2, 0.6]])
"""XYZ to the channels of an invented camera."""

MOSAIC, LINEAR_RAW = 32803, 34892


def heic10(codes: np.ndarray, **options) -> bytes:
    """A HEIC of 10-bit codes; with `matrix_coefficients=0` and `quality=-1` it loses nothing."""
    height, width, _ = codes.shape
    upper = (codes.astype(np.uint16) << 6).tobytes()
    return _heic(pillow_heif.from_bytes("RGB;16", (width, height), upper), options)


def heic8(image: np.ndarray, **options) -> bytes:
    height, width, channels = image.shape
    mode = {1: "L", 3: "RGB", 4: "RGBA"}[channels]
    return _heic(pillow_heif.from_bytes(mode, (width, height), image.tobytes()), options)


def _heic(file, options) -> bytes:
    icc = options.pop("icc_profile", None)
    if icc is not None:
        file.info["icc_profile"] = icc
    out = io.BytesIO()
    fast = {"enc_params": {"preset": "ultrafast"}}
    file.save(out, **{"quality": -1, "chroma": 444, **fast, **options})
    return out.getvalue()


def rationals(values) -> list[int]:
    return [part for value in np.ravel(values) for part in (round(float(value) * 10000), 10000)]


def sites(light: np.ndarray, black=BLACK, white=WHITE) -> np.ndarray:
    """A mosaic R G / G B of the sensor's numbers, from linear light (h, w, 3); twice the size."""
    height, width, _ = light.shape
    mosaic = np.zeros((2 * height, 2 * width))
    for (y, x), channel, low in zip(
        ((0, 0), (0, 1), (1, 0), (1, 1)), (0, 1, 1, 2), black, strict=True
    ):
        mosaic[y::2, x::2] = low + light[..., channel] * (white - low)
    return np.round(np.clip(mosaic, 0, 65535)).astype(np.uint16)


def dng(
    numbers: np.ndarray,
    black=BLACK,
    white: int = WHITE,
    matrix=MATRIX,
    orientation: int = 1,
    preview: np.ndarray | None = None,
    neutral=(0.5, 1.0, 0.6),
    pattern=((0, 1), (1, 2)),
    more=(),
    **options,
) -> bytes:
    """A DNG of a mosaic (h, w), or of all three colours in each pixel (h, w, 3).

    A preview becomes the first picture, as cameras write it; the raw one is then below it.
    """
    camera = [
        (271, "s", 0, "Bramble", True),
        (272, "s", 0, "R-1", True),
        (274, "H", 1, orientation, True),
        (50706, "B", 4, (1, 4, 0, 0), True),
        (50707, "B", 4, (1, 1, 0, 0), True),
        (50708, "s", 0, "Bramble R-1", True),
        (50728, "2I", 3, rationals(neutral), True),
        (50778, "H", 1, 21, True),
        *more,
    ]
    if matrix is not None:
        camera.append((50721, "2i", 9, rationals(matrix), True))
    levels = [(50717, "I", 1, white, True)]
    if numbers.ndim == 2:
        colours = np.array(pattern)
        side = round(len(black) ** 0.5)
        levels += [
            (33421, "H", 2, colours.shape, True),
            (33422, "B", colours.size, tuple(colours.ravel().tolist()), True),
            (50713, "H", 2, (side, side), True),
            (50714, "I", len(black), black if side > 1 else black[0], True),
        ]
        options = {"photometric": MOSAIC, **options}
    else:
        levels += [(50713, "H", 2, (1, 1), True), (50714, "I", 3, black[:3], True)]
        options = {"photometric": LINEAR_RAW, "planarconfig": 1, **options}
    out = io.BytesIO()
    with tifffile.TiffWriter(out) as file:
        plain = {"metadata": None, "software": None}
        if preview is None:
            file.write(numbers, extratags=camera + levels, **plain, **options)
        else:
            tags = {"extratags": camera, "photometric": "rgb", "subfiletype": 1, "subifds": 1}
            file.write(preview, **tags, **plain)
            file.write(numbers, extratags=levels, subfiletype=0, **plain, **options)
    return out.getvalue()
