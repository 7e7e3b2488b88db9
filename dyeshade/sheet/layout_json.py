"""The layout as JSON, a contract that other programs use."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from dyeshade.sheet.kinds import kind_of_marks
from dyeshade.sheet.layout import Box, Grey, Layout, Mark, build_layout

SCHEMA: Final = "dyeshade-layout-1"

_DECIMALS: Final = 4


def layout_to_json(layout: Layout) -> dict[str, Any]:
    """A layout as plain JSON values.

    Parameters
    ----------
    layout : Layout

    Returns
    -------
    dict
        Lengths in mm from the page's top left corner, y down. ``patches`` are greys only, with the
        luminance factor 0..1 of a plain print; paper, cells and version follow from the idents of
        the ``marks``.
    """
    return {
        "schema": SCHEMA,
        "paper_mm": list(layout.paper_mm),
        "serial": layout.serial,
        "paper_reflectance": layout.paper_reflectance,
        "ink_reflectance": layout.ink_reflectance,
        "patches": [_box(grey) | {"reflectance": grey.reflectance} for grey in layout.patches],
        "colours": [_box(colour) for colour in layout.colours],
        "cells": [_box(cell) for cell in layout.cells],
        "marks": [
            {
                "ident": mark.ident,
                "x_mm": round(mark.x_mm, _DECIMALS),
                "y_mm": round(mark.y_mm, _DECIMALS),
                "size_mm": round(mark.size_mm, _DECIMALS),
            }
            for mark in layout.marks
        ],
    }


def layout_from_json(values: Mapping[str, Any]) -> Layout:
    """The layout that JSON values tell.

    Parameters
    ----------
    values : mapping
        As `layout_to_json` returns them.

    Returns
    -------
    Layout
        With the places of the JSON. What it does not tell (the serial's code, what is written
        where) comes from the kind of sheet that the marks tell.

    Raises
    ------
    ValueError
        For another schema, or marks of no sheet known here.
    KeyError, TypeError
        For values that do not follow the schema.
    """
    if values["schema"] != SCHEMA:
        raise ValueError(f"not a layout of schema {SCHEMA}: {values['schema']!r}")
    marks = tuple(Mark(**mark) for mark in values["marks"])
    paper, cells, colours, version = kind_of_marks(mark.ident for mark in marks)
    printed = build_layout(paper, cells, colours, values["serial"], version)
    width, height = values["paper_mm"]
    return Layout(
        paper=paper,
        cells_kind=cells,
        with_colours=colours,
        version=version,
        serial=values["serial"],
        paper_mm=(width, height),
        paper_reflectance=values["paper_reflectance"],
        ink_reflectance=values["ink_reflectance"],
        patches=tuple(Grey(**grey) for grey in values["patches"]),
        colours=tuple(Box(**colour) for colour in values["colours"]),
        cells=tuple(Box(**cell) for cell in values["cells"]),
        marks=marks,
        serial_code=printed.serial_code,
        texts=printed.texts,
    )


def _box(box: Box) -> dict[str, Any]:
    return {
        "name": box.name,
        "x_mm": round(box.x_mm, _DECIMALS),
        "y_mm": round(box.y_mm, _DECIMALS),
        "w_mm": round(box.w_mm, _DECIMALS),
        "h_mm": round(box.h_mm, _DECIMALS),
    }
