"""How alkaline and how acid a bath may be for a fibre at a temperature; cautions, no guarantees.

All figures are common practice, no source. pH as read at 25 degrees C. A dyer may lower a ceiling
as they like; to raise one, or to lower a floor, the window asks first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dyeshade.bath.activities import kelvin
from dyeshade.bath.water import check_ph
from dyeshade.errors import Notice

PROTEIN, SILK, CELLULOSE = "protein", "silk", "cellulose"
FIBRES = (PROTEIN, SILK, CELLULOSE)
"""Wool and other hair; silk; cotton, linen, hemp and the like."""
_STEPS: dict[str, tuple[tuple[float, float], ...]] = {
    PROTEIN: ((40.0, 10.0), (60.0, 9.0), (100.0, 8.5)),
    SILK: ((40.0, 9.5), (60.0, 8.5), (100.0, 8.0)),
    CELLULOSE: ((40.0, 12.0), (60.0, 11.5), (100.0, 11.0)),
}
_FLOORS = {PROTEIN: 3.0, SILK: 3.5, CELLULOSE: 4.0}


@dataclass(frozen=True)
class PhRange:
    """What a fibre bears.

    Attributes
    ----------
    floor, ceiling : float
        pH at 25 degrees C.
    notices : tuple of Notice
    own : bool
        Whether one of them is the dyer's own.
    """

    floor: float
    ceiling: float
    notices: tuple[Notice, ...] = ()
    own: bool = False


@dataclass(frozen=True)
class OwnBounds:
    """Bounds that a dyer has set, None for none; riskier ones count once they were confirmed."""

    ceiling: float | None = None
    floor: float | None = None
    confirmed: bool = False


def ph_range(
    fibre: str,
    temperature_c: float,
    own_ceiling: float | None = None,
    own_floor: float | None = None,
) -> PhRange:
    """What a fibre bears at a temperature, or what the dyer has set instead.

    Parameters
    ----------
    fibre : str
        One of `FIBRES`.
    temperature_c : float
        Of the bath while the fibre is in it.
    own_ceiling, own_floor : float, optional
        Set by the dyer.

    Returns
    -------
    PhRange
        With the notices ``ceiling_raised`` or ``floor_lowered`` where the dyer's are riskier than
        common practice: to be confirmed.

    Raises
    ------
    DyeshadeError
        ``bath_temperature``; ``ph_off_scale``.
    ValueError
        For an unknown fibre.
    """
    if fibre not in FIBRES:
        raise ValueError(fibre)
    kelvin(temperature_c)
    usual = next(ph for up_to, ph in _STEPS[fibre] if temperature_c <= up_to)
    floor = _FLOORS[fibre]
    notices = []
    highest = usual if own_ceiling is None else min(usual, own_ceiling)
    if fibre != CELLULOSE and highest > 9.0:
        notices.append(Notice("ceiling_brief", {"ceiling": highest}))
    if own_ceiling is not None:
        check_ph(own_ceiling)
        if own_ceiling > usual:
            notices.append(Notice("ceiling_raised", {"ceiling": own_ceiling, "usual": usual}))
    if own_floor is not None:
        check_ph(own_floor)
        if own_floor < floor:
            notices.append(Notice("floor_lowered", {"floor": own_floor, "usual": floor}))
    return PhRange(
        floor if own_floor is None else own_floor,
        usual if own_ceiling is None else own_ceiling,
        tuple(notices),
        own=own_ceiling is not None or own_floor is not None,
    )


def range_for_all(
    fibres: Sequence[str], temperature_c: float, own: OwnBounds | None = None
) -> PhRange:
    """What fibres in one pot bear together: the most delicate one decides at either end.

    Parameters
    ----------
    fibres : sequence of str
        Of `FIBRES`, at least one.
    temperature_c : float
    own : OwnBounds, optional
        A ceiling above common practice, or a floor below it, counts only where it was confirmed;
        its notice stands there either way.

    Raises
    ------
    DyeshadeError, ValueError
        As `ph_range`.
    """
    own = own or OwnBounds()
    usual = {fibre: ph_range(fibre, temperature_c) for fibre in fibres}
    low = max(usual, key=lambda fibre: usual[fibre].floor)
    high = min(usual, key=lambda fibre: usual[fibre].ceiling)
    floor, ceiling = usual[low].floor, usual[high].ceiling
    notices = ph_range(high, temperature_c, own_ceiling=own.ceiling).notices
    notices += tuple(
        one
        for one in ph_range(low, temperature_c, own_floor=own.floor).notices
        if one.code == "floor_lowered"
    )
    practice = (floor, ceiling)
    if own.ceiling is not None and (own.confirmed or own.ceiling <= ceiling):
        ceiling = own.ceiling
    if own.floor is not None and (own.confirmed or own.floor >= floor):
        floor = own.floor
    return PhRange(floor, ceiling, notices, (floor, ceiling) != practice)


def acid_for(fibre: str, substance: str) -> tuple[Notice, ...]:
    """What to know before souring a bath of some fibre with an acid."""
    if fibre == CELLULOSE and substance != "vinegar":
        return (Notice("acid_stays_in_cellulose"),)
    return ()
