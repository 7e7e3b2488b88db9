"""Writes into the log of a bath: a pH that was read, by eye or in a photo, and what was added."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

from dyeshade.bath.additives import GRAMS, Additive
from dyeshade.bath.reach.log import WEIGHED, Instrument
from dyeshade.library import dye_records
from dyeshade.library.bath_records import LogReading
from dyeshade.library.baths import add_addition
from dyeshade.library.dye_records import wall_time
from dyeshade.library.edit import Edit
from dyeshade.library.library import Library
from dyeshade.library.photos import keep_file, keep_photo
from dyeshade.library.shade_records import KeptPhoto
from dyeshade.work.read_strip import StripFound


def log_reading(
    library: Library,
    bath_id: int,
    ph: float,
    instrument: Instrument,
    known_ph: float | None = None,
    now: datetime | None = None,
    photo: KeptPhoto | None = None,
) -> int:
    """Log a pH that was read, or with `known_ph` a check of the instrument. Returns its id.

    `photo` is one of the strip, as `dyeshade.library.photos.keep_file` gives it.

    Raises
    ------
    DyeshadeError
        As `Library.edit`.
    """
    with library.edit("log_ph") as edit:
        last = _last_logged(edit, bath_id)
        reading = LogReading(
            bath_id,
            None if last is None or known_ph is not None else last.id,
            ph,
            instrument.name,
            instrument.error,
            instrument.bias,
            known_ph,
            wall_time(now or datetime.now()),
            None if photo is None else keep_photo(edit, photo).id,
        )
        made = edit.add(reading)
        if last is not None and known_ph is None:
            read = edit.where(LogReading, "addition_id = ?", (last.id,))
            mean = sum(one.ph for one in read) / len(read)
            edit.change(replace(last, ph_after=round(mean, 2)))
        return made


def log_strip(
    library: Library,
    bath_id: int,
    path: str | Path,
    found: StripFound,
    now: datetime | None = None,
) -> int:
    """Log a pH that a photo of a strip told, with the photo. Returns its id.

    Raises
    ------
    DyeshadeError
        As `dyeshade.library.photos.keep_file` and `Library.edit`.
    ValueError
        Where the photo tells no pH that could be logged.
    """
    if found.instrument is None:
        raise ValueError("no reading for a log")
    photo = keep_file(library, path, found.file_format, found.taken, found.camera)
    ph = round(found.place.ph, 2)
    return log_reading(library, bath_id, ph, found.instrument, now=now, photo=photo)


def log_addition(
    library: Library,
    bath_id: int,
    what: Additive,
    amount: float,
    measured: str = WEIGHED,
    words: str = "",
    now: datetime | None = None,
) -> int:
    """Log something that was stirred in.

    Parameters
    ----------
    library : Library
    bath_id : int
    what : Additive
    amount : float
        In its unit.
    measured : str
        As `dyeshade.bath.reach.log.Addition.measured`.
    words : str
        What people call it.
    now : datetime, optional

    Returns
    -------
    int
        The addition's id.
    """
    with library.edit("log_addition") as edit:
        record = dye_records.Addition(
            bath_id,
            words or what.name,
            amount,
            "g" if what.unit == GRAMS else "ml",
            None,
            1,
            wall_time(now or datetime.now()),
            what.name,
            what.percent,
            measured,
        )
        return add_addition(edit, record)


def _last_logged(edit: Edit, bath_id: int) -> dye_records.Addition | None:
    logged = edit.where(
        dye_records.Addition, "bath_id = ? AND additive <> ''", (bath_id,), "place, id"
    )
    return logged[-1] if logged else None
