"""Steps at the pot as a dyer writes them down."""

from __future__ import annotations

import re

from dyeshade.bath.quantities import parse_number, parse_temperature
from dyeshade.errors import DyeshadeError
from dyeshade.work.make_pot_card import PotStep

_MINUTES = re.compile(r"(?P<number>[\d.,/ ]+)\s*(?P<unit>min|minutes?|h|hours?)\.?", re.IGNORECASE)


def parse_step(text: str) -> PotStep:
    """A step as "Mordant bath; 85 °C; 60 min": what is done, then temperature and time or neither.

    Raises
    ------
    DyeshadeError
        ``step_unclear`` (text, part); as `dyeshade.bath.quantities.parse_temperature`.
    """
    what, *parts = (part.strip() for part in text.split(";"))
    temperature: float | None = None
    minutes: float | None = None
    for part in parts:
        time = _MINUTES.fullmatch(part)
        if time is not None and minutes is None:
            hours = time["unit"].lower().startswith("h")
            minutes = float(parse_number(time["number"].strip())) * (60.0 if hours else 1.0)
        elif time is None and "°" in part and temperature is None:
            temperature = float(parse_temperature(part).value)
        else:
            raise DyeshadeError("step_unclear", text=text, part=part)
    if not what:
        raise DyeshadeError("step_unclear", text=text, part=what)
    return PotStep(what, temperature, minutes)
