"""Reads published values of a colour chart from a CGATS.17 file.

References
----------
ISO 28178:2009 (and ANSI CGATS.17): keywords, a data format between BEGIN_DATA_FORMAT and
END_DATA_FORMAT, the data between BEGIN_DATA and END_DATA.
"""

from __future__ import annotations

import re
import shlex
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.adaptation import bradford
from dyeshade.cie.lab import xyz_to_lab
from dyeshade.cie.white import D65
from dyeshade.errors import DyeshadeError
from dyeshade.measure.chart import D50, Chart, d50_to_d65

Array = NDArray[np.float64]
Grid = tuple[int, int]

_LARGEST_BYTES = 4_000_000
_LAB = ("LAB_L", "LAB_A", "LAB_B")
_XYZ = ("XYZ_X", "XYZ_Y", "XYZ_Z")
_NAMES = ("SAMPLE_NAME", "SAMPLE_ID", "SAMPLEID", "SAMPLE_LOC")
_IN_GRID = re.compile(r"^([A-Z])0*(\d+)$")
_COMMON_GRIDS = {24: (4, 6)}


@dataclass(frozen=True, eq=False)
class _Table:
    keywords: dict[str, str]
    fields: list[str]
    rows: list[list[str]]


def read_chart(path: str | Path, grid: Grid | None = None) -> Chart:
    """A chart's published values.

    Patches named by a letter and a number, as A1, tell the grid themselves: letters are its rows.
    What is named otherwise beside them (a grey scale below the grid) is left out. Where no patch
    is named so, they are taken row by row.

    Parameters
    ----------
    path : str or Path
    grid : tuple of (int, int), optional
        Rows and columns, for a file that does not tell them.

    Returns
    -------
    Chart
        Named as the file is, without its folder and ending.

    Raises
    ------
    DyeshadeError
        ``chart_missing``, ``chart_unreadable`` (reason), ``chart_not_cgats``,
        ``chart_without_colours``, ``chart_number`` (text, row), ``chart_grid_unknown``
        (patches); all carry path.
    """
    path = Path(path)
    table = _table(_text(path), str(path))
    lab = _lab_of(table, str(path))
    names = next((_column(table, key) for key in _NAMES if key in table.fields), None)
    rows, columns, order = _grid_of(names, len(lab), grid, str(path))
    return Chart(path.stem, rows, columns, lab[order])


def _text(path: Path) -> str:
    try:
        if path.stat().st_size > _LARGEST_BYTES:
            raise DyeshadeError("chart_not_cgats", path=str(path))
        contents = path.read_bytes()
    except FileNotFoundError as error:
        raise DyeshadeError("chart_missing", path=str(path)) from error
    except OSError as error:
        reason = error.strerror or str(error)
        raise DyeshadeError("chart_unreadable", path=str(path), reason=reason) from error
    # The standard says ASCII; programs write names in whatever their computer uses.
    return contents.decode("latin-1")


def _words(line: str) -> list[str]:
    reader = shlex.shlex(line, posix=True, punctuation_chars=False)
    reader.whitespace_split = True
    reader.quotes = '"'
    reader.commenters = "#"
    reader.escape = ""
    try:
        return list(reader)
    except ValueError:
        # A quotation mark that is not closed: inches, in some files.
        return line.replace('"', " ").split()


def _table(text: str, told: str) -> _Table:
    keywords: dict[str, str] = {}
    fields: list[str] = []
    values: list[str] = []
    place = "head"
    found = False
    for line in text.splitlines():
        words = _words(line)
        if not words:
            continue
        first = words[0].upper()
        if first == "BEGIN_DATA_FORMAT":
            place, fields = "format", []
        elif first == "BEGIN_DATA":
            place = "data"
        elif first == "END_DATA":
            found = True
            break
        elif first == "END_DATA_FORMAT":
            place = "head"
        elif place == "format":
            fields += [word.upper() for word in words]
        elif place == "data":
            values += words
        elif len(words) > 1:
            keywords[first] = f"{keywords.get(first, '')} {' '.join(words[1:])}".strip()
    if not found or not fields or not values or len(values) % len(fields):
        raise DyeshadeError("chart_not_cgats", path=told)
    width = len(fields)
    return _Table(keywords, fields, [values[k : k + width] for k in range(0, len(values), width)])


def _column(table: _Table, field: str) -> list[str]:
    place = table.fields.index(field)
    return [row[place] for row in table.rows]


def _numbers(table: _Table, fields: tuple[str, str, str], told: str) -> Array:
    out = np.zeros((len(table.rows), 3))
    for place, field in enumerate(fields):
        for number, text in enumerate(_column(table, field)):
            try:
                out[number, place] = float(text.replace(",", "."))
            except ValueError as error:
                raise DyeshadeError("chart_number", path=told, text=text, row=number + 1) from error
    if not np.isfinite(out).all() or np.abs(out).max() > 1000:
        raise DyeshadeError("chart_not_cgats", path=told)
    return out


def _lab_of(table: _Table, told: str) -> Array:
    """Lab for D65. Values are for D50, as the standard has it, unless the file says D65."""
    said = " ".join(table.keywords.values()).upper()
    in_d65 = "D65" in said and "D50" not in said
    if all(field in table.fields for field in _LAB):
        lab = _numbers(table, _LAB, told)
        return lab if in_d65 else d50_to_d65(lab)
    if all(field in table.fields for field in _XYZ):
        xyz = _numbers(table, _XYZ, told)
        # The standard counts to 100; some programs count to 1.
        xyz = xyz / 100.0 if xyz[:, 1].max() > 2.0 else xyz
        return np.asarray(xyz_to_lab(xyz if in_d65 else xyz @ bradford(D50, D65).T))
    raise DyeshadeError("chart_without_colours", path=told)


def _grid_of(
    names: list[str] | None, count: int, grid: Grid | None, told: str
) -> tuple[int, int, list[int]]:
    """Rows, columns, and the number of the patch at each place of the grid."""
    if grid is not None:
        if grid[0] * grid[1] != count or min(grid) < 2:
            raise DyeshadeError("chart_grid_unknown", path=told, patches=count)
        return grid[0], grid[1], list(range(count))
    places = {}
    for number, name in enumerate(names or []):
        match = _IN_GRID.match(name.strip().upper())
        if match:
            places[match[1], int(match[2])] = number
    letters = sorted({letter for letter, _ in places})
    numbers = sorted({number for _, number in places})
    if min(len(letters), len(numbers)) >= 2 and len(places) == len(letters) * len(numbers):
        order = [places[letter, number] for letter in letters for number in numbers]
        return len(letters), len(numbers), order
    if count in _COMMON_GRIDS:
        return (*_COMMON_GRIDS[count], list(range(count)))
    raise DyeshadeError("chart_grid_unknown", path=told, patches=count)
