"""A renderer of photographs of dyed pieces on the reference sheet, for tests and example images.

It takes nothing from the program that it tests: print, light, curve and noise models are its own.

The way of a photo, one module a step:

- ``spectra``: published reflectances, lights, cameras; CIELAB of a spectrum.
- ``sheet``: the page's raster and layout (`load_sheet`; `stand_in_sheet` for the renderer's tests).
- ``ink``: grey asked for -> spectrum on paper (halftone, dot gain, tints, errors of the print).
- ``pieces``, ``texture``, ``cloth``, ``piece_texture``: wound skeins, swatches, felt, whole skeins.
- ``page_surface``, ``table``: the printed page with stray strands or a leaf; what it lies on.
- ``lighting``: a window as an area source, reflected light, soft shadow.
- ``viewpoint``: pinhole camera, tilt, lens bend, curled paper, height above the sheet.
- ``camera``, ``look``, ``curves``: measured sensitivities, own matrix, maker's look, tone curve.
- ``sensor``, ``photo_file``: blur, flare, noise, sharpening; JPEG, PNG, TIFF with profile and EXIF.
- ``raw_file``: what the sensor saw, as a DNG with the camera's own matrix.
- ``scene``: `Scene`, one frozen value with every trouble as a field; `random_scene`.
- ``stage``, ``truth``: where everything stands; what is true of a render.
- ``photograph``: `render` -> `Rendered` (bytes, pixels, truth).
- ``limits``: `perfect_reader_lab`, `by_hand_lab`.

How truth is defined: the mean linear reflectance spectrum over the visible cloth that lies at least
3 mm from the piece's edge, shadow between strands included, card, paper and hairs left out; from it
XYZ for D65 and the 2 degree observer, and CIELAB with the perfect diffuser as white.
"""

from .ink import Print, random_print
from .limits import by_hand_lab, perfect_reader_lab
from .photograph import Rendered, render
from .pieces import Piece, flat_pieces, random_pieces, random_spectrum
from .scene import Scene, random_scene
from .sheet import Sheet, load_sheet, stand_in_sheet

__all__ = [
    "Piece",
    "Print",
    "Rendered",
    "Scene",
    "Sheet",
    "by_hand_lab",
    "flat_pieces",
    "load_sheet",
    "perfect_reader_lab",
    "random_pieces",
    "random_print",
    "random_scene",
    "random_spectrum",
    "render",
    "stand_in_sheet",
]
