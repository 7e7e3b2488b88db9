"""What belongs to a bath in its room, read together; rows that replace those of before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from dyeshade.library.bath_records import (
    BathLine,
    BathPiece,
    BathPlanRecord,
    DayStep,
    LogReading,
    Preference,
)
from dyeshade.library.dye_records import Addition, Bath
from dyeshade.library.edit import Edit, Reader
from dyeshade.library.shade_records import KeptPhoto

Placed = TypeVar("Placed", BathPiece, BathLine, DayStep)


@dataclass(frozen=True)
class BathRoom:
    """A bath with all that was planned and logged of it; each in its order.

    Attributes
    ----------
    additions : tuple of Addition
        All of them; those with an `additive` were logged on the way to a pH.
    readings : tuple of LogReading
    photos : tuple of KeptPhoto
        Of strips that were read.
    """

    bath: Bath
    plan: BathPlanRecord | None
    pieces: tuple[BathPiece, ...]
    lines: tuple[BathLine, ...]
    steps: tuple[DayStep, ...]
    additions: tuple[Addition, ...]
    readings: tuple[LogReading, ...]
    photos: tuple[KeptPhoto, ...] = ()


def bath_room(reader: Reader, bath_id: int) -> BathRoom:
    """A bath with all that was planned and logged of it.

    Raises
    ------
    DyeshadeError
        ``record_gone``
    """
    bath = reader.the(Bath, bath_id)
    of = ("bath_id = ?", (bath_id,))
    return BathRoom(
        bath,
        next(iter(reader.where(BathPlanRecord, *of)), None),
        tuple(reader.where(BathPiece, *of, "place, id")),
        tuple(reader.where(BathLine, *of, "place, id")),
        tuple(reader.where(DayStep, *of, "place, id")),
        tuple(reader.where(Addition, *of, "place, id")),
        tuple(reader.where(LogReading, *of)),
        tuple(
            reader.where(
                KeptPhoto,
                "id IN (SELECT photo_id FROM log_reading WHERE bath_id = ?)",
                (bath_id,),
            )
        ),
    )


def put_rows(edit: Edit, kind: type[Placed], bath_id: int, wanted: Sequence[Placed]) -> None:
    """Make a bath's rows of a kind those that are wanted, in their order."""
    kept = edit.where(kind, "bath_id = ?", (bath_id,), "place, id")
    for extra in kept[len(wanted) :]:
        edit.remove(kind, extra.id)
    for place, row in enumerate(wanted, 1):
        row = replace(row, bath_id=bath_id, place=place)
        if place <= len(kept):
            edit.change(replace(row, id=kept[place - 1].id))
        else:
            edit.add(row)


def preference(reader: Reader, name: str, otherwise: str = "") -> str:
    """What was chosen under a name."""
    found = reader.where(Preference, "name = ?", (name,))
    return found[0].value if found else otherwise


def prefer(edit: Edit, name: str, value: str) -> None:
    """Choose something for the next time as well."""
    found = edit.where(Preference, "name = ?", (name,))
    if found:
        edit.change(replace(found[0], value=value))
    else:
        edit.add(Preference(name, value))
