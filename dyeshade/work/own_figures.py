"""What a dyer finds out and chooses for all baths: densities, ranges, yields, units and spoons."""

from __future__ import annotations

from datetime import datetime

from dyeshade.bath.densities import own_density_of_ten
from dyeshade.bath.quantities import parse_weight
from dyeshade.bath.ratios import parse_ratio
from dyeshade.bath.spoons import SPOONS, spoon_litres
from dyeshade.bath.substances import find_substance
from dyeshade.bath.units import SYSTEMS
from dyeshade.bath.written import parse_usual
from dyeshade.errors import DyeshadeError
from dyeshade.library.bath_records import OwnDensity, OwnRange, OwnYield
from dyeshade.library.bath_room import prefer
from dyeshade.library.dye_records import wall_time
from dyeshade.library.library import Library


def choose_units(library: Library, units: str) -> None:
    """Which units come first, "metric" or "us". Raises as `Library.edit`."""
    if units not in SYSTEMS:
        raise ValueError(units)
    with library.edit("choose_units") as edit:
        prefer(edit, "units", units)


def choose_spoons(library: Library, spoons: str) -> None:
    """Which spoons the dyer has, "metric" or "us", "" for none. Raises as `Library.edit`."""
    if spoons and spoons not in SPOONS:
        raise ValueError(spoons)
    with library.edit("choose_spoons") as edit:
        prefer(edit, "spoons", spoons)


def keep_ten_spoons(
    library: Library,
    substance: str,
    weight: str,
    spoons: str,
    balance: str = "1 g",
    now: datetime | None = None,
) -> None:
    """Keep what ten level spoons of a powder weigh together; it takes the place of the tables.

    Raises
    ------
    DyeshadeError
        ``name_needed``, ``mordant_not_supported``, or as `parse_weight` and `Library.edit`.
    """
    if not substance.strip():
        raise DyeshadeError("name_needed")
    known = find_substance(substance)
    name = " ".join(substance.split()) if known is None else known.name
    litres = spoon_litres(SPOONS[spoons])
    found = own_density_of_ten(
        name, parse_weight(weight).value, litres, parse_weight(balance).value
    )
    assert found.standard_uncertainty is not None
    with library.edit("keep_density") as edit:
        for old in edit.where(OwnDensity, "substance = ?", (name,)):
            edit.remove(OwnDensity, old.id)
        edit.add(
            OwnDensity(
                name,
                found.low,
                found.usual,
                found.high,
                found.standard_uncertainty,
                found.spoon_sd or 0.0,
                found.coverage,
                wall_time(now or datetime.now()),
            )
        )


def keep_range(library: Library, written: str) -> None:
    """Keep a dyer's own usual range, as "alum 8 to 12 % on wool".

    Raises
    ------
    DyeshadeError
        As `dyeshade.bath.written.parse_usual` and `Library.edit`.
    """
    one = parse_usual(written)
    with library.edit("keep_range") as edit:
        same = ("substance = ? AND on_fibre = ?", (one.substance, one.on))
        for old in edit.where(OwnRange, *same):
            edit.remove(OwnRange, old.id)
        edit.add(OwnRange(one.substance, one.on, one.low, one.high))


def keep_yield(library: Library, dyestuff: str, form: str, share: str) -> None:
    """Keep the dyer's own yield: what of a dyestuff is dried of fresh, or extract of dried.

    Raises
    ------
    DyeshadeError
        ``name_needed``, ``yield_above_all``, or as `parse_ratio` and `Library.edit`.
    """
    if not dyestuff.strip():
        raise DyeshadeError("name_needed")
    found = parse_ratio(share, alone="percent")
    if found > 1:
        raise DyeshadeError("yield_above_all", text=share)
    with library.edit("keep_yield") as edit:
        name = " ".join(dyestuff.split())
        for old in edit.where(OwnYield, "dyestuff = ? AND form = ?", (name, form)):
            edit.remove(OwnYield, old.id)
        edit.add(OwnYield(name, form, found))
