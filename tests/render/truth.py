"""What is true of a render: colours, places in the photo, what is hidden."""

from __future__ import annotations

from typing import Any

import numpy as np

from .camera import own_matrix
from .page_surface import Page
from .piece_texture import PieceTruth
from .scene import Scene
from .sheet import box_corners
from .spectra import WAVELENGTHS, Array, lab_of, xyz_of
from .stage import Stage
from .texture import Texture


def truth_of(
    scene: Scene,
    stage: Stage,
    page: Page,
    drawn: list[tuple[Any, Texture, PieceTruth, float]],
) -> dict[str, Any]:
    """Truth of a render.

    "cells": cell name to {"lab", "spectrum", "shades", "kind", "height_mm", "outline_px"};
    "patches": name to {"reflectance", "lab", "spectrum", "corners_px", "hidden"}; "marks": ident to
    {"corners_px", "hidden"}; "cell_corners_px"; "page_corners_px"; "camera", "light"; "matrix".
    """
    layout, view, curl = scene.sheet.layout, stage.view, stage.curl

    def pixels(box: dict[str, Any]) -> Array:
        corners = box_corners(box)
        return view.project(corners, curl.height(corners[:, 0], corners[:, 1]))

    cells = {
        piece.cell: {
            "lab": truth.lab,
            "spectrum": truth.spectrum,
            "shades": truth.shades,
            "kind": piece.kind,
            "height_mm": piece.height_mm,
            "outline_px": view.project(truth.outline_mm, z),
        }
        for piece, _, truth, z in drawn
    }
    patches = {
        p["name"]: {
            "spectrum": page.patch_spectra[p["name"]],
            "reflectance": float(page.patch_spectra[p["name"]] @ _luminance()),
            "lab": lab_of(page.patch_spectra[p["name"]]),
            "corners_px": pixels(p),
            "hidden": page.hidden.get(p["name"], 0.0),
        }
        for p in [*layout["patches"], *layout.get("colours", [])]
    }
    marks = {
        int(m["ident"]): {"corners_px": pixels(m), "hidden": page.hidden[f"mark {m['ident']}"]}
        for m in layout["marks"]
    }
    w, h = scene.sheet.size_mm
    return {
        "cells": cells,
        "patches": patches,
        "marks": marks,
        "cell_corners_px": {c["name"]: pixels(c) for c in layout["cells"]},
        "page_corners_px": pixels({"x_mm": 0, "y_mm": 0, "w_mm": w, "h_mm": h}),
        "camera": scene.camera,
        "light": scene.light,
        "matrix": own_matrix(scene.camera),
    }


def _luminance() -> Array:
    return np.asarray(xyz_of(np.eye(WAVELENGTHS.size))[:, 1])
