"""A photo of strips beside their printed scale on the reference sheet. The strips are invented.

``tests/data/strip/`` holds one, made with ``python -m tests.bath.strip_photo``. The blocks are
printed with other colourants than the pads are dyed with, and only near their colours, as prints
are: mixtures of CIE 224 test colours stand for the inks.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
from numpy.typing import NDArray

from dyeshade.work.make_sheet import make_sheet
from tests.bath.strips import pad_labs, pad_spectra
from tests.render.example_pieces import spectrum_near
from tests.render.photograph import render
from tests.render.pieces import Piece
from tests.render.scene import Scene
from tests.render.sheet import Sheet, load_sheet
from tests.render.spectra import WAVELENGTHS

Array = NDArray[np.float64]

ROWS = ((4.0, 5.0, 6.0), (7.0, 8.0, 9.0))
RED = np.where(np.asarray(WAVELENGTHS) < 590, 0.12, 0.9)
"""What a deep red liquor lets through of a pad's light."""
KEPT = Path(__file__).parents[1] / "data" / "strip"
BLOCK_MM, PITCH_MM, PAD_MM = 7.0, 9.0, 6.0


@dataclass(frozen=True, eq=False)
class StripPhoto:
    """A rendered photo.

    Attributes
    ----------
    path : Path
    scale : ndarray, shape (4, 2)
        Corners of all blocks together, pixels.
    pads : dict of float to ndarray of shape (4, 2)
        Corners of each pad, by the pH that its colour stands for.
    """

    path: Path
    scale: Array
    pads: dict[float, Array]


def strip_photo(
    folder: Path, phs: Sequence[float], stained: Sequence[float] = (), **scene: object
) -> StripPhoto:
    """Pads of several strips below one scale.

    Parameters
    ----------
    folder : Path
        The sheet and the photo are written there.
    phs : sequence of float
        Of the pads.
    stained : sequence of float
        Of further pads, that a deep red liquor has stained.
    """
    sheet = _sheet(folder)
    inner = sheet.layout["cells"][0]
    left, top = inner["x_mm"] + 40.0, inner["y_mm"] + 40.0
    boxes, pieces = [], []

    def lay(name: str, x: float, y: float, size: float, spectrum: Array) -> None:
        boxes.append({"name": name, "x_mm": x, "y_mm": y, "w_mm": size, "h_mm": size})
        pieces.append(Piece(name, "flat", spectrum, height_mm=0.0, size=(1.0, 1.0), card=""))

    gap = (PITCH_MM - BLOCK_MM) / 2
    for j, row in enumerate(ROWS):
        for i, ph in enumerate(row):
            x, y = left + i * PITCH_MM + gap, top + j * PITCH_MM + gap
            lay(f"block {ph:g}", x, y, BLOCK_MM, spectrum_near(*pad_labs(ph)[0]))
    for k, ph in enumerate((*phs, *stained)):
        spectrum = pad_spectra(np.array([ph]))[0]
        stain = RED if k >= len(phs) else 1.0
        lay(f"pad {ph:g}", left + k * 12.0, top + 30.0, PAD_MM, spectrum * stain)
    edges = {"name": "scale", "x_mm": left, "y_mm": top,
             "w_mm": PITCH_MM * len(ROWS[0]), "h_mm": PITCH_MM * len(ROWS)}  # fmt: skip
    laid = replace(sheet, layout=sheet.layout | {"cells": [*boxes, edges]})
    # Boxes this small have no middle that the renderer could tell the truth of; nobody asks it.
    with np.errstate(invalid="ignore", divide="ignore"):
        made = render(Scene(laid, tuple(pieces), **scene))  # type: ignore[arg-type]
    corners = made.truth["cell_corners_px"]
    path = made.save(folder / "strip")
    pads = {ph: _inner(corners[f"pad {ph:g}"]) for ph in (*phs, *stained)}
    return StripPhoto(path, corners["scale"], pads)


def _inner(corners: Array) -> Array:
    """A pad as a person marks it: not up to its edge."""
    middle = corners.mean(axis=0)
    return np.asarray(middle + 0.7 * (corners - middle))


def _sheet(folder: Path) -> Sheet:
    pdf, layout = folder / "sheet.pdf", folder / "sheet.json"
    make_sheet("A4", "one", False, pdf, layout)
    return load_sheet(pdf, layout, 6)


def kept_photo() -> StripPhoto:
    """The photo that is kept."""
    told = json.loads((KEPT / "strip.json").read_text(encoding="utf-8"))
    pads = {float(ph): np.array(corners) for ph, corners in told["pads"].items()}
    return StripPhoto(KEPT / "strip.jpg", np.array(told["scale"]), pads)


def main() -> None:
    """Make the photo that is kept."""
    with TemporaryDirectory() as folder:
        made = strip_photo(
            Path(folder), (5.5, 7.4, 8.3), (6.1,), long_side_px=1600, look="typical", seed=6
        )
        KEPT.mkdir(exist_ok=True)
        shutil.copy(made.path, KEPT / "strip.jpg")
    pads = {f"{ph:g}": corners.round(1).tolist() for ph, corners in made.pads.items()}
    told = {"scale": made.scale.round(1).tolist(), "pads": pads}
    (KEPT / "strip.json").write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
