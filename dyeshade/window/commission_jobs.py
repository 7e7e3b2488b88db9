"""What is done with commissions, in the library's thread.

What judges them is imported when it is first wanted: it takes a second, and the window's start need
not wait for it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from dyeshade.library.library import Library
from dyeshade.work.commissions import CommissionKept, Judged, SaidCommission

if TYPE_CHECKING:
    from dyeshade.work.commission_again import CommissionBath


def put_right(library: Library, code: str, said: SaidCommission) -> CommissionKept:
    """Put a commission right."""
    from dyeshade.work.commission_changes import change_commission

    return change_commission(library, code, said)


def judge(library: Library, code: str, piece: str, reading_id: int | None) -> Judged:
    """Judge a dyeing by a commission."""
    from dyeshade.work.judge_commission import judge as judge_it

    return judge_it(library, code, piece, reading_id)


def drop(library: Library, code: str) -> None:
    """Remove a commission."""
    from dyeshade.work.commission_changes import drop_commission

    drop_commission(library, code)


def again(library: Library, code: str, grams: float) -> CommissionBath:
    """The bath that makes the agreed shade."""
    from dyeshade.work.commission_again import commission_again

    return commission_again(library, code, grams)
