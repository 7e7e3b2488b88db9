"""Bath conditions: what a shade is keyed by, and when two shades are repeats of each other.

Conditions are fibre, mordant and its per cent, every dye bath that the piece was in (dyestuff,
part, form, ratio, exhaust number), the afterbaths and dips after the last one, and the pH that
acted last and how. Temperature, time, water and vessel are kept with the bath and belong to no key.

Two rules make repeats. Names and counts must be equal (`BathConditions.key`): an exhaust bath is no
repeat of its first bath, fresh weld none of dried weld, a pH read at the end none of one read at
the start. Numbers must be within a `Tolerance`. Being within a tolerance does not carry on from one
to the next (a pH series in small steps is no one bath), so `repeat_groups` measures every member
against the first of its group.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from dyeshade.library.dye_records import AFTER_A_BATH, IN_A_BATH
from dyeshade.library.history import History, Step

T = TypeVar("T")


@dataclass(frozen=True)
class Tolerance:
    """How far numbers of equal conditions may lie apart (common practice, no source).

    Attributes
    ----------
    ph : float
        In pH units; a strip tells about 0.5, a meter 0.1.
    relative : float
        Of ratios and per cents of mordant, as a share of the larger.
    """

    ph: float = 0.25
    relative: float = 0.1


@dataclass(frozen=True)
class Dye:
    """A dyestuff in a bath; `ratio` is its weight to the fibre's, None where not written down."""

    name: str
    part: str
    form: str
    ratio: float | None


@dataclass(frozen=True)
class DyeBath:
    """A bath as conditions see it: `kind` is "bath" or "overdye", 0 is the first bath."""

    kind: str
    dyes: tuple[Dye, ...]
    exhaust_number: int


@dataclass(frozen=True)
class BathConditions:
    """What a shade is keyed by.

    Attributes
    ----------
    fibre, mordant : str
        Names, "" where none was written down.
    mordant_percent_wof : float or None
    baths : tuple of DyeBath
        All dye baths before the reading, in order.
    afters : tuple of (kind, substance)
        Afterbaths and dips after the last bath.
    ph_values : tuple of (which, pH)
        What was read, of the last bath and after it; never pooled.
    acted : str or None
        Which pH acted last: "bath_end", else "bath_start", "after" or "rinse". None where the last
        afterbath or dip has no pH, or nothing was read.
    """

    fibre: str = ""
    mordant: str = ""
    mordant_percent_wof: float | None = None
    baths: tuple[DyeBath, ...] = ()
    afters: tuple[tuple[str, str], ...] = ()
    ph_values: tuple[tuple[str, float], ...] = ()
    acted: str | None = None

    def ph(self, which: str | None = None) -> float | None:
        """The pH of a kind, or the one that acted last; None where it was not read."""
        which = self.acted if which is None else which
        return dict(self.ph_values).get(which) if which else None

    @property
    def last_bath(self) -> DyeBath | None:
        """The bath that the piece was in last."""
        return self.baths[-1] if self.baths else None

    @property
    def key(self) -> Hashable:
        """Names and counts, which repeats have in common; numbers are compared with a tolerance."""
        return (
            _plain(self.fibre),
            _plain(self.mordant),
            tuple((bath.kind, bath.exhaust_number, _named(bath)) for bath in self.baths),
            tuple((kind, _plain(substance)) for kind, substance in self.afters),
            self.acted,
        )


def conditions_of(history: History, steps: Sequence[Step]) -> BathConditions:
    """Conditions after some of a piece's treatments, in order.

    Parameters
    ----------
    history : History
    steps : sequence of Step
        Those before the reading, as `History.before` gives them.
    """
    baths = [step for step in steps if step.treatment.kind in IN_A_BATH]
    later = steps[steps.index(baths[-1]) + 1 :] if baths else steps
    ph_values: dict[str, float] = {}
    acted: str | None = None
    if baths and baths[-1].bath is not None:
        for which in ("extraction", "bath_start", "bath_end"):
            ph = baths[-1].bath.ph(which)
            if ph is not None:
                ph_values[which] = ph
        acted = next((which for which in ("bath_end", "bath_start") if which in ph_values), None)
    for step in later:
        which = "rinse" if step.treatment.kind == "rinse" else "after"
        if step.ph is not None:
            ph_values[which] = step.ph
            acted = which
        elif step.treatment.kind in AFTER_A_BATH:
            acted = None
    return BathConditions(
        fibre=history.fibre.name if history.fibre else "",
        mordant=history.mordant.name if history.mordant else "",
        mordant_percent_wof=history.mordant.percent_wof if history.mordant else None,
        baths=tuple(_dye_bath(step) for step in baths),
        afters=tuple(
            (step.treatment.kind, step.treatment.substance)
            for step in later
            if step.treatment.kind in AFTER_A_BATH
        ),
        ph_values=tuple(ph_values.items()),
        acted=acted,
    )


def _dye_bath(step: Step) -> DyeBath:
    if step.bath is None:
        return DyeBath(step.treatment.kind, (), 0)
    dyes = tuple(Dye(lot.name, lot.part, lot.form, ratio) for lot, ratio in step.bath.dyestuffs)
    return DyeBath(step.treatment.kind, dyes, step.bath.bath.exhaust_number)


def are_repeats(
    one: BathConditions, other: BathConditions, tolerance: Tolerance | None = None
) -> bool:
    """Whether two shades come from equal conditions.

    The pH that acted last must agree, and every other pH that was read of both: a dip at the same
    pH does not make equal what was dyed at pH 5 and at pH 9. A ratio that was not written down
    agrees only with one that was not either.
    """
    within = tolerance or Tolerance()
    if one.key != other.key:
        return False
    ratios = zip(_ratios(one), _ratios(other), strict=True)
    if not all(_near(a, b, within.relative) for a, b in ratios):
        return False
    ours, theirs = dict(one.ph_values), dict(other.ph_values)
    shared = ours.keys() & theirs.keys()
    # Rounding of decimal fractions must not tell 8.5 from 8.75 at a tolerance of 0.25.
    return all(abs(ours[which] - theirs[which]) <= within.ph + 1e-9 for which in shared)


def repeat_groups(
    found: Iterable[tuple[T, BathConditions]], tolerance: Tolerance | None = None
) -> list[list[T]]:
    """Groups of equal conditions, each ordered by pH, largest group first.

    Members are repeats of the group's first, the one of lowest pH: a group is never wider than one
    tolerance.
    """
    by_key: dict[Hashable, list[tuple[T, BathConditions]]] = {}
    for thing, conditions in found:
        by_key.setdefault(conditions.key, []).append((thing, conditions))
    groups: list[list[T]] = []
    for alike in by_key.values():
        firsts: list[tuple[BathConditions, list[T]]] = []
        for thing, conditions in sorted(alike, key=lambda pair: pair[1].ph() or 0.0):
            for first, group in reversed(firsts):
                if are_repeats(first, conditions, tolerance):
                    group.append(thing)
                    break
            else:
                firsts.append((conditions, [thing]))
        groups += [group for _, group in firsts]
    return sorted(groups, key=len, reverse=True)


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())


def _sorted_dyes(bath: DyeBath) -> list[Dye]:
    return sorted(bath.dyes, key=lambda dye: (_plain(dye.name), _plain(dye.part), dye.form))


def _named(bath: DyeBath) -> tuple[tuple[str, str, str], ...]:
    return tuple((_plain(dye.name), _plain(dye.part), dye.form) for dye in _sorted_dyes(bath))


def _ratios(conditions: BathConditions) -> list[float | None]:
    dyes = [dye.ratio for bath in conditions.baths for dye in _sorted_dyes(bath)]
    return [conditions.mordant_percent_wof, *dyes]


def _near(one: float | None, other: float | None, relative: float) -> bool:
    if one is None or other is None:
        return one is other
    return abs(one - other) <= relative * max(one, other) + 1e-9
