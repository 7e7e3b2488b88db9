"""How alkaline and how acid a bath may be for a fibre at a temperature; cautions, no guarantees.

All figures are common practice, no source. pH as read at 25 degrees C. A dyer may lower a ceiling
as they like; to raise one, or to lower a floor, the window asks first.
"""

from __future__ import annotations

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
    """

    floor: float
    ceiling: float
    notices: tuple[Notice, ...] = ()


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
    if fibre != CELLULOSE and usual > 9.0:
        notices.append(Notice("ceiling_brief", {"ceiling": usual}))
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
    )


def acid_for(fibre: str, substance: str) -> tuple[Notice, ...]:
    """What to know before souring a bath of some fibre with an acid."""
    if fibre == CELLULOSE and substance != "vinegar":
        return (Notice("acid_stays_in_cellulose"),)
    return ()
