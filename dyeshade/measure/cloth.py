"""Tell cloth from paper, card and shadow within a cell of the sheet, and average it.

Cloth has texture, paper and card have none; cloth has colour or is darker than any shadow, paper is
neutral. Neither alone is enough: a white swatch has no colour, a felt little texture. Where a piece
is, is settled by both; what lies between its strands is settled pixel by pixel, by
`dyeshade.measure.gaps`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import Notice
from dyeshade.measure.cloth_mean import mean_and_covariance
from dyeshade.measure.gaps import Gaps, find_gaps, region_glare
from dyeshade.measure.piece_place import PiecePlace, find_piece
from dyeshade.measure.shades_in_cloth import main_shades
from dyeshade.photo.vision import cv2

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Mask = NDArray[np.bool_]

TRIM_MM = 3.0
LEAST_TRIM_MM = 0.6
SMALL_MM2 = 150.0
"""Below this area of averaged cloth a reading hangs on a few threads."""

LEAST_MM2 = 12.0

_BLOCK_MM = 4.5
_WIDEST_GAP_MM = 2.0
_GLARE_TOLD = 0.03
_GAPS_TOLD = 0.08
_CLIPPED_TOLD = 0.02
_LEAST_PIXELS = 16
_LITTLE = 0.1


@dataclass(frozen=True)
class Cloth:
    """The cloth in a cell or region.

    Attributes
    ----------
    mask : ndarray of bool, shape (h, w)
        Pixels that were averaged: edges trimmed, glare and what shows through left out, shadow
        between strands kept.
    share : float
        Cloth before trimming, as a share of the cell's area.
    mean : ndarray, shape (3,)
        Linear mean over the mask, in the input's own space.
    standard_error : ndarray, shape (3, 3)
        Covariance of that mean.
    glare_share, clipped_share : float
        Glare left out, and clipped pixels, as shares of the trimmed piece.
    notices : tuple of Notice
        Codes ``piece_small`` (mm2), ``piece_over_edge``, ``paper_shows_through`` (share), ``glare``
        (share), ``clipped_sample`` (share), ``several_colours`` (count), ``white_piece_unsure``.
    outline : ndarray, shape (k, 2)
        Outline of what was averaged, trimmed edges left out, x and y in pixels of the cell.
    shades : tuple of (mean (3,), share)
        The main shades over the mask, as `dyeshade.measure.shades_in_cloth.main_shades`, in the
        input's own space.
    """

    mask: Mask
    share: float
    mean: Array
    standard_error: Array
    glare_share: float
    clipped_share: float
    notices: tuple[Notice, ...]
    outline: Array
    shades: tuple[tuple[Array, float], ...]


def find_cloth(
    relative: Picture,
    clipped: Mask,
    px_per_mm: float,
    noise: float,
    covered: Mask | None = None,
) -> Cloth | None:
    """Find the piece in a straightened cell.

    Parameters
    ----------
    relative : ndarray, shape (h, w, 3), float32
        Linear light as a share of bare paper's there: paper is about 1.
    clipped : ndarray of bool, shape (h, w)
    px_per_mm : float
    noise : float
        Relative spread of the sheet's greys about their fit.
    covered : ndarray of bool, shape (h, w), optional
        What lies under something that is no cloth, as a tag.

    Returns
    -------
    Cloth or None
        None for an empty cell.
    """
    if covered is not None and covered.any():
        relative = np.where(covered[..., None], np.float32(1.0), relative)
    piece = find_piece(relative, px_per_mm, noise)
    if piece is None:
        return None
    if covered is not None:
        piece = replace(piece, filled=piece.filled & ~covered)
        if not piece.filled.any():
            return None
    core = _trimmed(piece.filled, px_per_mm)
    gaps, shades = _gaps(relative, core, piece.paper, px_per_mm)
    mask = core & ~gaps.backing & ~gaps.glare
    if mask.sum() < max(_LEAST_PIXELS, 0.2 * core.sum()):
        # More gap than cloth means that the piece's own colour was taken for what lies behind.
        mask, gaps = core, Gaps(np.zeros_like(core), np.zeros_like(core))
    left_out = 1.0 - mask.sum() / core.sum()
    notices = _cell_notices(piece, core, mask, gaps, px_per_mm)
    cloth = _cloth(
        relative,
        mask,
        core,
        gaps.glare,
        clipped,
        _BLOCK_MM * px_per_mm,
        notices,
        piece.filled,
        # What is so little changes no piece's shades: they need not be looked for again.
        shades == 1 and left_out < _LITTLE,
    )
    return replace(cloth, outline=_outline(core))


def find_cloth_in_region(reflectance: Picture, mask: Mask, clipped: Mask) -> Cloth:
    """Take a region drawn by hand as cloth, all but clear glare.

    Parameters
    ----------
    reflectance : ndarray, shape (h, w, 3), float32
    mask : ndarray of bool, shape (h, w)
        The drawn region.
    clipped : ndarray of bool, shape (h, w)

    Returns
    -------
    Cloth
        Its `share` is that of the mask in the picture.

    Raises
    ------
    ValueError
        An empty mask.
    """
    if not mask.any():
        raise ValueError("the drawn region is empty")
    finite = np.isfinite(reflectance).all(axis=-1)
    padded = cv2.erode(np.pad(mask, 1).astype(np.uint8), np.ones((3, 3), np.uint8))
    core = padded[1:-1, 1:-1].astype(bool) & finite
    if core.sum() < _LEAST_PIXELS:
        core = mask & finite
    glare = region_glare(reflectance, core)
    # Six blocks a side: the scale is unknown, the draughtsman draws a patch of cloth's own size.
    block_px = max(3.0, np.sqrt(core.sum()) / 6)
    return _cloth(reflectance, core & ~glare, core, glare, clipped, block_px, [], mask)


def _gaps(relative: Picture, core: Mask, paper: Array, px_per_mm: float) -> tuple[Gaps, int]:
    """What is left out of a piece, and how many shades it had before."""
    shades = main_shades(relative, core)
    gaps = find_gaps(relative, core, paper, px_per_mm, np.array([shades[0][0]]))
    if len(shades) == 1:
        return gaps, 1
    # Either the second shade is cloth and was taken for gaps, or gaps were taken for a shade. Gaps
    # are narrow.
    found = gaps.backing | gaps.glare
    size = 2 * round(_WIDEST_GAP_MM / 2 * px_per_mm) + 1
    wide = cv2.morphologyEx(found.astype(np.uint8), cv2.MORPH_OPEN, np.ones((size, size), np.uint8))
    if wide.sum() < 0.03 * core.sum() and not found.all():
        shades = main_shades(relative, core & ~found)
        if len(shades) == 1:
            return gaps, 1
    means = np.array([shade for shade, _ in shades])
    return find_gaps(relative, core, paper, px_per_mm, means), len(shades)


def _trimmed(filled: Mask, px_per_mm: float) -> Mask:
    """The piece without its edge: 3 mm, or less where that would leave little."""
    # The cell's border counts as the piece's edge: its line is printed there.
    depth = cv2.distanceTransform(np.pad(filled, 1).astype(np.uint8), cv2.DIST_L2, 5)[1:-1, 1:-1]
    depth = np.asarray(depth, dtype=np.float32) / np.float32(px_per_mm)
    deepest = float(depth.max())
    trim = min(TRIM_MM, max(LEAST_TRIM_MM, 0.4 * deepest))
    if trim >= deepest:
        trim = 0.5 * deepest
    return np.asarray(depth > trim, dtype=np.bool_)


def _cell_notices(
    piece: PiecePlace, core: Mask, mask: Mask, gaps: Gaps, px_per_mm: float
) -> list[Notice]:
    told = []
    area = float(mask.sum()) / px_per_mm**2
    if area < SMALL_MM2:
        told.append(Notice("piece_small", {"mm2": round(area)}))
    if piece.over_edge:
        told.append(Notice("piece_over_edge", {}))
    through = float(gaps.backing.sum()) / max(int(core.sum()), 1)
    if through > _GAPS_TOLD:
        told.append(Notice("paper_shows_through", {"share": round(through, 2)}))
    if piece.white_unsure:
        told.append(Notice("white_piece_unsure", {}))
    return told


def _cloth(
    picture: Picture,
    mask: Mask,
    core: Mask,
    glare: Mask,
    clipped: Mask,
    block_px: float,
    notices: list[Notice],
    whole: Mask,
    one_shade: bool = False,
) -> Cloth:
    mean, covariance = mean_and_covariance(picture, mask, block_px)
    counted = max(int(core.sum()), 1)
    glare_share = float(glare.sum()) / counted
    clipped_share = float((clipped & core).sum()) / counted
    if glare_share > _GLARE_TOLD:
        notices.append(Notice("glare", {"share": round(glare_share, 2)}))
    if clipped_share > _CLIPPED_TOLD:
        notices.append(Notice("clipped_sample", {"share": round(clipped_share, 2)}))
    shades = ((mean, 1.0),) if one_shade else main_shades(picture, mask)
    if len(shades) > 1:
        notices.append(Notice("several_colours", {"count": len(shades)}))
    return Cloth(
        mask,
        float(whole.mean()),
        mean,
        covariance,
        glare_share,
        clipped_share,
        tuple(notices),
        _outline(whole),
        shades,
    )


def _outline(whole: Mask) -> Array:
    contours, _ = cv2.findContours(
        whole.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE
    )
    largest = max(contours, key=cv2.contourArea)
    near = cv2.approxPolyDP(largest, 0.006 * cv2.arcLength(largest, True), True)
    return np.asarray(near[:, 0, :], dtype=np.float64)
