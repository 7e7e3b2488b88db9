"""What pH an addition makes, and what amount reaches a pH, where the bath is known."""

from __future__ import annotations

from dataclasses import dataclass

from scipy.optimize import brentq

from dyeshade.bath.activities import ROOM_C
from dyeshade.bath.additives import GRAMS, Additive, stir_in, stock_solution
from dyeshade.bath.equilibrium import Contents, TwoPh, both_ph, solve
from dyeshade.bath.water import check_ph
from dyeshade.errors import DyeshadeError, Notice

JUMP_PH = 10.0
"""A quarter teaspoon that carries plain water past this is said to jump; common practice."""
STOCK_PERCENT = 10.0
_MOST_PER_LITRE = 200.0


@dataclass(frozen=True)
class Reached:
    """An amount and what it makes of a bath.

    Attributes
    ----------
    additive : Additive
    amount : float
        In the additive's unit.
    contents : Contents
        After it.
    ph : TwoPh
        After it, at 25 degrees C and in the pot.
    notices : tuple of Notice
    """

    additive: Additive
    amount: float
    contents: Contents
    ph: TwoPh
    notices: tuple[Notice, ...] = ()


def ph_after(contents: Contents, what: Additive, amount: float, bath_c: float) -> Reached:
    """What an addition makes of a bath.

    Raises
    ------
    DyeshadeError
        ``amount_negative``, ``bath_temperature``.
    """
    after = stir_in(contents, what, amount)
    return Reached(what, amount, after, both_ph(after, bath_c))


def amount_to_reach(contents: Contents, what: Additive, target: float, bath_c: float) -> Reached:
    """The amount that brings a bath to a pH, read at 25 degrees C.

    Parameters
    ----------
    contents : Contents
    what : Additive
    target : float
    bath_c : float

    Returns
    -------
    Reached

    Raises
    ------
    DyeshadeError
        ``ph_off_scale``; ``ph_wrong_way`` where this additive leads away from the target;
        ``ph_unreachable`` where even a great deal of it does not suffice.
    """
    check_ph(target)
    now = solve(contents).ph
    if abs(now - target) < 1e-6:
        return ph_after(contents, what, 0.0, bath_c)
    most = _MOST_PER_LITRE * contents.volume_l
    # Some additives turn back: where the far end lies decides, a little of it the direction.
    little = solve(stir_in(contents, what, most * 1e-4)).ph
    if (little - now) * (target - now) < 0.0:
        raise DyeshadeError("ph_wrong_way", additive=what.name, ph=round(now, 2), target=target)
    far = solve(stir_in(contents, what, most)).ph
    if (far - target) * (target - now) < 0.0:
        raise DyeshadeError(
            "ph_unreachable", additive=what.name, target=target, reaches=round(far, 1)
        )
    amount = float(
        brentq(lambda a: solve(stir_in(contents, what, a)).ph - target, 0.0, most, xtol=1e-6)
    )
    return ph_after(contents, what, amount, bath_c)


def quarter_teaspoon_jump(
    contents: Contents, what: Additive, grams_per_quarter_teaspoon: float, target: float
) -> tuple[Notice, ...]:
    """Whether a quarter teaspoon jumps, with the millilitres of stock to take instead.

    Parameters
    ----------
    contents : Contents
    what : Additive
        A solid that raises pH.
    grams_per_quarter_teaspoon : float
    target : float

    Returns
    -------
    tuple of Notice
        ``quarter_teaspoon_jumps`` with ``ph``, ``percent`` and ``ml``; empty where it does not.

    Raises
    ------
    DyeshadeError
        As `amount_to_reach`.
    """
    assert what.unit == GRAMS
    spooned = solve(stir_in(contents, what, grams_per_quarter_teaspoon)).ph
    if not what.raises_ph or spooned <= max(JUMP_PH, target):
        return ()
    percent = STOCK_PERCENT
    ml = amount_to_reach(contents, stock_solution(what, percent), target, ROOM_C).amount
    if ml < 1.0:
        # Too little to measure: the stock is thinned ten times.
        percent = STOCK_PERCENT / 10.0
        ml = amount_to_reach(contents, stock_solution(what, percent), target, ROOM_C).amount
    facts = {"ph": round(spooned, 1), "percent": percent, "ml": _plain(ml), "target": target}
    return (Notice("quarter_teaspoon_jumps", facts),)


def _plain(ml: float) -> str:
    return f"{ml:.1f}" if ml < 10.0 else f"{ml:.0f}"
