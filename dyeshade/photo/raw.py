"""Raw light: DNG and the raw files of cameras, untouched by any tone curve, look or white balance.

LibRaw unpacks the sensor's numbers; what they become is done here. A camera's mosaic is not filled
in but put together, one pixel for each group of sites that holds all three colours: nothing is
invented, and noise falls.

References
----------
Adobe DNG Specification 1.6, chapter 5 (black and white level), chapter 6 (colour).
"""

from __future__ import annotations

import io
from dataclasses import dataclass

import numpy as np
import rawpy
from numpy.typing import NDArray

from dyeshade.errors import DyeshadeError, Notice
from dyeshade.photo.camera_space import (
    PEDESTAL,
    from_camera_to_srgb,
    from_xyz_to_camera,
    raw_encoding,
)
from dyeshade.photo.container import Coded, Contents, check_size, unreadable, unsupported
from dyeshade.photo.encoding import Encoding
from dyeshade.photo.raw_notes import read_raw_notes
from dyeshade.photo.raw_pieces import check_pieces, is_dng

Array = NDArray[np.float64]

# LibRaw's turn (bit 0 mirrors columns, bit 1 rows, bit 2 swaps both first) as Exif's number.
_ORIENTATION = {0: 1, 1: 2, 3: 3, 2: 4, 4: 5, 6: 6, 7: 7, 5: 8}
_CHANNELS = {"R": 0, "G": 1, "B": 2}
_BAND_ROWS = 1200
_NEAR_FULL = 0.99
"""Sites are full from here on: they differ a little, and so do noted white levels."""
_MOST_SIDE = 3000


@dataclass(frozen=True, eq=False)
class _Levels:
    """Black and full scale, for each of LibRaw's four colour numbers, in the sensor's numbers."""

    black: Array
    full: Array


def read_raw(data: bytes) -> Contents:
    """Decode a raw file.

    Parameters
    ----------
    data : bytes
        The whole file: DNG, or what LibRaw knows of the cameras' own kinds.

    Returns
    -------
    Contents
        16 bits, linear between black and full scale, with its encoding. A mosaic comes in half the
        size (in a third, where its pattern is of three by three). Groups with a full site are at
        full scale. Its notice may be: camera_colours_unknown (the file does not say what the
        camera's channels stand for, those of a typical camera are taken).

    Raises
    ------
    DyeshadeError
        photo_unreadable, photo_truncated, photo_kind_unsupported, photo_without_colour,
        photo_too_small, photo_too_large.
    """
    check_pieces(data)
    try:
        with rawpy.RawPy() as raw:
            raw.open_buffer(io.BytesIO(data))
            check_size(raw.sizes.width, raw.sizes.height)
            raw.unpack()
            channels = _channels(raw)
            levels = _levels(raw)
            if raw.raw_type == rawpy.RawType.Stack:
                coded = _of_stack(raw.raw_image_visible, levels)
            else:
                coded = _of_mosaic(raw, channels, levels)
            check_size(coded.shape[1], coded.shape[0])
            encoding = _encoding(raw, is_dng(data))
            turn = int(raw.sizes.flip)
    except rawpy.LibRawFileUnsupportedError as error:
        raise unsupported("camera raw of this kind") from error
    except rawpy.LibRawNotImplementedError as error:
        raise unsupported("camera raw of this kind") from error
    except (rawpy.LibRawIOError, rawpy.LibRawDataError) as error:
        raise DyeshadeError("photo_truncated") from error
    except rawpy.LibRawUnsufficientMemoryError as error:
        raise MemoryError from error
    except rawpy.LibRawError as error:
        raise unreadable("damaged raw data") from error
    told = (Notice("camera_colours_unknown", {}),) if encoding.assumed else ()
    return Contents(
        coded,
        stated=encoding,
        orientation=_ORIENTATION.get(turn, 1),
        notes=read_raw_notes(data),
        notices=told,
    )


def _channels(raw: rawpy.RawPy) -> tuple[int, ...]:
    """Which of red, green, blue each of LibRaw's colour numbers is."""
    named = raw.color_desc.decode("ascii", errors="replace")
    if raw.num_colors == 1:
        raise DyeshadeError("photo_without_colour")
    if raw.num_colors != 3 or not set(named) <= set(_CHANNELS):
        raise unsupported("camera raw of other colours than red, green and blue")
    return tuple(_CHANNELS[letter] for letter in named)


def _levels(raw: rawpy.RawPy) -> _Levels:
    black = np.array(raw.black_level_per_channel, dtype=np.float64)
    full = np.full(4, float(raw.white_level))
    noted = raw.camera_white_level_per_channel
    if noted is not None:
        # Where the maker notes a lower end of what is linear, that counts; zero is no note.
        own = np.array(noted, dtype=np.float64)
        full = np.where(own > 0.5 * full, np.minimum(own, full), full)
    if (full <= black + 1).any():
        raise unreadable("black and white level make no sense")
    return _Levels(black, full)


def _code(light: NDArray[np.float32], full: NDArray[np.bool_]) -> Coded:
    """Codes of light 0..1, with room for noise below black; full groups at the end of the scale."""
    coded = light * np.float32(65535 * (1 - PEDESTAL)) + np.float32(65535 * PEDESTAL + 0.5)
    np.clip(coded, 0, 65535, out=coded)
    result = coded.astype(np.uint16)
    result[full] = 65535
    return result


def _of_mosaic(raw: rawpy.RawPy, channels: tuple[int, ...], levels: _Levels) -> Coded:
    image = raw.raw_image_visible
    period, side = _pattern(raw.raw_colors_visible[:12, :12], channels)
    pattern = raw.raw_colors_visible[:period, :period]
    height, width = (size // period * period for size in image.shape)
    coded = np.empty((height // side, width // side, 3), dtype=np.uint16)
    step = max(_BAND_ROWS // period * period, period)
    for top in range(0, height, step):
        band = image[top : min(top + step, height), :width]
        end = (top + len(band)) // side
        coded[top // side : end] = _band(band, pattern, side, channels, levels)
    return coded


def _pattern(colours: NDArray[np.uint8], channels: tuple[int, ...]) -> tuple[int, int]:
    """Period of a mosaic, and the side of the smallest square group with all three colours.

    Raises
    ------
    DyeshadeError
        photo_kind_unsupported, where there is no such group.
    """
    named = np.array(channels)[colours]
    for period, side in ((2, 2), (6, 3)):
        repeated = np.tile(colours[:period, :period], (12 // period, 12 // period))
        if not np.array_equal(repeated, colours):
            continue
        places = range(0, period, side)
        groups = [named[y : y + side, x : x + side] for y in places for x in places]
        if all(set(group.ravel().tolist()) == {0, 1, 2} for group in groups):
            return period, side
    raise unsupported("camera raw of a rare mosaic")


def _band(
    band: NDArray[np.uint16],
    pattern: NDArray[np.uint8],
    side: int,
    channels: tuple[int, ...],
    levels: _Levels,
) -> Coded:
    """Mean light of each colour in each group of sites."""
    period = len(pattern)
    groups = (len(band) // side, band.shape[1] // side)
    light = np.zeros((*groups, 3), dtype=np.float32)
    full = np.zeros((*groups, 3), dtype=np.bool_)
    per_period = period // side
    for down, across in np.ndindex(per_period, per_period):
        inside = pattern[down * side : (down + 1) * side, across * side : (across + 1) * side]
        counts = np.bincount(np.array(channels)[inside].ravel(), minlength=3)
        here = (slice(down, None, per_period), slice(across, None, per_period))
        for (y, x), colour in np.ndenumerate(inside):
            site = band[down * side + y :: period, across * side + x :: period]
            black, end = levels.black[colour], levels.full[colour]
            channel = channels[colour]
            scale = np.float32(1.0 / ((end - black) * counts[channel]))
            light[here][..., channel] += (site - np.float32(black)) * scale
            full[here][..., channel] |= site >= black + _NEAR_FULL * (end - black)
    return _code(light, full)


def _of_stack(image: NDArray[np.uint16], levels: _Levels) -> Coded:
    """A picture that has all colours in each pixel; very large ones are halved, for memory."""
    side = 2 if min(image.shape[:2]) >= _MOST_SIDE else 1
    height, width = (size // side * side for size in image.shape[:2])
    coded = np.empty((height // side, width // side, 3), dtype=np.uint16)
    black = levels.black[:3].astype(np.float32)
    scale = (1.0 / (levels.full[:3] - levels.black[:3])).astype(np.float32)
    for top in range(0, height, _BAND_ROWS):
        bottom = min(top + _BAND_ROWS, height)
        light = (image[top:bottom, :width, :3] - black) * scale
        full = light >= _NEAR_FULL
        if side == 2:
            parts = [(slice(y, None, 2), slice(x, None, 2)) for y in (0, 1) for x in (0, 1)]
            light = np.mean([light[part] for part in parts], axis=0, dtype=np.float32)
            full = np.logical_or.reduce([full[part] for part in parts])
        coded[top // side : bottom // side] = _code(light, full)
    return coded


def _encoding(raw: rawpy.RawPy, own_tags: bool) -> Encoding:
    """The matrix of a DNG's own tags (LibRaw hands it over as `color_matrix`), else of a table."""
    known = from_xyz_to_camera(np.array(raw.rgb_xyz_matrix[:3], dtype=np.float64))
    noted = from_camera_to_srgb(np.array(raw.color_matrix[:, :3], dtype=np.float64))
    gains = np.array(raw.camera_whitebalance[:3], dtype=np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):
        white = 1.0 / gains
    return raw_encoding((noted, known) if own_tags else (known, noted), white)
