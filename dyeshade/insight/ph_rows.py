"""The readings of a pH series as arrays, so few that a curve is fitted at once.

A series of hundreds of readings is condensed: readings of one bath by one set-up become their mean,
and where that is not enough, baths of nearly one pH do.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.insight.common_part import light_change
from dyeshade.insight.difference import set_up_of
from dyeshade.insight.ph_series import PhSeries

Array = NDArray[np.float64]

MOST = 60
"""Rows of a curve."""


@dataclass(frozen=True, eq=False)
class Rows:
    """n readings, or means of several.

    Attributes
    ----------
    ph, ph_sd : ndarray, shape (n,)
    lab : ndarray, shape (n, 3)
    own, common : ndarray, shape (n, 3, 3)
        Covariances in Lab units squared: of the photo and the light of its day, and of what all
        readings by one set-up err alike.
    baths : tuple of n names
    merged : ndarray, shape (n,)
        How many baths each is the mean of.
    set_ups : tuple of n names
    """

    ph: Array
    ph_sd: Array
    lab: Array
    own: Array
    common: Array
    baths: tuple[Hashable, ...]
    merged: Array
    set_ups: tuple[Hashable, ...]

    @property
    def same_bath(self) -> Array:
        """1 where two rows are of one bath, less on the diagonal of means; shape (n, n)."""
        return np.asarray(same(self.baths) / self.merged[:, None])


def same(names: Sequence[Hashable]) -> Array:
    """1 where two names are equal, else 0; shape (n, n)."""
    numbers = {name: k for k, name in enumerate(dict.fromkeys(names))}
    column = np.array([numbers[name] for name in names])
    return np.asarray(column[:, None] == column[None, :], float)


def rows_of(series: PhSeries, most: int = MOST) -> Rows:
    """The readings of a series, condensed where they are more than `most`."""
    taken = [point.taken for point in series.points]
    own = []
    for one in taken:
        covariance = one.reading.shade.covariance_photo
        if one.light is not None:
            # Half of what another day's light brings to a difference belongs to each reading.
            covariance = covariance + light_change(one.lab, one.light) / 2
        own.append(covariance)
    rows = Rows(
        np.array([point.ph for point in series.points]),
        np.array([point.ph_sd for point in series.points]),
        np.array([one.lab for one in taken]),
        np.array(own),
        np.array([one.reading.shade.covariance_common for one in taken]),
        tuple(point.bath for point in series.points),
        np.ones(len(taken)),
        tuple(set_up_of(one) for one in taken),
    )
    if len(rows.ph) > most:
        rows = _merged(rows, list(zip(rows.baths, rows.set_ups, strict=True)), several=False)
    if len(rows.ph) > most:
        # From here on all set-ups count as one, as unsure in level as any of them.
        place = (rows.ph - rows.ph.min()) / max(float(np.ptp(rows.ph)), 1e-9)
        bins = np.minimum((place * most).astype(int), most - 1)
        rows = _merged(rows, [int(k) for k in bins], several=True)
    return rows


def _merged(rows: Rows, groups: Sequence[Hashable], several: bool) -> Rows:
    """Means over groups; `several` where a group may be of several baths and set-ups."""
    members: dict[Hashable, list[int]] = {}
    for k, group in enumerate(groups):
        members.setdefault(group, []).append(k)
    taken = list(members.values())
    counts = np.array([len(one) for one in taken], float)
    first = [one[0] for one in taken]

    def mean(values: Array) -> Array:
        return np.array([values[one].mean(axis=0) for one in taken])

    return Rows(
        mean(rows.ph),
        mean(rows.ph_sd) / (np.sqrt(counts) if several else 1.0),
        mean(rows.lab),
        mean(rows.own) / counts[:, None, None],
        mean(rows.common),
        tuple(("bin", k) for k in range(len(taken))) if several else _at(rows.baths, first),
        np.array([float(len({rows.baths[k] for k in one})) for one in taken]),
        ("all",) * len(taken) if several else _at(rows.set_ups, first),
    )


def _at(names: Sequence[Hashable], places: Sequence[int]) -> tuple[Hashable, ...]:
    return tuple(names[k] for k in places)
