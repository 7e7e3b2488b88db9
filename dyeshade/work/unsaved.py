"""Unsaved work of the measuring place as plain values that a draft can hold, and back."""

from __future__ import annotations

import types
import typing
from collections.abc import Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from datetime import datetime
from typing import Any

import numpy as np

from dyeshade.measure.regions import HandGrey, HandSample
from dyeshade.work.look_at_photos import Asked
from dyeshade.work.said import Said, SaidBath

FORMAT = 1
"""Raised when a draft is written otherwise; drafts of another format are left as they are."""


@dataclass(frozen=True, eq=False)
class UnsavedPhoto:
    """A photo with what was asked and said of it.

    Attributes
    ----------
    asked : Asked
    said : mapping of str to Said
        By the sample's name.
    baths : tuple of SaidBath
        Described, and not kept yet.
    """

    asked: Asked
    said: Mapping[str, Said] = field(default_factory=dict)
    baths: tuple[SaidBath, ...] = ()


def payload_of(photo: UnsavedPhoto) -> dict[str, Any]:
    """A photo's unsaved work as JSON can hold it."""
    asked = photo.asked
    return {
        "format": FORMAT,
        "path": asked.path,
        "light": asked.light,
        "greys": [
            {"corners": _listed(one.corners), "reflectance": one.reflectance} for one in asked.greys
        ],
        "samples": [{"name": one.name, "corners": _listed(one.corners)} for one in asked.samples],
        "without": sorted(asked.without),
        "calibrated": asked.calibrated,
        "said": {name: plain(said) for name, said in photo.said.items()},
        "baths": [plain(bath) for bath in photo.baths],
    }


def photo_of(payload: Mapping[str, Any]) -> UnsavedPhoto | None:
    """Unsaved work from a draft, None where it is of another format."""
    if payload.get("format") != FORMAT:
        return None
    asked = Asked(
        payload["path"],
        payload["light"],
        tuple(
            HandGrey(np.array(one["corners"], float), one["reflectance"])
            for one in payload["greys"]
        ),
        tuple(
            HandSample(one["name"], np.array(one["corners"], float)) for one in payload["samples"]
        ),
        frozenset(payload["without"]),
        # Drafts that were written before calibrations could be left out do not say.
        bool(payload.get("calibrated", True)),
    )
    said = {name: of_plain(Said, one) for name, one in payload["said"].items()}
    baths = tuple(of_plain(SaidBath, one) for one in payload["baths"])
    return UnsavedPhoto(asked, said, baths)


def plain(value: Any) -> Any:
    """What was said as JSON can hold it: dataclasses as objects, times in ISO 8601."""
    if is_dataclass(value):
        return {one.name: plain(getattr(value, one.name)) for one in fields(value)}
    if isinstance(value, tuple | list):
        return [plain(one) for one in value]
    return value.isoformat() if isinstance(value, datetime) else value


def of_plain(kind: Any, value: Any) -> Any:
    """What `plain` made, as the dataclass it was; fields that are missing have their defaults."""
    if value is None:
        return None
    if is_dataclass(kind):
        wanted = typing.get_type_hints(kind)
        return typing.cast(Any, kind)(
            **{name: of_plain(one, value[name]) for name, one in wanted.items() if name in value}
        )
    if kind is datetime:
        return datetime.fromisoformat(value)
    origin, within = typing.get_origin(kind), typing.get_args(kind)
    if origin in (types.UnionType, typing.Union):
        return of_plain(next(one for one in within if one is not type(None)), value)
    if origin is tuple:
        kinds = [within[0]] * len(value) if within[-1] is Ellipsis else within
        return tuple(of_plain(one, item) for one, item in zip(kinds, value, strict=True))
    return value


def _listed(corners: np.ndarray) -> list[list[float]]:
    return [[float(x), float(y)] for x, y in corners]
