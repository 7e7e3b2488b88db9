"""Kinds of pH strips: their printed scale as a dyer writes it down, and as the library keeps it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dyeshade.bath.quantities import parse_number
from dyeshade.bath.strip_scale import check_scale_ph
from dyeshade.errors import DyeshadeError
from dyeshade.library import bath_records
from dyeshade.library.dye_records import wall_time
from dyeshade.library.edit import Reader
from dyeshade.library.library import Library

Array = NDArray[np.float64]
Rows = tuple[tuple[float | None, ...], ...]

EMPTY = "-"
NEXT_ROW = "/"


@dataclass(frozen=True, eq=False)
class ScaleColours:
    """What colours the blocks of a scale had in the photo in which they were marked.

    Attributes
    ----------
    lab : ndarray, shape (n, 3)
        In the order of their pH.
    covariance : ndarray, shape (3 n, 3 n)
        Of their errors, in Lab units squared.
    camera_roots : ndarray, shape (n, 3, 3)
        As in `dyeshade.measure.in_one_photo.SpotsTogether`.
    camera, light : str
        Of that photo; "" for a camera without a name.
    """

    lab: Array
    covariance: Array
    camera_roots: Array
    camera: str = ""
    light: str = ""


@dataclass(frozen=True, eq=False)
class StripKind:
    """A kind of strip.

    Attributes
    ----------
    name : str
    rows : tuple of tuple of float or None
        The blocks' pH as they are printed; None where a row has no block.
    colours : ScaleColours or None
        None until the scale has been measured.
    """

    name: str
    rows: Rows
    colours: ScaleColours | None = None


def parse_rows(text: str) -> Rows:
    """The blocks' pH as typed: "4 5 6 7", a further row after "/", "-" where there is no block.

    Raises
    ------
    DyeshadeError
        ``strip_rows_uneven`` (first, other) where rows differ in length; as `parse_number` and
        `dyeshade.bath.strip_scale.check_scale_ph`.
    """
    rows = tuple(
        tuple(None if word == EMPTY else float(parse_number(word)) for word in row.split())
        for row in text.replace(";", " ").split(NEXT_ROW)
    )
    check_scale_ph(np.array([ph for row in rows for ph in row if ph is not None]))
    for row in rows:
        if len(row) != len(rows[0]):
            raise DyeshadeError("strip_rows_uneven", first=len(rows[0]), other=len(row))
    return rows


def rows_text(rows: Rows) -> str:
    """The blocks' pH as they would be typed."""
    return f" {NEXT_ROW} ".join(
        " ".join(EMPTY if ph is None else f"{ph:g}" for ph in row) for row in rows
    )


def strip_kinds(reader: Reader) -> tuple[StripKind, ...]:
    """The kinds that the library knows, those marked last first."""
    found = reader.where(bath_records.StripKind, order="made DESC, id DESC")
    return tuple(_kind(one) for one in found)


def kind_named(reader: Reader, name: str) -> StripKind:
    """A kind by its name.

    Raises
    ------
    DyeshadeError
        ``no_such_strip`` (name, known)
    """
    kinds = strip_kinds(reader)
    for one in kinds:
        if one.name.casefold() == name.strip().casefold():
            return one
    raise DyeshadeError("no_such_strip", name=name, known=[one.name for one in kinds])


def keep_kind(library: Library, kind: StripKind, now: datetime | None = None) -> int:
    """Keep a kind; one of the same name gets the new scale. Returns its number.

    Raises
    ------
    DyeshadeError
        ``name_needed``; as `Library.edit`.
    """
    name = " ".join(kind.name.split())
    if not name:
        raise DyeshadeError("name_needed")
    made = wall_time(now or datetime.now())
    record = bath_records.StripKind(name, _scale(kind), made)
    with library.edit("keep_strip_kind") as edit:
        found = edit.where(bath_records.StripKind, "name = ?", (name,))
        if not found:
            return edit.add(record)
        edit.change(replace(record, id=found[0].id))
        return found[0].id


def _scale(kind: StripKind) -> Any:
    colours = kind.colours
    told = None
    if colours is not None:
        told = {
            "lab": _plain(colours.lab),
            "covariance": _plain(colours.covariance),
            "camera_roots": _plain(colours.camera_roots),
            "camera": colours.camera,
            "light": colours.light,
        }
    return {"rows": [list(row) for row in kind.rows], "colours": told}


def _plain(values: Array) -> Any:
    return [_plain(one) for one in values] if values.ndim else float(f"{values:.6g}")


def _kind(record: bath_records.StripKind) -> StripKind:
    told = record.scale["colours"]
    colours = None
    if told is not None:
        colours = ScaleColours(
            np.array(told["lab"]),
            np.array(told["covariance"]),
            np.array(told["camera_roots"]),
            str(told["camera"]),
            str(told["light"]),
        )
    return StripKind(record.name, _rows(record.scale["rows"]), colours)


def _rows(rows: Sequence[Sequence[float | None]]) -> Rows:
    return tuple(tuple(None if ph is None else float(ph) for ph in row) for row in rows)
