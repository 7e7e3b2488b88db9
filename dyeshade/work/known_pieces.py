"""What the library knows of a piece that is typed into a pot; weights in the other system."""

from __future__ import annotations

from dyeshade.bath.fibres import guess_fibre
from dyeshade.bath.quantities import parse_weight
from dyeshade.bath.showing import other_system, show_weight
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
    if not written.strip():
        return ""
    try:
        found = parse_weight(written)
    except DyeshadeError:
        return ""
    return show_weight(found.value, other_system(found.unit.system))
