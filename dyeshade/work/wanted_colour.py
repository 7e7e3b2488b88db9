"""A wanted colour: typed, picked from a photo, or the shade of a piece of the library."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.lab import xyz_to_lab
from dyeshade.cie.rgb_spaces import SRGB, srgb_decode
from dyeshade.errors import DyeshadeError
from dyeshade.insight.difference import Measured, measured
from dyeshade.library.dye_records import Piece
from dyeshade.library.library import Library
from dyeshade.library.photos import hash_of, known_photo
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import readings_in
from dyeshade.library.shade_records import Reading
from dyeshade.library.trials import readings_of_whole
from dyeshade.work.pick_shade import SPOT, PickedShade, as_measured

Array = NDArray[np.float64]

_THE_SAME = 0.05
"""CIEDE2000 below which a kept value is the one that was picked: less than is ever shown."""

_NUMBER = r"[+-]?\d+(?:\.\d+)?"
_LAB = re.compile(rf"\s*({_NUMBER})\s*[,;\s]\s*({_NUMBER})\s*[,;\s]\s*({_NUMBER})\s*")
# With decimal commas, something else must stand between the numbers.
_COMMA = r"([+-]?\d+(?:,\d+)?)"
_LAB_COMMA = re.compile(rf"\s*{_COMMA}(?:\s*;\s*|\s+){_COMMA}(?:\s*;\s*|\s+){_COMMA}\s*")
_HEX = re.compile(r"\s*#([0-9a-fA-F]{6})\s*")


@dataclass(frozen=True, eq=False)
class WantedColour:
    """A colour that is looked for.

    Attributes
    ----------
    lab : ndarray, shape (3,)
        L*, a*, b* (D65, 2 degrees).
    measured : Measured or None
        The reading that it is the shade of, that of a photo without an id; None for one that was
        typed or picked from a screen.
    piece : str
        That reading's piece; "" for one that was typed or picked.
    picked : PickedShade or None
        The photo's shade that it is.
    """

    lab: Array
    measured: Measured | None = None
    piece: str = ""
    picked: PickedShade | None = None

    @property
    def reading_id(self) -> int | None:
        """The library's reading that it is the shade of."""
        if self.measured is None or self.picked is not None:
            return None
        return self.measured.reading.id

    @property
    def covariance(self) -> Array:
        """Of the reading, both parts; nothing for a typed colour. Shape (3, 3)."""
        if self.measured is None:
            return np.zeros((3, 3))
        return self.measured.reading.shade.covariance


Wanted = str | PickedShade
"""What people give for a wanted colour: what they typed, or what they picked from a photo."""


def wanted_colour(library: Library, wanted: Wanted) -> WantedColour:
    """A wanted colour from what was typed or picked.

    Parameters
    ----------
    library : Library
    wanted : str or PickedShade
        Typed: "L*, a*, b*" as three numbers, an sRGB colour as "#d6c84a", or a piece's code: then
        the shade of its latest reading when dry. Picked from a sample that the library keeps with
        the same value: the shade of that reading.

    Returns
    -------
    WantedColour

    Raises
    ------
    DyeshadeError
        ``colour_unknown`` (text) for numbers that are no colour; ``piece_unknown``;
        ``piece_not_read``.
    """
    if isinstance(wanted, PickedShade):
        kept = _kept(library, wanted)
        if kept is not None:
            return colour_of(library, kept)
        taken = as_measured(wanted)
        return WantedColour(taken.lab, taken, picked=wanted)
    text = wanted
    lab = _LAB.fullmatch(text) or _LAB_COMMA.fullmatch(text)
    if lab is not None:
        values = np.array([float(value.replace(",", ".")) for value in lab.groups()])
        if not 0 <= values[0] <= 100 or np.abs(values[1:]).max() > 200:
            raise DyeshadeError("colour_unknown", text=text.strip())
        return WantedColour(values)
    coded = _HEX.fullmatch(text)
    if coded is not None:
        levels = np.array(list(bytes.fromhex(coded[1]))) / 255.0
        return WantedColour(np.asarray(xyz_to_lab(SRGB.to_xyz @ srgb_decode(levels))))
    if text.strip().startswith("#"):
        raise DyeshadeError("colour_unknown", text=text.strip())
    piece = find_piece(library, text)
    dry = [one for one in readings_of_whole(library, piece.id) if one.state != "wet"]
    if not dry:
        raise DyeshadeError("piece_not_read", piece=piece.code)
    return colour_of(library, dry[-1])


def _kept(library: Library, picked: PickedShade) -> Reading | None:
    """The library's reading of the sample, where it was kept as it is measured now."""
    path = Path(picked.path)
    if picked.sample == SPOT or not picked.path or not path.is_file():
        return None
    photo = known_photo(library, hash_of(path))
    for one in [] if photo is None else readings_in(library, photo.id):
        if one.sample == picked.sample and float(ciede2000(one.lab, picked.shade.lab)) < _THE_SAME:
            return one
    return None


def colour_of(library: Library, reading: Reading) -> WantedColour:
    """The shade of a reading as a wanted colour."""
    piece = library.the(Piece, reading.piece_id)
    (one,) = measured(library, [reading])
    return WantedColour(one.lab, one, piece.code)
