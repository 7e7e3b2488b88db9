"""The layout as JSON, a contract that other programs use.

Its schema is ``resources/schemas/layout.schema.json``.
"""

from __future__ import annotations

from typing import Any

from dyeshade.sheet.layout import Box, Layout

SCHEMA = "dyeshade-layout-1"


def _box(box: Box) -> dict[str, Any]:
    return {
        "name": box.name,
        "x_mm": round(box.x_mm, 3),
        "y_mm": round(box.y_mm, 3),
        "w_mm": round(box.w_mm, 3),
        "h_mm": round(box.h_mm, 3),
    }


def layout_to_json(layout: Layout) -> dict[str, Any]:
    """A layout as plain JSON values.

    Parameters
    ----------
    layout : Layout

    Returns
    -------
    dict
        Lengths in mm from the page's top left corner, y down; ``patches`` are greys only, with the
        luminance factor 0..1 of a plain print.
    """
    return {
        "schema": SCHEMA,
        "paper": layout.paper,
        "kind": layout.cells_kind,
        "version": layout.version,
        "paper_mm": list(layout.paper_mm),
        "serial": layout.serial,
        "paper_reflectance": layout.paper_reflectance,
        "ink_reflectance": layout.ink_reflectance,
        "patches": [
            _box(patch) | {"reflectance": round(patch.reflectance, 5)} for patch in layout.patches
        ],
        "colours": [_box(box) for box in layout.colours],
        "cells": [_box(box) for box in layout.cells],
        "marks": [
            {
                "ident": mark.ident,
                "x_mm": round(mark.x_mm, 3),
                "y_mm": round(mark.y_mm, 3),
                "size_mm": mark.size_mm,
            }
            for mark in layout.marks
        ],
    }
