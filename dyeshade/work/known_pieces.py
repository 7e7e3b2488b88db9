"""What the library knows of a piece that is typed into a pot; what else a typed amount is."""

from __future__ import annotations

from collections.abc import Callable

from dyeshade.bath.fibres import guess_fibre
from dyeshade.bath.quantities import Quantity, parse_temperature, parse_volume, parse_weight
from dyeshade.bath.ratios import is_number_alone, is_percent, parse_ratio
from dyeshade.bath.showing import (
    other_system,
    show_percent,
    show_ratio,
    show_temperature,
    show_volume,
    show_weight,
)
from dyeshade.errors import DyeshadeError
from dyeshade.work.plan_bath import OwnFigures


def known_piece(own: OwnFigures, code: str) -> tuple[str, str] | None:
    """Fibre and weight of a piece as they would be typed, "" for what is not known."""
    wanted = code.strip().casefold()
    for piece in own.pieces:
        if wanted and piece.code.casefold() == wanted:
            kind = guess_fibre(piece.fibre)
            weight = "" if piece.weight_g is None else show_weight(piece.weight_g, own.units)
            return ("" if kind is None else kind.name), weight
    return None


def other_units(written: str) -> str:
    """A weight in the system that it was not typed in, "" for what is no weight."""
    return _other(written, parse_weight, show_weight)


def other_volume(written: str) -> str:
    """A volume in the system that it was not typed in, "" for what is no volume."""
    return _other(written, parse_volume, show_volume)


def other_degrees(written: str) -> str:
    """A temperature on the scale that it was not typed in, "" for what is none."""
    return _other(written, parse_temperature, show_temperature)


def _other(
    written: str, parse: Callable[[str], Quantity], show: Callable[[float, str], str]
) -> str:
    if not written.strip():
        return ""
    try:
        found = parse(written)
    except DyeshadeError:
        return ""
    return show(found.value, other_system(found.unit.system))


def other_share(written: str, alone: str) -> str:
    """A ratio as a share and a share as a ratio; a number alone as what it is taken for.

    Parameters
    ----------
    written : str
    alone : str
        As for `dyeshade.bath.ratios.parse_ratio`.

    Returns
    -------
    str
        "200 %" for "2:1", "0.08:1" for "8 %", "= 2:1" or "= 2 %" for "2"; "" for a per cent
        where per cents are usual, and for what is none.
    """
    try:
        share = parse_ratio(written, alone)
    except DyeshadeError:
        return ""
    if is_number_alone(written):
        return f"= {show_ratio(share) if alone == 'ratio' else show_percent(share)}"
    if not is_percent(written):
        return show_percent(share)
    return show_ratio(share) if alone == "ratio" else ""
