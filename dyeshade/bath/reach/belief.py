"""What a log tells about a liquor: its own acids, its pH, and by how much the instrument is off.

Possible liquors are drawn from the stated prior and follow the log reading by reading: each
reading is let in by degrees, liquors that do not fit die, the others multiply and then move within
what is possible (sequential Monte Carlo with resampling and moves). The same log gives the same
numbers: the seed is fixed.

References
----------
Del Moral, P., Doucet, A. and Jasra, A. (2006). Sequential Monte Carlo samplers. J. R. Stat. Soc. B
68(3), 411-436. The moves keep a normal distribution fitted to the liquors: Cotter, S. L., Roberts,
G. O., Stuart, A. M. and White, D. (2013). MCMC methods for functions. Statistical Science 28(3).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.bath.reach.log import Addition, BathLog, Check, Instrument, Reading
from dyeshade.bath.reach.prior import METER_BIAS, MODEL_ERROR, NUMBERS, STRIP_BIAS
from dyeshade.bath.reach.titration import Titration
from dyeshade.cie.white import FloatArray

COUNT = 1000
"""Possible liquors that are followed."""
_SEED = 20_240_229
_MOVES = (0.5, 0.9, 0.7, 0.95)
"""How far each move goes: 1 draws anew from the fitted normal, 0 stays."""
_LEAST_SHARE = 0.5


@dataclass(frozen=True)
class Belief:
    """Liquors that fit a log, all equally likely.

    Attributes
    ----------
    log : BathLog
    numbers : ndarray, shape (n, NUMBERS)
        As `prior.liquors` reads them.
    start_charge : ndarray, shape (n,)
    ph : ndarray, shape (n,)
        After the last addition, at 25 degrees C.
    titration : Titration
    """

    log: BathLog
    numbers: FloatArray
    start_charge: FloatArray
    ph: FloatArray
    titration: Titration


def learn(log: BathLog, count: int = COUNT) -> Belief:
    """What a whole log tells.

    Parameters
    ----------
    log : BathLog
    count : int
        Of possible liquors.

    Returns
    -------
    Belief
    """
    first = BathLog(log.contents, checks=log.checks)
    numbers = _checked(np.random.default_rng(_SEED).standard_normal((count, NUMBERS)), log.checks)
    belief = _belief(first, numbers)
    belief = _with_readings(belief, log.steps[0].readings)
    for step in log.steps[1:]:
        assert step.addition is not None
        belief = after_addition(belief, step.addition)
        belief = _with_readings(belief, step.readings)
    return belief


def after_addition(belief: Belief, addition: Addition) -> Belief:
    """The liquors with something added, before it is read."""
    return _belief(belief.log.added(addition), belief.numbers)


def after_reading(belief: Belief, *readings: Reading) -> Belief:
    """The liquors that fit further readings after the last addition."""
    return _with_readings(belief, readings)


def _belief(log: BathLog, numbers: FloatArray) -> Belief:
    titration = Titration(log.contents, log.additions)
    start = titration.start_charge(numbers)
    ph = titration.ph_after(numbers, len(log.additions), start)
    return Belief(log, numbers, start, ph, titration)


def _with_readings(belief: Belief, readings: tuple[Reading, ...]) -> Belief:
    for reading in readings:
        belief = _with_reading(belief, reading)
    return belief


def _with_reading(belief: Belief, reading: Reading) -> Belief:
    log = belief.log.read(reading)
    seen = sum(len(step.readings) for step in log.steps)
    rng = np.random.default_rng([_SEED, len(log.steps), seen])
    numbers, titration = belief.numbers, belief.titration
    new = _fit(numbers, belief.ph, (reading,))
    old = _fit_of_log(numbers, titration, belief.log)
    share = 0.0
    while share < 1.0:
        step = _next_share(new, 1.0 - share)
        weights = np.exp(step * (new - new.max()))
        share += step
        kept = _resampled(weights / weights.sum(), rng)
        numbers, new, old = numbers[kept], new[kept], old[kept]
        numbers, new, old = _moved(numbers, new, old, share, titration, belief.log, reading, rng)
    return _belief(log, numbers)


def _checked(numbers: FloatArray, checks: tuple[Check, ...]) -> FloatArray:
    """The drawn liquors with the biases that the checks leave; both are normal, so it is exact."""
    for place in (STRIP_BIAS, METER_BIAS):
        mean, precision = 0.0, 1.0
        for one in checks:
            of, bias, spread = _reading_model(one.reading.instrument)
            if of == place:
                weight = (bias / spread) ** 2
                precision += weight
                mean += bias / spread**2 * (one.reading.ph - one.known_ph)
        numbers[:, place] = mean / precision + numbers[:, place] / math.sqrt(precision)
    return numbers


def _reading_model(instrument: Instrument) -> tuple[int, float, float]:
    """Which number holds its bias, pH of one standard deviation of it, spread of a reading.

    What is off by up to so much, evenly, has a standard deviation of that over root 3.
    """
    place = METER_BIAS if instrument.name == "meter" else STRIP_BIAS
    return place, instrument.bias / math.sqrt(3.0), instrument.error / math.sqrt(3.0)


def _fit(numbers: FloatArray, ph: FloatArray, readings: tuple[Reading, ...]) -> FloatArray:
    """Log likelihood of readings of one moment."""
    total = np.zeros(len(numbers))
    for one in readings:
        place, bias, error = _reading_model(one.instrument)
        spread = math.hypot(error, MODEL_ERROR)
        total -= 0.5 * ((one.ph - ph - bias * numbers[:, place]) / spread) ** 2
    return total


def _fit_of_checks(numbers: FloatArray, checks: tuple[Check, ...]) -> FloatArray:
    total = np.zeros(len(numbers))
    for one in checks:
        place, bias, error = _reading_model(one.reading.instrument)
        apart = one.reading.ph - one.known_ph - bias * numbers[:, place]
        total -= 0.5 * (apart / error) ** 2
    return total


def _fit_of_log(numbers: FloatArray, titration: Titration, log: BathLog) -> FloatArray:
    start = titration.start_charge(numbers)
    total = _fit_of_checks(numbers, log.checks)
    for count, step in enumerate(log.steps):
        if step.readings:
            total += _fit(numbers, titration.ph_after(numbers, count, start), step.readings)
    return total


def _next_share(fit: FloatArray, left: float) -> float:
    """How much of a reading may be let in at once, so that enough liquors still count."""

    def effective(share: float) -> float:
        weights = np.exp(share * (fit - fit.max()))
        return float(weights.sum() ** 2 / (weights**2).sum()) / len(fit)

    if effective(left) >= _LEAST_SHARE:
        return left
    low, high = 0.0, left
    for _ in range(20):
        middle = (low + high) / 2.0
        low, high = (middle, high) if effective(middle) >= _LEAST_SHARE else (low, middle)
    return max(low, 1e-3)


def _resampled(weights: FloatArray, rng: np.random.Generator) -> NDArray[np.intp]:
    edges = np.cumsum(weights)
    places = (rng.random() + np.arange(len(weights))) / len(weights)
    found: NDArray[np.intp] = np.minimum(np.searchsorted(edges, places), len(weights) - 1)
    return found


def _moved(
    numbers: FloatArray,
    new: FloatArray,
    old: FloatArray,
    share: float,
    titration: Titration,
    log: BathLog,
    reading: Reading,
    rng: np.random.Generator,
) -> tuple[FloatArray, FloatArray, FloatArray]:
    mean = numbers.mean(axis=0)
    spread = np.cov(numbers, rowvar=False) + 1e-3 * np.eye(NUMBERS)
    root = np.linalg.cholesky(spread)
    inverse = np.linalg.inv(root)
    last = len(log.steps) - 1

    def log_ratio(of: FloatArray) -> FloatArray:
        # Prior against the fitted normal, which the moves keep.
        apart: FloatArray = (of - mean) @ inverse.T
        ratio: FloatArray = 0.5 * (apart**2).sum(axis=1) - 0.5 * (of**2).sum(axis=1)
        return ratio

    ratio = log_ratio(numbers)
    for far in _MOVES:
        fresh = rng.standard_normal(numbers.shape) @ root.T
        tried = mean + math.sqrt(1.0 - far**2) * (numbers - mean) + far * fresh
        start = titration.start_charge(tried)
        tried_old = _fit_of_checks(tried, log.checks)
        for count, step in enumerate(log.steps):
            if step.readings or count == last:
                ph = titration.ph_after(tried, count, start)
                tried_old += _fit(tried, ph, step.readings)
        tried_new = _fit(tried, ph, (reading,))
        tried_ratio = log_ratio(tried)
        gain = share * (tried_new - new) + tried_old - old + tried_ratio - ratio
        taken = np.log(rng.random(len(tried))) < gain
        numbers = np.where(taken[:, None], tried, numbers)
        new, old = np.where(taken, tried_new, new), np.where(taken, tried_old, old)
        ratio = np.where(taken, tried_ratio, ratio)
    return numbers, new, old
