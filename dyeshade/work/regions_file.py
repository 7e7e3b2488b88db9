"""Reads the file in which greys and samples were drawn by hand.

The contract is ``schemas/regions.schema.json``; what is checked here beyond it is said with the
place in the file, since a person may have written it.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import TypeGuard

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import DyeshadeError
from dyeshade.measure.regions import HandGrey, HandSample, Regions

Array = NDArray[np.float64]


def read_regions(path: str | Path) -> Regions:
    """Greys and samples of a regions file.

    Parameters
    ----------
    path : str or Path

    Returns
    -------
    Regions

    Raises
    ------
    DyeshadeError
        ``regions_missing``, ``regions_unreadable`` (reason), ``regions_not_json`` (line, column),
        ``regions_not_object``, ``regions_unknown`` (key, place), ``regions_no_greys``,
        ``regions_no_samples``, ``regions_corners`` (place), ``regions_crossed`` (place),
        ``regions_reflectance`` (place), ``regions_name`` (place), ``regions_same_name`` (name);
        all carry path.
    """
    told = str(path)
    contents = _contents(Path(path), told)
    if not isinstance(contents, dict):
        raise DyeshadeError("regions_not_object", path=told)
    _known_only(contents, {"greys", "samples"}, "the file", told)
    greys, samples = contents.get("greys"), contents.get("samples")
    if not isinstance(greys, list) or not greys:
        raise DyeshadeError("regions_no_greys", path=told)
    if not isinstance(samples, list) or not samples:
        raise DyeshadeError("regions_no_samples", path=told)
    read = Regions(
        tuple(_grey(entry, f"grey {k}", told) for k, entry in enumerate(greys, 1)),
        tuple(_sample(entry, f"sample {k}", told) for k, entry in enumerate(samples, 1)),
    )
    names = [sample.name for sample in read.samples]
    for name in names:
        if names.count(name) > 1:
            raise DyeshadeError("regions_same_name", path=told, name=name)
    return read


def _contents(path: Path, told: str) -> object:
    try:
        text = path.read_text(encoding="utf-8-sig")
        return json.loads(text)
    except FileNotFoundError as error:
        raise DyeshadeError("regions_missing", path=told) from error
    except OSError as error:
        reason = error.strerror or "the disk did not give it"
        raise DyeshadeError("regions_unreadable", path=told, reason=reason) from error
    except UnicodeDecodeError as error:
        raise DyeshadeError("regions_unreadable", path=told, reason="it is no text") from error
    except json.JSONDecodeError as error:
        raise DyeshadeError(
            "regions_not_json", path=told, line=error.lineno, column=error.colno
        ) from error
    except (RecursionError, ValueError) as error:
        # Nested, or with a number, beyond what the parser takes.
        raise DyeshadeError("regions_unreadable", path=told, reason="its JSON is odd") from error


def _known_only(entry: dict[str, object], known: set[str], place: str, told: str) -> None:
    for key in entry:
        if key not in known:
            raise DyeshadeError("regions_unknown", path=told, key=key, place=place)


def _grey(entry: object, place: str, told: str) -> HandGrey:
    corners = _corners(entry, place, told)
    assert isinstance(entry, dict)
    _known_only(entry, {"corners", "reflectance"}, place, told)
    reflectance = entry.get("reflectance")
    if not _is_number(reflectance) or not 0 < reflectance <= 1:
        raise DyeshadeError("regions_reflectance", path=told, place=place)
    return HandGrey(corners, float(reflectance))


def _sample(entry: object, place: str, told: str) -> HandSample:
    corners = _corners(entry, place, told)
    assert isinstance(entry, dict)
    _known_only(entry, {"corners", "name"}, place, told)
    name = entry.get("name")
    if not isinstance(name, str) or not name.strip() or not name.isprintable():
        raise DyeshadeError("regions_name", path=told, place=place)
    return HandSample(name.strip(), corners)


def _corners(entry: object, place: str, told: str) -> Array:
    points = entry.get("corners") if isinstance(entry, dict) else None
    if not (
        isinstance(points, list)
        and len(points) == 4
        and all(isinstance(point, list) and len(point) == 2 for point in points)
        and all(_is_number(value) for point in points for value in point)
    ):
        raise DyeshadeError("regions_corners", path=told, place=place)
    corners = np.array(points, dtype=np.float64)
    sides = np.roll(corners, -1, axis=0) - corners
    following = np.roll(sides, -1, axis=0)
    turns = sides[:, 0] * following[:, 1] - sides[:, 1] * following[:, 0]
    if not (np.all(turns > 0) or np.all(turns < 0)):
        raise DyeshadeError("regions_crossed", path=told, place=place)
    return corners


def _is_number(value: object) -> TypeGuard[int | float]:
    # JSON as Python reads it also knows true, NaN and numbers far beyond any photo.
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e6
