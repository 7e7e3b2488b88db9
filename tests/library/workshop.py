"""The Hollow Weir Dye Room: an invented workshop with weld in a pH series, and madder exhausted.

All of it is invented; no figure here says how a dyestuff behaves.
"""

import sqlite3
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from dyeshade.library.baths import add_bath, exhaust_of, read_bath_ph
from dyeshade.library.dye_records import (
    Addition,
    Bath,
    DyestuffLot,
    FibreLot,
    Mordant,
    Piece,
    Treatment,
)
from dyeshade.library.edit import Edit
from dyeshade.library.library import Library
from dyeshade.library.pieces import add_piece, keep_lot
from dyeshade.library.readings import keep_reading
from dyeshade.library.shade_records import KeptPhoto, Reading
from dyeshade.library.treatments import add_treatment

DAY = datetime(2026, 3, 1, 9, 0)
WELD = DyestuffLot("weld", "tops", "dried", "Hollow Weir garden")
MADDER = DyestuffLot("madder", "root", "dried", "Hollow Weir garden")
WOOL, SILK = FibreLot("wool", "4-ply yarn"), FibreLot("silk", "cloth")
ALUM = Mordant("alum", 12.0)
SIX = (0.04, 0.0, 0.0, 0.04, 0.0, 0.04)


def a_reading(piece_id: int, **given: Any) -> Reading:
    plain: dict[str, Any] = {
        "piece_id": piece_id,
        "sample": "A1",
        "read": DAY + timedelta(days=2),
        "state": "dry",
        "lab_l": 78.0,
        "lab_a": -6.0,
        "lab_b": 61.0,
        "covariance_photo": SIX,
        "covariance_common": SIX,
        "u95": 2.1,
        "srgb": "#d6c84a",
        "in_gamut": True,
        "measured": DAY + timedelta(days=3),
    }
    return Reading(**(plain | given))


def a_photo(number: int = 1) -> KeptPhoto:
    return KeptPhoto(f"{number:064x}", ".jpg", f"IMG_{number:04d}.jpg", "JPEG", DAY, "a camera")


def a_dyed_piece(edit: Edit, code: str, fibre: FibreLot, bath_id: int, **reading: Any) -> int:
    """A piece on alum, dyed, rinsed, read two days later. Returns its id."""
    fibre_id, mordant_id = keep_lot(edit, fibre), keep_lot(edit, ALUM)
    piece = add_piece(edit, Piece(code, "", fibre_id, mordant_id, 50.0))
    add_treatment(edit, Treatment(piece, "mordant", substance="alum", amount=12.0, unit="% wof"))
    add_treatment(edit, Treatment(piece, "bath", bath_id, started=DAY))
    add_treatment(edit, Treatment(piece, "rinse", started=DAY + timedelta(hours=2)), ph=7.2)
    keep_reading(edit, a_reading(piece, **reading))
    return piece


def a_bath(edit: Edit, code: str, ph: float, lot: DyestuffLot = WELD, ratio: float = 1.0) -> int:
    """A bath brought to a pH with washing soda. Returns its id."""
    soda = Addition(0, "washing soda", 2.0, "g", ph_after=ph)
    bath = Bath(code, DAY, "rain water", "steel pot", 30.0, 80.0, 60.0)
    bath_id = add_bath(edit, bath, [(lot, ratio)], [soda])
    read_bath_ph(edit, bath_id, "bath_end", ph - 0.2, 0.05, DAY + timedelta(hours=1), "meter")
    return bath_id


def fill(library: Library) -> None:
    """Weld at pH 5, 7, 9 on wool and silk; madder first and exhaust on wool."""
    with library.edit("demo") as edit:
        for number, ph in enumerate((5.0, 7.0, 9.0)):
            bath = a_bath(edit, f"bath-{number + 1:03d}", ph)
            a_dyed_piece(edit, f"W-{2 * number + 1:03d}", WOOL, bath)
            a_dyed_piece(edit, f"S-{2 * number + 2:03d}", SILK, bath)
        first = a_bath(edit, "bath-004", 6.5, MADDER, 0.5)
        a_dyed_piece(edit, "W-007", WOOL, first)
        exhaust = exhaust_of(edit, edit.the(Bath, first))
        second = add_bath(edit, replace(exhaust, started=DAY), [(MADDER, 0.5)])
        read_bath_ph(edit, second, "bath_end", 6.3, 0.05, DAY, "meter")
        a_dyed_piece(edit, "W-008", WOOL, second)


def dump(library: Library) -> list[str]:
    """All that a library holds, as SQL; the counter of ids given out is no content."""
    connection: sqlite3.Connection = library._connection
    return [line for line in connection.iterdump() if "sqlite_sequence" not in line]
