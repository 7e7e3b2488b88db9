"""Pieces to be photographed: what they are, which colour, how they lie; and random ones."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .sheet import Sheet
from .spectra import Array, chart_colours, cie224_colours, mixture, training_colours, xyz_of

KINDS = ("skein", "swatch", "felt", "hank", "cloth_behind", "flat")


@dataclass(frozen=True, eq=False)
class Piece:
    """One dyed piece in one cell.

    Attributes
    ----------
    cell
        Name of the cell in the layout.
    kind
        "skein" (yarn wound on a card), "swatch" (woven, cut, crooked), "felt", "hank" (a whole
        twisted skein), "cloth_behind" (seen through the cut-out cell), "flat" (no texture).
    spectrum
        Reflectance (81,) of the dyed fibre itself; what is seen is darker, by the shadow between
        strands.
    second, share, split
        Spectrum of a second colour or None, its share, "dip" (one end) or "strands".
    height_mm
        How far the piece's face lies above the sheet.
    angle_deg, size, offset_mm
        How it lies in the cell: turned, as a share of the cell, off its middle.
    strand_mm
        Thickness of a strand, or pitch of the weave.
    gaps
        0 (dense) to 1 (the card or paper shows through).
    card
        "white", "grey", "kraft" or "" (none) under a wound skein.
    seed
        Draws the texture.
    """

    cell: str
    kind: str
    spectrum: Array
    second: Array | None = None
    share: float = 0.4
    split: str = "dip"
    height_mm: float = 2.0
    angle_deg: float = 0.0
    size: tuple[float, float] = (0.82, 0.82)
    offset_mm: tuple[float, float] = (0.0, 0.0)
    strand_mm: float = 1.6
    gaps: float = 0.1
    card: str = "white"
    seed: int = 0


def random_spectrum(rng: np.random.Generator) -> Array:
    """A fibre's reflectance: CIE 224 test colours, chart, training colours, mixtures."""
    which = rng.random()
    if which < 0.45:
        return np.asarray(cie224_colours()[rng.integers(99)])
    if which < 0.55:
        return np.asarray(chart_colours()[rng.integers(18)])
    if which < 0.65:
        return np.asarray(training_colours()[rng.integers(190)])
    if which < 0.72:
        # Undyed or bleached fibre, and black: slightly yellow white, brownish black.
        level = float(rng.choice([0.82, 0.7, 0.035]))
        base = cie224_colours()[rng.integers(99)]
        return np.asarray(np.clip(level * (base / base.mean()) ** 0.12, 0.01, 0.95))
    a, b = cie224_colours()[rng.integers(99, size=2)]
    made = mixture([(a, rng.uniform(0.3, 1)), (b, rng.uniform(0, 0.5))], rng.uniform(0.4, 1.6))
    return np.asarray(made)


def random_pieces(
    rng: np.random.Generator, sheet: Sheet, troubles: float, tilt_deg: float = 0.0
) -> tuple[Piece, ...]:
    """Pieces for most cells of a sheet; none so high that the tilt moves it 15 mm or more aside."""
    highest = 15.0 / max(np.tan(np.radians(tilt_deg)), 1e-3)
    cells = sheet.layout["cells"]
    pieces = []
    for cell in cells:
        if len(cells) > 1 and rng.random() < 0.1:
            continue
        large = min(cell["w_mm"], cell["h_mm"]) > 100
        if large:
            kind = str(rng.choice(["hank", "skein", "swatch", "cloth_behind"]))
        else:
            kind = str(rng.choice((*KINDS[:3], "cloth_behind"), p=[0.45, 0.35, 0.1, 0.1]))
        spectrum = random_spectrum(rng)
        second = None
        if rng.random() < 0.06 * troubles:
            second = random_spectrum(rng)
        if kind == "skein" or kind == "hank":
            height = float(rng.uniform(2, 8))
            if rng.random() < 0.2 * troubles:
                height = float(rng.uniform(8, max(9.0, min(50.0, highest))))
            strand = float(rng.uniform(1.0, 2.6))
        else:
            height = float(rng.uniform(0.4, 2.0))
            strand = float(rng.uniform(0.55, 1.1))
        if kind == "cloth_behind":
            height = 0.0
        dark = bool(xyz_of(spectrum)[1] < 0.1)
        pieces.append(
            Piece(
                cell=str(cell["name"]),
                kind=kind,
                spectrum=spectrum,
                second=second,
                share=float(rng.uniform(0.25, 0.5)),
                split=str(rng.choice(["dip", "strands"])),
                height_mm=height,
                angle_deg=float(rng.normal(0, 3 + 5 * troubles * (kind == "swatch"))),
                size=(float(rng.uniform(0.62, 0.88)), float(rng.uniform(0.66, 0.88))),
                offset_mm=(float(rng.uniform(-1.5, 1.5)), float(rng.uniform(-1.5, 1.5))),
                strand_mm=strand,
                gaps=float(rng.uniform(0, 0.7 * troubles)) if not dark else 0.2,
                card=str(rng.choice(["white", "grey", "kraft", ""], p=[0.4, 0.2, 0.2, 0.2])),
                seed=int(rng.integers(2**31)),
            )
        )
    return tuple(pieces)


def flat_pieces(sheet: Sheet, spectra: Array, height_mm: float = 0.0) -> tuple[Piece, ...]:
    """One flat piece without texture for each cell, from spectra (n, 81), in the cells' order."""
    cells = sheet.layout["cells"]
    return tuple(
        Piece(str(cell["name"]), "flat", np.asarray(s), height_mm=height_mm, card="")
        for cell, s in zip(cells, spectra, strict=False)
    )
