"""What a person changes on a photo, as values: each change makes a new `Asked` from the last."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.regions import HandGrey, HandSample
from dyeshade.work.look_at_photos import Asked

Array = NDArray[np.float64]


def with_sample(asked: Asked, name: str, corners: Array, is_cell: bool = False) -> Asked:
    """A sample drawn, or drawn anew; a cell's own place in the reading is then given up.

    Parameters
    ----------
    asked : Asked
    name : str
    corners : ndarray, shape (k, 2)
        Pixels of the upright photo.
    is_cell : bool
        Whether the name is that of a cell that the program read by itself.
    """
    drawn = HandSample(name, corners)
    names = [sample.name for sample in asked.samples]
    if name in names:
        samples = tuple(drawn if one.name == name else one for one in asked.samples)
    else:
        samples = (*asked.samples, drawn)
    without = asked.without | {name} if is_cell else asked.without
    return replace(asked, samples=samples, without=without)


def without_sample(asked: Asked, name: str, is_cell: bool) -> Asked:
    """A sample removed: a drawn one forgotten, a cell not read."""
    samples = tuple(one for one in asked.samples if one.name != name)
    without = asked.without | {name} if is_cell else asked.without
    return replace(asked, samples=samples, without=without)


def renamed(asked: Asked, name: str, new: str) -> Asked:
    """A drawn sample under another name."""
    samples = tuple(
        HandSample(new, one.corners) if one.name == name else one for one in asked.samples
    )
    return replace(asked, samples=samples)


def with_grey(asked: Asked, corners: Array, reflectance: float) -> Asked:
    """One more grey drawn by hand."""
    return replace(asked, greys=(*asked.greys, HandGrey(corners, reflectance)))


def with_grey_at(asked: Asked, number: int, corners: Array) -> Asked:
    """A drawn grey in another place."""
    greys = list(asked.greys)
    greys[number] = HandGrey(corners, greys[number].reflectance)
    return replace(asked, greys=tuple(greys))


def without_grey(asked: Asked, number: int) -> Asked:
    """A drawn grey removed."""
    return replace(asked, greys=asked.greys[:number] + asked.greys[number + 1 :])


def in_light(asked: Asked, light: str | None) -> Asked:
    """The same in another light."""
    return replace(asked, light=light)


def calibrated(asked: Asked, use: bool) -> Asked:
    """The same with calibrations of its camera and sheet, or as if there were none."""
    return replace(asked, calibrated=use)


def new_name(taken: Iterable[str]) -> str:
    """A name for a new sample that no other has, as in "spot 2"."""
    names = set(taken)
    number = 1
    while f"spot {number}" in names:
        number += 1
    return f"spot {number}"
