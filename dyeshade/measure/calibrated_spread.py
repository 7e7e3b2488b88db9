"""How far learnt colours may still be off: from what leaving out said, by factors of the study.

Colours that a chart's patches did not show are met less well than one patch by the others, or
better; by how much, ``tests/studies/uncertainty.py`` finds on cameras that do not judge. It
depends on the kind of light: under lamps dyes differ that look alike.
"""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.camera_colours import vividness
from dyeshade.measure.learn_colours import Learnt
from dyeshade.measure.lights import spread_name
from dyeshade.measure.own_colours import OwnColours
from dyeshade.resources import resource_path

Array = NDArray[np.float64]

KINDS = ("camera_raw", "camera_rendered", "sheet_raw", "sheet_rendered")
"""What taught the colours, and whether the photo that they are used for is raw."""


@cache
def _factors() -> dict[str, Any]:
    with resource_path("measure/calibrated.json").open(encoding="utf-8") as file:
        factors: dict[str, Any] = json.load(file)["spread"]
    return factors


def left_out_size(left_out: Array, lab: Array) -> Array:
    """Size of what leaving out said, for a vivid colour: along lightness, chroma, hue; (3,)."""
    vivid = vividness(np.hypot(lab[:, 1], lab[:, 2]))
    return np.asarray(np.sqrt((left_out**2).sum(axis=0) / (vivid**2).sum()))


def with_spread(learnt: Learnt, lab: Array, kind: str, light: str) -> OwnColours:
    """The learnt colours with their spread.

    Parameters
    ----------
    learnt : Learnt
    lab : ndarray, shape (n, 3)
        The colours that taught it.
    kind : str
        One of `KINDS`.
    light : str
        One of `dyeshade.measure.lights.KINDS`.
    """
    factors = _factors()[kind][spread_name(light)]
    size = left_out_size(learnt.left_out, lab)
    return replace(
        learnt.colours,
        neutral=np.array(factors["neutral"], dtype=float),
        vivid=np.array(factors["vivid"], dtype=float) * size,
    )
