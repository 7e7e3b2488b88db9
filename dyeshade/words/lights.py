"""The kinds of light in words."""

from __future__ import annotations

from collections.abc import Mapping

LIGHTS: Mapping[str, str] = {
    "window": "daylight from a window",
    "outdoors-shade": "daylight in open shade",
    "outdoors-sun": "sunlight",
    "led": "LED lamps",
    "fluorescent": "fluorescent lamps",
    "incandescent": "incandescent lamps",
}
"""Words for each of `dyeshade.measure.lights.KINDS`."""
