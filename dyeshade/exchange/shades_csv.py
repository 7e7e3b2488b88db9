"""Shades as a table that spreadsheets read: one reading a line, units in the headers."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from io import StringIO
from pathlib import Path

from dyeshade.cie.lab import lab_to_lch
from dyeshade.exchange.text_cells import text_cell
from dyeshade.library.conditions import Dye
from dyeshade.library.find import FoundShade
from dyeshade.library.library import Library
from dyeshade.library.shade_records import KeptPhoto
from dyeshade.whole_file import write_whole

_PARTS = ("L*L*", "L*a*", "L*b*", "a*a*", "a*b*", "b*b*")


@dataclass(frozen=True)
class _Line:
    found: FoundShade
    photo: KeptPhoto | None


_Cell = str | float | int | None
_Column = tuple[str, Callable[[_Line], _Cell]]


def _dyes(line: _Line) -> tuple[Dye, ...]:
    last = line.found.conditions.last_bath
    return last.dyes if last else ()


def _joined(values: Iterable[object]) -> str:
    """Values of several dyestuffs in one bath, in the order of the bath."""
    return " + ".join("" if value is None else str(value) for value in values)


def _made_of(line: _Line) -> tuple[str, str]:
    fibre = line.found.history.fibre
    return (fibre.name, fibre.make) if fibre else ("", "")


def _lch(line: _Line, place: int) -> float:
    return round(float(lab_to_lch(line.found.reading.lab)[place]), 4)


def _exhaust(line: _Line) -> int | None:
    last = line.found.conditions.last_bath
    return last.exhaust_number if last else None


def _earlier(line: _Line) -> str:
    baths = line.found.conditions.baths[:-1]
    return ", ".join(_joined(dye.name for dye in bath.dyes) for bath in baths)


def _ph(which: str | None) -> Callable[[_Line], _Cell]:
    return lambda line: line.found.conditions.ph(which)


def _covariance(name: str, place: int) -> Callable[[_Line], _Cell]:
    return lambda line: float(getattr(line.found.reading, name)[place])


COLUMNS: tuple[_Column, ...] = (
    ("piece", lambda line: line.found.history.piece.code),
    ("piece name", lambda line: line.found.history.piece.name),
    ("fibre", lambda line: _made_of(line)[0]),
    ("fibre make", lambda line: _made_of(line)[1]),
    ("weight of fibre (g)", lambda line: line.found.history.piece.weight_g),
    ("mordant", lambda line: line.found.conditions.mordant),
    ("mordant (% wof)", lambda line: line.found.conditions.mordant_percent_wof),
    ("bath", lambda line: line.found.bath_code),
    ("dyestuff", lambda line: _joined(dye.name for dye in _dyes(line))),
    ("part", lambda line: _joined(dye.part for dye in _dyes(line))),
    ("form", lambda line: _joined(dye.form for dye in _dyes(line))),
    ("ratio (g dyestuff / g fibre)", lambda line: _joined(dye.ratio for dye in _dyes(line))),
    ("exhaust number (0 = first bath)", _exhaust),
    ("dyed before in", _earlier),
    ("afterbaths and dips", lambda line: ", ".join(map(_after, line.found.conditions.afters))),
    ("pH of extraction", _ph("extraction")),
    ("pH of bath at start", _ph("bath_start")),
    ("pH of bath at end", _ph("bath_end")),
    ("pH of afterbath or dip", _ph("after")),
    ("pH of rinse water", _ph("rinse")),
    ("pH that acted last", _ph(None)),
    ("which pH acted last", lambda line: (line.found.conditions.acted or "").replace("_", " ")),
    ("read (local time)", lambda line: line.found.reading.read.isoformat()),
    ("state", lambda line: line.found.reading.state.replace("_", " ")),
    ("sample", lambda line: line.found.reading.sample),
    ("L* (D65, 2 degrees)", lambda line: line.found.reading.lab_l),
    ("a* (D65, 2 degrees)", lambda line: line.found.reading.lab_a),
    ("b* (D65, 2 degrees)", lambda line: line.found.reading.lab_b),
    ("C*ab (D65, 2 degrees)", lambda line: _lch(line, 1)),
    ("hab (degrees)", lambda line: _lch(line, 2)),
    ("u95 (CIEDE2000)", lambda line: line.found.reading.u95),
    ("sRGB", lambda line: line.found.reading.srgb),
    ("within sRGB", lambda line: "yes" if line.found.reading.in_gamut else "no"),
    ("flags", lambda line: " ".join(one.code for one in line.found.reading.notices)),
    ("method version", lambda line: line.found.reading.method_version),
    ("photo", lambda line: line.photo.name if line.photo else ""),
    ("SHA-256 of photo", lambda line: line.photo.sha256 if line.photo else ""),
    *(
        (f"covariance of photo {part} (Lab units squared)", _covariance("covariance_photo", i))
        for i, part in enumerate(_PARTS)
    ),
    *(
        (f"covariance common {part} (Lab units squared)", _covariance("covariance_common", i))
        for i, part in enumerate(_PARTS)
    ),
)
"""Header, and how a line's cell comes about."""


def _after(after: tuple[str, str]) -> str:
    kind, substance = after
    return f"{kind} ({substance})" if substance else kind


def shade_rows(
    found: Sequence[FoundShade], photos: Mapping[int, KeptPhoto]
) -> list[list[str | float | int]]:
    """The table without its headers.

    Parameters
    ----------
    found : sequence of FoundShade
    photos : mapping of int to KeptPhoto
        By id.
    """
    rows = []
    for one in found:
        photo_id = one.reading.photo_id
        line = _Line(one, None if photo_id is None else photos[photo_id])
        cells = (cell(line) for _, cell in COLUMNS)
        rows.append(["" if value is None else value for value in cells])
    return rows


def write_shades_csv(library: Library, found: Sequence[FoundShade], path: str | Path) -> None:
    """Write shades as CSV: UTF-8 with a byte order mark, commas, decimal points, RFC 4180.

    Texts that a spreadsheet would take for formulas are written as `text_cell` says. An older file
    stays until the new one is whole.

    Raises
    ------
    DyeshadeError
        ``cannot_write`` (path, reason); else as `dyeshade.library.faults.told`.
    """
    ids = sorted({one.reading.photo_id for one in found if one.reading.photo_id is not None})
    photos = {photo.id: photo for photo in library.among(KeptPhoto, "id", ids)}
    table = StringIO(newline="")
    writer = csv.writer(table)
    writer.writerow([header for header, _ in COLUMNS])
    for row in shade_rows(found, photos):
        writer.writerow([text_cell(cell) if isinstance(cell, str) else cell for cell in row])
    # Spreadsheets take UTF-8 for what it is only with the mark in front.
    write_whole(table.getvalue().encode("utf-8-sig"), path)
