"""Kinds of light a photo may be taken in, as the person who took it names them."""

from __future__ import annotations

KINDS: tuple[str, ...] = (
    "window",
    "outdoors-shade",
    "outdoors-sun",
    "led",
    "fluorescent",
    "incandescent",
)
"""Names accepted for the light. The first three are daylight."""

ASSUMED = "window"
"""What is taken where nobody named the light; the measurement then says that it assumed it."""

_SPREAD_OF = {
    "window": "daylight",
    "outdoors-shade": "daylight",
    "outdoors-sun": "daylight",
    "led": "led",
    "fluorescent": "fluorescent",
    "incandescent": "incandescent",
}


def spread_name(kind: str) -> str:
    """Which row of the measured camera spreads a kind of light falls under.

    Raises
    ------
    ValueError
        For a kind that is not in `KINDS`.
    """
    if kind not in _SPREAD_OF:
        raise ValueError(f"not a kind of light: {kind!r}")
    return _SPREAD_OF[kind]
