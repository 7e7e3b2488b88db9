"""The signals that a measurement rests on, to be kept so that two photos can be solved together."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

FORMAT = 1
"""Version of what `signals_json` gives; raised when a key changes its meaning."""

_DIGITS = 6
"""Significant digits kept: a 16 bit photo has five."""


@dataclass(frozen=True, eq=False)
class ColoursSeen:
    """What the photo shows of the m colours of a sheet that has them; each as in `PatchesSeen`.

    Attributes
    ----------
    names : tuple of str
    places : ndarray, shape (m, 2)
        Middles on the page, mm.
    mean, spread : ndarray, shape (m, 3)
    pixels, clipped, patchy : ndarray, shape (m,)
    """

    names: tuple[str, ...]
    places: Array
    mean: Array
    spread: Array
    pixels: NDArray[np.int64]
    clipped: Array
    patchy: Array


@dataclass(frozen=True, eq=False)
class PatchesSeen:
    """What the photo shows of n greys and spots of bare paper, before anything is fitted.

    Attributes
    ----------
    names : tuple of str
    unit : str
        Of the places: "mm" on the page, or "px" of the upright photo.
    places : ndarray, shape (n, 2)
        Middles.
    reflectance : ndarray, shape (n,)
        What a plain print, or the grey as bought, reflects, 0..1.
    mean, spread : ndarray, shape (n, 3)
        Mean and standard deviation of linear light in the file's primaries, 0..1; NaN where the
        patch is not wholly in the photo.
    pixels : ndarray, shape (n,)
    clipped : ndarray, shape (n,)
        Share of pixels at an end of their scale, 0..1.
    patchy : ndarray, shape (n,)
        As `dyeshade.measure.signals.PatchSignals`; NaN where it was not worked out.
    to_xyz : ndarray, shape (3, 3)
        The file's primaries to XYZ relative to D65.
    full_scale : int
        255 or 65535.
    rendered : bool
        False for raw light: the channels are the camera's own, and straight.
    colours : ColoursSeen or None
        None where the sheet has none.
    """

    names: tuple[str, ...]
    unit: str
    places: Array
    reflectance: Array
    mean: Array
    spread: Array
    pixels: NDArray[np.int64]
    clipped: Array
    patchy: Array
    to_xyz: Array
    full_scale: int
    rendered: bool = True
    colours: ColoursSeen | None = None


@dataclass(frozen=True, eq=False)
class SampleSeen:
    """What was averaged of a sample, and the signal that stands for it.

    Attributes
    ----------
    place : ndarray, shape (2,)
        Its middle, in the unit of the patches.
    signal : ndarray, shape (3,)
        Linear light in the file's primaries that a flat sample of this reflectance would have had
        there, 0..1.
    reflectance : ndarray, shape (3,)
        The mean reflectance in each channel, averaged in linear light, the light's colour not
        divided out of its own space.
    covariance : ndarray, shape (3, 3)
        Of that mean.
    """

    place: Array
    signal: Array
    reflectance: Array
    covariance: Array


def signals_json(patches: PatchesSeen, samples: dict[str, SampleSeen]) -> dict[str, object]:
    """All signals as plain values that JSON can hold; None stands for what could not be seen."""
    return {
        "format": FORMAT,
        "unit": patches.unit,
        "to_xyz": _plain(patches.to_xyz),
        "full_scale": patches.full_scale,
        "rendered": patches.rendered,
        "patches": {
            "reflectance": _plain(patches.reflectance),
            **_boxes(patches),
        },
        "colours": None if patches.colours is None else _boxes(patches.colours),
        "samples": {
            name: {
                "place": _plain(seen.place),
                "signal": _plain(seen.signal),
                "reflectance": _plain(seen.reflectance),
                "covariance": _plain(seen.covariance),
            }
            for name, seen in samples.items()
        },
    }


def _boxes(seen: PatchesSeen | ColoursSeen) -> dict[str, object]:
    return {
        "name": list(seen.names),
        "place": _plain(seen.places),
        "mean": _plain(seen.mean),
        "spread": _plain(seen.spread),
        "pixels": [int(count) for count in seen.pixels],
        "clipped": _plain(seen.clipped),
        "patchy": _plain(seen.patchy),
    }


def _plain(values: Array) -> object:
    """Nested lists of numbers with as many digits as they deserve; None for NaN."""
    if values.ndim:
        return [_plain(part) for part in values]
    number = float(values)
    return float(f"{number:.{_DIGITS}g}") if np.isfinite(number) else None
