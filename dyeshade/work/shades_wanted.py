"""Shades asked for by their conditions and by words, with what there is to choose from."""

from __future__ import annotations

from dataclasses import dataclass, field

from dyeshade.library.dye_records import Bath, DyestuffLot, FibreLot, Mordant
from dyeshade.library.find import FoundShade, ShadeQuery, find_shades
from dyeshade.library.library import Library
from dyeshade.library.readings import NEWEST


@dataclass(frozen=True)
class Wanted:
    """What is asked for.

    Attributes
    ----------
    query : ShadeQuery
    words : str
        Each must stand somewhere in what was written down of the shade, in upper or lower case.
    """

    query: ShadeQuery = field(default_factory=ShadeQuery)
    words: str = ""


@dataclass(frozen=True)
class Choices:
    """Names to choose from, in alphabetical order, and the largest exhaust number."""

    dyestuffs: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    fibres: tuple[str, ...] = ()
    mordants: tuple[str, ...] = ()
    most_exhausts: int = 0


@dataclass(frozen=True)
class ShadesFound:
    """The answer.

    Attributes
    ----------
    found : list of FoundShade
        In the order of their reading.
    of : int
        How many shades the library holds.
    choices : Choices
    """

    found: list[FoundShade]
    of: int
    choices: Choices


def shades_wanted(library: Library, wanted: Wanted) -> ShadesFound:
    """Ask the library for shades.

    Raises
    ------
    DyeshadeError
        As `dyeshade.library.faults.told`.
    """
    found = find_shades(library, wanted.query)
    words = wanted.words.casefold().split()
    if words:
        found = [one for one in found if _has(one, words)]
    of = int(library.value(f"SELECT count(*) FROM reading WHERE {NEWEST}"))
    return ShadesFound(found, of, choices_in(library))


def _has(found: FoundShade, words: list[str]) -> bool:
    history, conditions = found.history, found.conditions
    told = [history.piece.code, history.piece.name, history.piece.note]
    told += [conditions.fibre, conditions.mordant, found.reading.sample, found.reading.note]
    told += [history.fibre.make if history.fibre else ""]
    for step in history.before(found.reading):
        told += [step.treatment.kind, step.treatment.substance, step.treatment.note]
        if step.bath is not None:
            bath = step.bath.bath
            told += [bath.code, bath.water, bath.vessel, bath.note]
            told += [one.substance for one in step.bath.additions]
            for lot, _ in step.bath.dyestuffs:
                told += [lot.name, lot.part, lot.form, lot.origin]
    text = "\n".join(told).casefold()
    return all(word in text for word in words)


def choices_in(library: Library) -> Choices:
    """Names that a library knows."""
    lots = library.where(DyestuffLot)
    return Choices(
        _sorted({lot.name for lot in lots}),
        _sorted({lot.part for lot in lots if lot.part}),
        _sorted({lot.name for lot in library.where(FibreLot)}),
        _sorted({one.name for one in library.where(Mordant)}),
        max((bath.exhaust_number for bath in library.where(Bath)), default=0),
    )


def _sorted(names: set[str]) -> tuple[str, ...]:
    """One of each name, upper and lower case being the same."""
    one_of_each = {name.casefold(): name for name in sorted(names, reverse=True)}
    return tuple(one_of_each[key] for key in sorted(one_of_each))
