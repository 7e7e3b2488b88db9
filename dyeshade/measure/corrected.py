"""A photo as pictures for a screen: as it was taken, and with the light found in it divided out."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import map_coordinates

from dyeshade.cie.lab import lab_to_xyz
from dyeshade.cie.rgb_spaces import xyz_to_srgb
from dyeshade.measure.light_reader import light_reader, spread_over
from dyeshade.measure.photo_to_shade import Solved
from dyeshade.measure.propagate import Colours
from dyeshade.measure.typical_camera import camera_light
from dyeshade.measure.typical_colours import typical_colours
from dyeshade.photo.photo import Photo
from dyeshade.photo.vision import cv2

Array = NDArray[np.float64]
Picture = NDArray[np.uint8]

_NODES = 25
_SHOWN_WHITE = 0.98
"""Of raw light, what is brighter than this share of the photo is shown white."""

_BRIGHTEST = 1.3
_TABLE = 21
_MARGIN = 0.05
"""The light is followed this far beyond the page, as a share of its size; further out, where no
grey tells anything, it counts as even."""


def as_taken(photo: Photo, longest: int) -> Picture:
    """The photo for an sRGB screen, its own profile honoured.

    Parameters
    ----------
    photo : Photo
    longest : int
        Pixels of the longer side of the picture; a smaller photo stays as it is.

    Returns
    -------
    ndarray, shape (h, w, 3), uint8
        sRGB.
    """
    light = _reduced(photo, longest).linear().astype(np.float64)
    encoding = photo.encoding
    if not encoding.rendered:
        # Raw light has neither white nor brightness of its own: the camera's white, and the
        # brightest parts at the top of the scale.
        light /= encoding.shown_white
        light /= max(float(np.quantile(light[..., 1], _SHOWN_WHITE)), 1e-6)
    return _for_screen(light @ encoding.to_xyz.T)


def as_corrected(photo: Photo, solved: Solved, longest: int) -> Picture:
    """The photo with contrast, uneven light and white undone, as its numbers were made.

    Parameters
    ----------
    photo : Photo
    solved : Solved
        The same photo, measured.
    longest : int
        Pixels of the longer side of the picture; a smaller photo stays as it is.

    Returns
    -------
    ndarray, shape (h, w, 3), uint8
        sRGB of a D65 white; a perfect white would be 255.
    """
    small = _reduced(photo, longest)
    fit = solved.fit
    whole = slice(None)
    light = light_reader(small, fit)(whole, whole)
    on_white = spread_over(np.exp(fit.log_light_at(_places(photo, solved))), *light.shape[:2])
    flare = np.exp(fit.white + fit.log_flare)
    reflectance = np.maximum((light - flare) / on_white, 0.0)
    white = np.exp(fit.white - fit.white[1])
    encoding = photo.encoding
    to_xyz, rendered = encoding.to_xyz, encoding.rendered
    colours = solved.used.own or typical_colours(
        to_xyz, rendered, solved.measurement.light, encoding.own_known
    )
    return _for_screen(_xyz_by(colours, camera_light(reflectance, white, to_xyz, rendered)))


def _xyz_by(colours: Colours, light: Array) -> Array:
    """XYZ of light (h, w, 3): Lab follows its cube roots nearly straight, so a table is enough."""
    steps = np.linspace(0.0, np.cbrt(_BRIGHTEST), _TABLE)
    lattice = np.stack(np.meshgrid(steps, steps, steps, indexing="ij"), axis=-1)
    table = colours.lab(lattice.reshape(-1, 3) ** 3).reshape(lattice.shape)
    at = np.cbrt(np.clip(light, 0.0, _BRIGHTEST)) / steps[1]
    places = np.moveaxis(at, -1, 0)
    lab = [map_coordinates(table[..., k], places, order=1) for k in range(3)]
    return np.asarray(lab_to_xyz(np.stack(lab, axis=-1)))


def _reduced(photo: Photo, longest: int) -> Photo:
    """The same photo in fewer pixels; coded values are averaged, since nothing is measured here."""
    scale = longest / max(photo.height, photo.width)
    if scale >= 1.0:
        return photo
    size = (max(1, round(photo.width * scale)), max(1, round(photo.height * scale)))
    coded = cv2.resize(photo.coded, size, interpolation=cv2.INTER_AREA)
    if photo.full_scale == 255:
        return replace(photo, coded=np.asarray(coded, dtype=np.uint8))
    return replace(photo, coded=np.asarray(coded, dtype=np.uint16))


def _places(photo: Photo, solved: Solved) -> Array:
    """Where the fit's light is asked for, over the whole photo from edge to edge; (25, 25, 2)."""
    pixels = np.stack(
        np.meshgrid(
            np.linspace(-0.5, photo.width - 0.5, _NODES),
            np.linspace(-0.5, photo.height - 0.5, _NODES),
        ),
        axis=-1,
    )
    if solved.place is None:
        return pixels
    page = np.array(solved.place.layout.paper_mm)
    places = solved.place.to_page(pixels)
    return np.asarray(np.clip(np.nan_to_num(places), -_MARGIN * page, (1 + _MARGIN) * page))


def _for_screen(xyz: Array) -> Picture:
    coded = np.clip(xyz_to_srgb(xyz), 0.0, 1.0)
    return np.asarray(np.round(255.0 * coded), dtype=np.uint8)
