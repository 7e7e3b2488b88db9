"""The part of a kept photo that shows a sample, as a picture for the screen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from dyeshade.errors import DyeshadeError
from dyeshade.work.side_by_side import Crashed, Warm, run_each

LONGEST_PX = 520
"""The longer side of the picture."""

_MARGIN = 0.12
_QUALITY = 93


@dataclass(frozen=True)
class CutOut:
    """What is to be cut out.

    Attributes
    ----------
    path : str
    outline_px : tuple of (x, y)
        Of the sample, in pixels of the upright photo; empty for the whole photo.
    """

    path: str
    outline_px: tuple[tuple[float, float], ...] = ()


def cut_out(wanted: CutOut, warm: Warm | None = None) -> bytes:
    """Cut a sample out of its photo, in a process of its own.

    Parameters
    ----------
    wanted : CutOut
    warm : Warm, optional
        A process that stays ready.

    Returns
    -------
    bytes
        A JPEG in sRGB, with a little of what lies around the sample.

    Raises
    ------
    DyeshadeError
        As `dyeshade.photo.read.read_photo`; ``reader_crashed``.
    """
    for finished in run_each(cut_out_here, [wanted], 1, warm):
        if isinstance(finished.found, Crashed):
            raise DyeshadeError("reader_crashed")
        if isinstance(finished.found, DyeshadeError):
            raise finished.found
        return finished.found
    raise AssertionError("one thing in, one thing out")


def cut_out_here(wanted: CutOut) -> bytes | DyeshadeError:
    """The same in this process; a refusal is given back, since it has to travel."""
    from dyeshade.measure.corrected import as_taken
    from dyeshade.photo.read import read_photo
    from dyeshade.photo.vision import cv2, use_threads

    use_threads(1)
    try:
        photo = read_photo(wanted.path)
    except DyeshadeError as error:
        return error
    except MemoryError:
        return DyeshadeError("not_enough_memory")
    rows, columns = _window(wanted.outline_px, photo.height, photo.width)
    picture = as_taken(replace(photo, coded=photo.coded[rows, columns].copy()), LONGEST_PX)
    swapped = cv2.cvtColor(picture, cv2.COLOR_RGB2BGR)
    done, data = cv2.imencode(".jpg", swapped, [cv2.IMWRITE_JPEG_QUALITY, _QUALITY])
    assert done
    return bytes(data.tobytes())


def _window(outline: Sequence[tuple[float, float]], height: int, width: int) -> tuple[slice, slice]:
    if not outline:
        return slice(0, height), slice(0, width)
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    margin = _MARGIN * max(max(xs) - min(xs), max(ys) - min(ys)) + 4
    top, bottom = max(0, int(min(ys) - margin)), min(height, int(max(ys) + margin) + 1)
    left, right = max(0, int(min(xs) - margin)), min(width, int(max(xs) + margin) + 1)
    if top >= bottom or left >= right:
        return slice(0, height), slice(0, width)
    return slice(top, bottom), slice(left, right)
