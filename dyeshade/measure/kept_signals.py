"""The signals that were kept with a reading, read back from plain values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.seen import FORMAT, ColoursSeen, PatchesSeen, SampleSeen

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class KeptSignals:
    """What `dyeshade.measure.result.Measurement.signals` gave.

    Attributes
    ----------
    patches : PatchesSeen
    samples : mapping of str to SampleSeen
        By the sample's name.
    """

    patches: PatchesSeen
    samples: Mapping[str, SampleSeen]


def kept_signals(values: Any) -> KeptSignals | None:
    """Signals from plain values.

    Parameters
    ----------
    values : object
        As `dyeshade.measure.seen.signals_json` gave them, through JSON and back.

    Returns
    -------
    KeptSignals or None
        None for what another version kept, or nothing did.
    """
    if not isinstance(values, Mapping) or values.get("format") != FORMAT:
        return None
    told = values["patches"]
    # Signals that were kept before colours were read have no word of them.
    coloured = values.get("colours")
    patches = PatchesSeen(
        **_boxes(told),
        unit=str(values["unit"]),
        reflectance=_numbers(told["reflectance"]),
        to_xyz=_numbers(values["to_xyz"]),
        full_scale=int(values["full_scale"]),
        rendered=bool(values["rendered"]),
        colours=None if coloured is None else ColoursSeen(**_boxes(coloured)),
    )
    samples = {
        str(name): SampleSeen(
            _numbers(one["place"]),
            _numbers(one["signal"]),
            _numbers(one["reflectance"]),
            _numbers(one["covariance"]),
        )
        for name, one in values["samples"].items()
    }
    return KeptSignals(patches, samples)


def _boxes(told: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "names": tuple(told["name"]),
        "places": _numbers(told["place"]).reshape(-1, 2),
        "mean": _numbers(told["mean"]).reshape(-1, 3),
        "spread": _numbers(told["spread"]).reshape(-1, 3),
        "pixels": np.array(told["pixels"], dtype=np.int64),
        "clipped": _numbers(told["clipped"]),
        "patchy": _numbers(told["patchy"]),
    }


def _numbers(values: Any) -> Array:
    """Lists as an array; None becomes NaN."""
    return np.array(values, dtype=np.float64)
