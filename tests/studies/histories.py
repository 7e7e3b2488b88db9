"""Whether what is said of a piece's history is true, in photos of a phone on a sheet with colours.

Run from the checkout's top; an hour by default, and it prints as it goes::

    python -m tests.studies.histories
    python -m tests.studies.histories --histories 20 --photos 3
    python -m tests.studies.histories --fitting

Photos are signals (``tests.studies.signal_histories``) of six cloths on two occasions, or on four;
photos of one occasion share its daylight, D50 to D75, and nearly its white balance, and each has
its own angle and exposure. The program solves each two photos together and gives its verdict
(`dyeshade.insight.drift`): none of that is done anew here. Cameras are those that no camera's
constant came of; ``--fitting`` takes the others, with numbers of their own. The constants of
`dyeshade.measure.own_cloth` were chosen by those and, last, by numbers below 9900 of the judging
cameras; those from 9900 on judge.

Printed, for one, three and four photos an occasion, without a maker's look and with one (a mild,
typical or strong one, as often as in ``tests.studies.accuracy``): how often an unmoved piece is
said to have moved (asked: at most 5 in 100); how often a move of 2 CIEDE2000 in any direction and a
fading by 2 are seen (asked: 90 in 100); how often the stated interval holds the true difference
(asked: 93 to 97). Of four occasions the piece moves after the second; it is wrong to call it "still
moving".
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta

import numpy as np

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.insight.drift import drift_between
from dyeshade.insight.solved_together import SolvedTogether
from dyeshade.library.dye_records import Piece
from dyeshade.library.history import History
from tests.library.workshop import DAY
from tests.studies.accuracy import JUDGING
from tests.studies.camera_constants import FITTING
from tests.studies.signal_histories import SIZE, TRUTHS, Told, photos_of

NOBODY = History(Piece("W-900"), None, None, ())
MOST = 4


@dataclass(frozen=True)
class Said:
    """What the program said of one piece."""

    truth: str
    verdict: str
    held: bool
    shown: float
    advised: bool


def said_of(told: Told, truth: str, piece: str, occasions: int, photos: int) -> Said:
    """What is said of a piece by the first few photos of each occasion."""
    each = len(told.sheets) // occasions
    readings = []
    for occasion in range(occasions):
        now = truth if occasion >= occasions // 2 else "unmoved"
        for photo in range(occasion * each, occasion * each + photos):
            one = told.reading(photo, piece, now)
            when = DAY + timedelta(days=30 * occasion, minutes=photo)
            readings.append(replace(one, reading=replace(one.reading, read=when)))
    base = readings[0].reading.id
    found = drift_between(NOBODY, readings, base, difference_of=SolvedTogether(told))
    change = found.points[-1].since_base
    assert change is not None
    assert found.verdict is not None
    assert found.smallest_shown is not None
    true = float(ciede2000(told.labs[f"{piece} unmoved"], told.labs[f"{piece} {truth}"]))
    held = change.size.low <= true <= change.size.high
    return Said(truth, found.verdict, held, found.smallest_shown, found.advice is not None)


def all_said(
    numbers: range, cameras: list[str], look: bool, occasions: int, photos: list[int]
) -> Iterator[tuple[int, Said]]:
    """What is said of every piece of every history, with the number of photos an occasion."""
    for number in numbers:
        told = photos_of(number, (max(photos),) * occasions, cameras, look)
        for piece in told.pieces:
            for truth in TRUTHS:
                for count in photos:
                    yield count, said_of(told, truth, piece, occasions, count)


def report(name: str, said: list[Said]) -> None:
    """Print a line."""
    of = {truth: [one for one in said if one.truth == truth] for truth in TRUTHS}
    moved = {t: np.mean([o.verdict != "not_seen_to_move" for o in of[t]]) for t in TRUTHS}
    still = np.mean([one.verdict == "still_moving" for one in said])
    print(
        f"{name}: {len(of['unmoved'])} pieces; unmoved called moved {moved['unmoved']:.3f}; a "
        f"move of {SIZE:.0f} seen {moved['moved']:.3f}, a fading {moved['faded']:.3f}; intervals "
        f"held {' / '.join(f'{np.mean([o.held for o in of[t]]):.3f}' for t in TRUTHS)} "
        f"({', '.join(TRUTHS)}), {np.mean([o.held for o in said]):.3f} of all; would have shown "
        f"{np.median([o.shown for o in said]):.1f}; called still moving {still:.3f}",
        flush=True,
    )


def main() -> None:
    """Draw, ask and print."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--histories", type=int, default=60, help="of six pieces each")
    parser.add_argument("--photos", type=int, nargs="*", default=[1, 3, MOST])
    parser.add_argument("--occasions", type=int, nargs="*", default=[2])
    parser.add_argument("--looks", type=int, nargs="*", default=[0, 1], help="1 with, 0 without")
    parser.add_argument("--first", type=int, default=9900, help="number of the first history")
    parser.add_argument("--fitting", action="store_true", help="cameras that constants come of")
    given = parser.parse_args()
    cameras = list(FITTING if given.fitting else JUDGING)
    first = 0 if given.fitting else given.first
    for occasions in given.occasions:
        for look in given.looks:
            said: dict[int, list[Said]] = {count: [] for count in given.photos}
            numbers = range(first, first + given.histories)
            for count, one in all_said(numbers, cameras, bool(look), occasions, given.photos):
                said[count].append(one)
            for count in given.photos:
                kind = "maker's looks" if look else "no looks"
                report(f"{kind}, {occasions} occasions of {count} photos", said[count])


if __name__ == "__main__":
    main()
