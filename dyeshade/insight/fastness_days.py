"""When the photos of a home fastness test are due."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta

LIGHT_DAYS = (1, 2, 4, 8, 16, 32, 64, 128, 256)
"""Days of light after which the next photo is due: each twice the one before (ours)."""

USUAL_DAYS: Mapping[str, tuple[int, ...]] = {
    "light": LIGHT_DAYS,
    "wash": (1,),
    "acid_dip": (1,),
    "alkaline_dip": (1,),
    "rubbing": (0,),
}
"""Days after the beginning of each of `dyeshade.insight.fastness.TESTS`, where the dyer names none.

What was wet dries for a day before it is photographed; what was rubbed need not wait (ours).
"""


def next_photo_due(
    begun: datetime, last: datetime | None, days: Sequence[int] = LIGHT_DAYS
) -> datetime | None:
    """When the next photo of a test is due; None after the last of its days.

    A photo stands for the day that it is nearest to, the earlier one of two, so that one taken a
    little early is not asked for again. One from before the beginning stands for none.

    Parameters
    ----------
    begun : datetime
        When the treated half was put into the light, washed, dipped or rubbed.
    last : datetime or None
        When the latest photo of both halves was taken.
    days : sequence of int
        After the beginning, rising.
    """
    if last is None:
        return begun + timedelta(days=days[0])
    # Begun in the evening and photographed in the morning is a day all the same.
    passed = (last.date() - begun.date()).days
    stands_for = min((0, *days), key=lambda day: (abs(day - passed), day)) if passed >= 0 else -1
    if stands_for == 0 and last < begun:
        stands_for = -1
    for day in days:
        if day > stands_for:
            return begun + timedelta(days=day)
    return None


def is_before(kind: str, begun: datetime, read: datetime) -> bool:
    """Whether a photo shows both halves as they were before a test.

    Half a day of light does next to nothing, and whoever sets a test up photographs it before or
    just after: a photo of the day on which a test of light begins shows it unfaded (ours).

    Parameters
    ----------
    kind : str
        One of `dyeshade.insight.fastness.TESTS`.
    begun, read : datetime
        When the test was begun, and when the photo was taken.
    """
    return read < begun or (kind == "light" and read.date() == begun.date())
