"""Whether what insight/ states holds, on invented histories and pH series of known truth.

Run from the checkout's top; some minutes::

    python -m tests.studies.insight_truth
    python -m tests.studies.insight_truth --turns 1000

Errors are drawn as the readings state them: a common part that stays, a photo's own part, another
day's light, baths that differ by 0.5 CIEDE2000 in each step, a pH meter's 0.05. So it tells whether
the statistics are right, not whether a photo's stated covariance is (``tests.studies.accuracy``
does). Dyestuffs turn from one invented shade to another at an invented pH.

Printed: how often an unmoved piece is said to have moved, how often a move of 2 CIEDE2000 is seen,
how often intervals hold; for six baths with a meter how often the pH of a wanted shade is found
within 0.3 where the series moves by at least 3 CIEDE2000 in that, and how often its interval holds
there and elsewhere, for a wanted shade read by the same camera and sheet, and for one that was
typed, beside what the camera's own error leaves to be found; and for 8 dyeings of 3 baths, 2 pieces
each, read twice, how often the intervals of the spreads between baths, between pieces and of
measuring hold. (``tests.studies.histories`` has histories in photos.)
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.spread import u95_of
from dyeshade.insight.common_part import light_change
from dyeshade.insight.difference import Measured
from dyeshade.insight.drift import drift_between
from dyeshade.insight.ph_curve import fit_curve
from dyeshade.insight.ph_wanted import nearest_ph
from dyeshade.insight.variance_parts import Nested, variance_parts
from dyeshade.library.dye_records import Piece
from dyeshade.library.history import History
from tests.insight.series import a_series, turning
from tests.library.workshop import DAY, a_reading

Array = NDArray[np.float64]

COMMON = np.diag([4.0, 4.0, 6.0])
PHOTO = np.array([[0.30, 0.05, 0.0], [0.05, 0.20, 0.02], [0.0, 0.02, 0.30]])
NOBODY = History(Piece("W-900"), None, None, ())
SIX = np.triu_indices(3)
METER, BATHS = 0.05, 6
PLACES = [np.array(lab) for lab in ((75, -5, 60), (42, 45, 28), (28, 8, 12), (60, 3, 20))]


def _drawn(random: np.random.Generator, covariance: Array) -> Array:
    return np.asarray(random.multivariate_normal(np.zeros(3), covariance, method="eigh"))


def _read(number: int, lab: Array) -> Measured:
    reading = a_reading(
        1,
        lab_l=float(lab[0]),
        lab_a=float(lab[1]),
        lab_b=float(lab[2]),
        covariance_photo=tuple(PHOTO[SIX]),
        covariance_common=tuple(COMMON[SIX]),
        photo_id=number,
        read=DAY + timedelta(days=30 * number),
    )
    return Measured(replace(reading, id=number), "a camera", "JPEG", "S-1", "window")


def drift(random: np.random.Generator, turns: int) -> None:
    """Histories of four readings: unmoved, and moved by about 2 CIEDE2000."""
    for size in (0.0, 2.0, 4.0):
        moved, held, shown = [], [], []
        for turn in range(turns):
            lab = PLACES[turn % len(PLACES)]
            way = random.normal(size=3)
            other = lab + way * size / max(float(ciede2000(lab, lab + way)), 1e-9)
            common = _drawn(random, COMMON)
            truth = (lab, lab, other, other)
            seen = [
                _read(
                    k,
                    one
                    + common
                    + _drawn(random, PHOTO)
                    + _drawn(random, light_change(one, "window") / 2),
                )
                for k, one in enumerate(truth, 1)
            ]
            found = drift_between(NOBODY, seen, 1)
            change = found.points[-1].since_base
            assert change is not None
            moved.append(found.verdict != "not_seen_to_move")
            held.append(change.size.low <= ciede2000(lab, other) <= change.size.high)
            shown.append(change.size.smallest_shown)
        print(
            f"drift of {size:.0f}: said to have moved {np.mean(moved):.3f}, interval held "
            f"{np.mean(held):.3f}, smallest change shown {np.median(shown):.1f}"
        )


@dataclass(frozen=True, eq=False)
class Dyeing:
    """Six baths of one invented dyestuff, and a shade that is wanted of it."""

    shape: dict[str, Any]
    ph: Array
    wanted_ph: float
    moves: bool
    """Whether the wanted shade moves by at least 3 CIEDE2000 in 0.3 pH, to either side."""


def _dyeing(random: np.random.Generator, place: Array) -> Dyeing:
    shape = {
        "middle": random.uniform(5.5, 8.5),
        "steep": random.uniform(1.2, 4.0),
        "low": place,
        "high": place + random.normal(size=3) * [12, 25, 25],
    }
    ph = np.linspace(4.5, 9.5, BATHS) + random.normal(0, 0.1, BATHS)
    at = random.uniform(ph.min() + 0.3, ph.max() - 0.3)
    wish = turning(np.array(at), **shape)
    beside = [ciede2000(wish, turning(np.array(at + d), **shape)) for d in (-0.3, 0.3)]
    return Dyeing(shape, ph, float(at), min(beside) >= 3)


def ph_series(random: np.random.Generator, turns: int, steep: int) -> None:
    """Six baths with a meter, and a wanted shade within them.

    After `turns` dyestuffs only those are read whose wanted shade moves, until there are `steep`.
    """
    curve_held: list[bool] = []
    typed: dict[str, list[bool]] = {"found": [], "limit": [], "held": [], "elsewhere": []}
    read: dict[str, list[bool]] = {"found": [], "limit": [], "held": [], "elsewhere": []}
    turn = 0
    while turn < turns or len(typed["held"]) < steep:
        dyeing = _dyeing(random, PLACES[turn % len(PLACES)])
        turn += 1
        if turn > turns and not dyeing.moves:
            continue
        common = _drawn(random, COMMON)
        labs = turning(dyeing.ph, **dyeing.shape) + common
        for k in range(BATHS):
            labs[k] += _drawn(random, PHOTO) + random.normal(size=3) * [0.5, 0.9, 1.2]
        seen_ph = dyeing.ph + random.normal(0, METER, BATHS)
        series = a_series(seen_ph, labs, PHOTO, COMMON, METER)
        curve = fit_curve(series)
        if turn <= turns:
            asked = np.linspace(curve.lowest, curve.highest, 9)
            true = turning(asked, **dyeing.shape)
            for lab, spread, one in zip(*curve.at(asked), true, strict=True):
                curve_held.append(bool(ciede2000(lab, one) <= u95_of(lab, spread)))
        wish = turning(np.array(dyeing.wanted_ph), **dyeing.shape)
        fine = np.linspace(curve.lowest, curve.highest, 401)
        as_seen = turning(fine, **dyeing.shape) + common
        for told, wanted, shade in (
            (typed, nearest_ph(curve, wish), wish),
            (read, nearest_ph(fit_curve(series, as_seen=True), wish + common), wish + common),
        ):
            held = wanted.low <= dyeing.wanted_ph <= wanted.high
            told["held" if dyeing.moves else "elsewhere"].append(held)
            if dyeing.moves:
                told["found"].append(abs(wanted.ph - dyeing.wanted_ph) <= 0.3)
                best = fine[int(np.argmin(ciede2000(as_seen, shade)))]
                told["limit"].append(abs(best - dyeing.wanted_ph) <= 0.3)
    print(f"pH series: curve held {np.mean(curve_held):.3f}")
    for name, told in (("read alike", read), ("typed", typed)):
        print(
            f"wanted shade {name}, where it moves: found within 0.3 {np.mean(told['found']):.3f} "
            f"of {len(told['found'])} (whoever sees the whole curve as this camera does: "
            f"{np.mean(told['limit']):.3f}), interval held {np.mean(told['held']):.3f}; elsewhere "
            f"interval held {np.mean(told['elsewhere']):.3f} of {len(told['elsewhere'])}"
        )


def repeats(random: np.random.Generator, turns: int) -> None:
    """Dyeings repeated at equal conditions, with known spreads; numbers in steps of CIEDE2000."""
    held: dict[str, list[bool]] = {"bath": [], "piece": [], "reading": []}
    baths = [bath for bath in range(3) for _ in range(4)]
    pieces = [piece for piece in range(6) for _ in range(2)]
    for _ in range(turns):
        true = {part: float(random.uniform(0.3, 1.5)) for part in held}
        groups = []
        for _ in range(8):
            own = {part: random.normal(size=(12, 3)) * sd for part, sd in true.items()}
            values = own["bath"][baths] + own["piece"][pieces] + own["reading"]
            groups.append(Nested(values, baths, pieces))
        found = variance_parts(groups, 1.0)
        for part, one in (("bath", found.bath), ("piece", found.piece), ("reading", found.reading)):
            if one is not None:
                held[part].append(one.low <= true[part] <= one.high)
    said = ", ".join(f"{part} {np.mean(one):.3f}" for part, one in held.items())
    print(f"spreads of {turns} dyers: interval held {said}")


def main() -> None:
    """Draw, ask and print."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--turns", type=int, default=200)
    parser.add_argument("--steep", type=int, default=300, help="wanted shades that move")
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    random = np.random.default_rng(given.seed)
    drift(random, 2 * given.turns)
    ph_series(random, given.turns, given.steep)
    repeats(random, given.turns)


if __name__ == "__main__":
    main()
