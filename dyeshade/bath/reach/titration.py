"""The pH of many possible liquors at once, after each addition of a log.

Charge is linear in what is dissolved: a row of tables over pH, one a substance, holds all the
chemistry, and finding pH is looking where the sum of rows goes through zero.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.bath.acids import CARBONIC, Acid
from dyeshade.bath.activities import ROOM_C, charge_effect, water_pk
from dyeshade.bath.additives import MILLILITRES, Additive, stir_in
from dyeshade.bath.equilibrium import Contents, acid_charge, net_charge
from dyeshade.bath.reach.log import Addition
from dyeshade.bath.reach.prior import LOWERING, PSEUDO_PK, RAISING, Liquors, liquors
from dyeshade.cie.white import FloatArray

_Cells = NDArray[np.intp]
_CELLS = 512
_LOWEST, _HIGHEST = 1.2, 14.0
GRID = np.linspace(_LOWEST, _HIGHEST, _CELLS + 1)
_STEP = (_HIGHEST - _LOWEST) / _CELLS
_LEAST_STRENGTH = 0.004
"""Ionic strength that the liquor's own salts make at least, mol/L; a guess."""


@dataclass(frozen=True)
class _Tables:
    """Charges over `GRID` at one ionic strength and volume.

    Attributes
    ----------
    base : ndarray, shape (513,)
        Of hydrogen and hydroxide ions, mol/L.
    rows : ndarray, shape (513, substances)
        Of a mol of each substance.
    """

    base: FloatArray
    rows: FloatArray


class Titration:
    """Possible liquors and a list of additions to them.

    Parameters
    ----------
    contents : Contents
        Water and what is known to be in it.
    additions : sequence of Addition
        In order.
    """

    def __init__(self, contents: Contents, additions: Sequence[Addition] = ()) -> None:
        self.contents = contents
        self.additions = tuple(additions)
        found = [acid for acid, _ in contents.acids]
        found += [acid for one in additions for acid, _ in one.additive.acids]
        self._acids: tuple[Acid, ...] = tuple(dict.fromkeys([CARBONIC, *found]))
        self._tables = [self._tables_after(k) for k in range(len(additions) + 1)]

    def start_charge(self, numbers: FloatArray) -> FloatArray:
        """Strong charge that each liquor must hold to have its pH at the start, mol/L."""
        which = liquors(numbers)
        held = self._dissolved(which, numbers, 0)
        cell, within = _cell_of(which.start_ph)
        return -_charge(self._tables[0], held, cell, within)

    def ph_after(self, numbers: FloatArray, count: int, start_charge: FloatArray) -> FloatArray:
        """The pH of each liquor after the first `count` additions.

        Parameters
        ----------
        numbers : ndarray, shape (n, NUMBERS)
        count : int
        start_charge : ndarray, shape (n,)

        Returns
        -------
        ndarray, shape (n,)
            At 25 degrees C.
        """
        which = liquors(numbers)
        if count == 0:
            return np.clip(which.start_ph, _LOWEST, _HIGHEST)
        held = self._dissolved(which, numbers, count)
        strong = self._strong(numbers, count, start_charge)
        return _zero(self._tables[count], held, strong)

    def amount_for(
        self,
        numbers: FloatArray,
        start_charge: FloatArray,
        additive: Additive,
        spread: float,
        ph: float,
    ) -> FloatArray:
        """How much of an additive each liquor needs after all additions to come to a pH.

        Parameters
        ----------
        numbers : ndarray, shape (n, NUMBERS)
        start_charge : ndarray, shape (n,)
        additive : Additive
        spread : float
            Of its amount, as `Addition.spread`.
        ph : float

        Returns
        -------
        ndarray, shape (n,)
            In the additive's unit; below 0 where the liquor is past that pH, and infinite where the
            additive can't bring it there.
        """
        count = len(self.additions)
        cell, within = _cell_of(np.full(len(numbers), ph))
        held = self._dissolved(liquors(numbers), numbers, count)
        charge = _charge(self._tables[count], held, cell, within)
        charge += self._strong(numbers, count, start_charge)
        each = additive.strong_charge
        effect = charge_effect(self._strength(count), ROOM_C)
        for acid, mol in additive.acids:
            each += mol * float(acid_charge(acid, 1e-3, np.array(ph), ROOM_C, effect)[0]) / 1e-3
        if each * (1.0 if additive.raises_ph else -1.0) <= 0.0:
            return np.full(len(numbers), np.inf)
        # The water that comes with a stock solution is left out: it moves the balance little.
        mol_needed = -charge * self._volume(count) / each
        return mol_needed / additive.mol_per_unit / _true_share(numbers, additive, spread)

    def carbonate_mol(self, numbers: FloatArray) -> FloatArray:
        """Carbonate of all kinds in each liquor after all additions, mol, shape (n,)."""
        count = len(self.additions)
        held = self._dissolved(liquors(numbers), numbers, count)
        found: FloatArray = held[:, len(PSEUDO_PK) + self._acids.index(CARBONIC)]
        return found * self._volume(count)

    def _volume(self, count: int) -> float:
        liquid_ml = sum(
            one.amount for one in self.additions[:count] if one.additive.unit == MILLILITRES
        )
        return self.contents.volume_l + liquid_ml / 1000.0

    def _strength(self, count: int) -> float:
        """Ionic strength of what is known to be in the bath, mol/L, taken near neutral."""
        known = self.contents
        for one in self.additions[:count]:
            known = stir_in(known, one.additive, one.amount)
        _, strength, _ = net_charge(known, np.array(7.0), ROOM_C, 0.0)
        return max(float(strength), _LEAST_STRENGTH)

    def _tables_after(self, count: int) -> _Tables:
        effect = charge_effect(self._strength(count), ROOM_C)
        base = 10.0 ** (effect - GRID) - 10.0 ** (effect + GRID - water_pk(ROOM_C))
        columns = [-1.0 / (1.0 + 10.0 ** (pk - GRID)) for pk in PSEUDO_PK]
        for acid in self._acids:
            # A metal's hydroxide settles by concentration, so its row is that of what is there.
            known = self.contents.total(acid) + sum(
                one.mol * mol
                for one in self.additions[:count]
                for which, mol in one.additive.acids
                if which is acid
            )
            here = max(known / self._volume(count), 1e-9)
            columns.append(acid_charge(acid, here, GRID, ROOM_C, effect)[0] / here)
        return _Tables(base, np.ascontiguousarray(np.array(columns).T))

    def _dissolved(self, which: Liquors, numbers: FloatArray, count: int) -> FloatArray:
        """Totals of each substance in each liquor, mol/L, shape (n, substances)."""
        volume, start = self._volume(count), self.contents.volume_l
        held = np.empty((len(numbers), len(PSEUDO_PK) + len(self._acids)))
        held[:, : len(PSEUDO_PK)] = which.totals_mol_l * (start / volume)
        for place, acid in enumerate(self._acids, len(PSEUDO_PK)):
            known = self.contents.total(acid)
            column = known * which.carbonate_share if acid is CARBONIC else known
            held[:, place] = column / volume
        for one in self.additions[:count]:
            share = _true_share(numbers, one.additive, one.spread) * one.mol / volume
            for acid, mol in one.additive.acids:
                held[:, len(PSEUDO_PK) + self._acids.index(acid)] += share * mol
        return held

    def _strong(self, numbers: FloatArray, count: int, start_charge: FloatArray) -> FloatArray:
        volume = self._volume(count)
        strong = start_charge * (self.contents.volume_l / volume)
        for one in self.additions[:count]:
            charge = one.mol * one.additive.strong_charge / volume
            if charge:
                strong = strong + charge * _true_share(numbers, one.additive, one.spread)
        return strong


def _true_share(numbers: FloatArray, additive: Additive, spread: float) -> FloatArray:
    """How much is really in what was measured out, of what is said to be."""
    return np.exp(spread * numbers[:, RAISING if additive.raises_ph else LOWERING])


def _cell_of(ph: FloatArray) -> tuple[_Cells, FloatArray]:
    place = (np.clip(ph, _LOWEST, _HIGHEST) - _LOWEST) / _STEP
    cell = np.minimum(place.astype(np.intp), _CELLS - 1)
    return cell, place - cell


def _at(tables: _Tables, held: FloatArray, node: _Cells) -> FloatArray:
    found: FloatArray = tables.base[node] + np.einsum("ij,ij->i", held, tables.rows[node])
    return found


def _charge(tables: _Tables, held: FloatArray, cell: _Cells, within: FloatArray) -> FloatArray:
    """Charge without the strong ions, between two nodes of the table."""
    return (1.0 - within) * _at(tables, held, cell) + within * _at(tables, held, cell + 1)


def _zero(tables: _Tables, held: FloatArray, strong: FloatArray) -> FloatArray:
    """Where the charge of each liquor goes through zero, by halving, then a straight line."""
    low: _Cells = np.zeros(len(held), dtype=np.intp)
    width = _CELLS
    while width > 1:
        width //= 2
        middle = low + width
        positive = _at(tables, held, middle) + strong > 0.0
        low = np.where(positive, middle, low)
    left = _at(tables, held, low) + strong
    right = _at(tables, held, low + 1) + strong
    within = np.clip(left / (left - right), 0.0, 1.0)
    return _LOWEST + _STEP * (low + within)
