"""What a photo shows of a sheet, a chart and cloth, as signals: spectra, a camera, its rendering.

No pixels are drawn, so that a study of many cameras takes minutes. The camera, its tone curve and
its maker's look are those of ``tests/render``; light falls off over the page, air and lens veil it,
patches are noisy, and large areas are lifted or lowered by local tone mapping where a photo has it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from dyeshade.measure.grey_fit import GreyFit, GreySignals
from dyeshade.measure.greys import fit_greys
from dyeshade.measure.light_field import field_for_page
from dyeshade.measure.typical_camera import camera_light
from dyeshade.paper.patch_colours import PATCH_COLOURS
from dyeshade.photo.camera_space import from_xyz_to_camera
from dyeshade.sheet.layout import build_layout, paper_spots, print_value
from tests.render.camera import Development, balanced, development, own_matrix
from tests.render.curves import FAMILIES
from tests.render.ink import Print, colour_spectrum, printed_spectra, random_print
from tests.render.raw_file import colour_matrix
from tests.render.spectra import Array, lab_of_linear

LAYOUT = build_layout("A4", "one", True)
BOXES = [*LAYOUT.patches, *paper_spots(LAYOUT)]
PLAIN = np.array([getattr(box, "reflectance", LAYOUT.paper_reflectance) for box in BOXES])
GREY_PLACES = np.array([box.centre for box in BOXES])
COLOUR_PLACES = np.array([box.centre for box in LAYOUT.colours])

_NOISE = 0.003
_PATCH_NOISE = 0.005
_LOCAL = 0.05


@dataclass(frozen=True, eq=False)
class PrintedSheet:
    """One print: spectra of its greys and paper (n, 81) and of its colours (24, 81)."""

    greys: Array
    colours: Array


def printed_sheet(seed: int) -> PrintedSheet:
    """A print that departs from a plain one as prints do."""
    rng = np.random.default_rng([seed, 81])
    how: Print = random_print(rng, 0.02)
    asked = np.array([print_value(value) for value in PLAIN])
    greys = printed_spectra(asked, how)
    greys = greys * (1 + _PATCH_NOISE * rng.normal(size=(len(greys), 1)))
    colours = np.array([colour_spectrum(np.array(rgb) / 255.0, how) for rgb in PATCH_COLOURS])
    return PrintedSheet(greys, colours)


@dataclass(frozen=True, eq=False)
class Shot:
    """One photo: who took it, in what light.

    Attributes
    ----------
    camera, light
        Names for ``tests.render.spectra``.
    how
        Its development, with this photo's white error; for raw light only the exposure counts.
    raw, local
        Whether it is raw light; whether large areas are mapped in tone by themselves.
    seed
    """

    camera: str
    light: str
    how: Development
    raw: bool
    local: bool
    seed: int

    def _signal(self, spectra: Array, factor: Array, large: float) -> Array:
        light = balanced(spectra, self.camera, self.light)
        if self.local:
            light = light * (np.maximum(light[:, 1:2], 0.02) / 0.4) ** (-_LOCAL * large)
        light = light * factor[:, None] + 0.004
        return self.how.exposure * light if self.raw else np.asarray(self.how.show(light))

    def _factor(self, places: Array) -> Array:
        rng = np.random.default_rng([self.seed, 82])
        slope, bend = rng.normal(0.0, 0.08, 2), rng.normal(0.0, 0.02, 3)
        x, y = ((places - np.array(LAYOUT.paper_mm) / 2) / 148.5).T
        return np.asarray(np.exp(slope @ [x, y] + bend @ [x * x - 0.2, x * y, y * y - 0.3]))

    def see(self, spectra: Array, places: Array, salt: int, large: float) -> Array:
        """Noisy signals (n, 3) of spectra (n, 81) that lie at places (n, 2) in mm."""
        rng = np.random.default_rng([self.seed, 83, salt])
        signal = self._signal(spectra, self._factor(places), large)
        noise = 0.0003 + _NOISE * signal
        return np.clip(signal + noise * rng.normal(size=signal.shape) / 2, 0.0, 1.0)

    @property
    def to_xyz(self) -> Array:
        """The file's channels to XYZ, as the program finds them in the file."""
        if not self.raw:
            return self.how.to_xyz
        own = from_xyz_to_camera(colour_matrix(self.camera))
        assert own is not None
        return own

    def perfect(self, spectra: Array) -> Array:
        """Lab (n, 3) that a perfect reader of greys gets: exact light, white and curve."""
        seen = self.channels(spectra)
        if self.raw:
            return lab_of_linear(seen @ own_matrix(self.camera).T)
        return lab_of_linear(seen, self.how.to_xyz)

    def channels(self, spectra: Array) -> Array:
        """Light (n, 3) in the file's channels, exact light, white and curve taken out."""
        seen = balanced(spectra, self.camera, self.light)
        if self.raw:
            return np.asarray(seen)
        kind = replace(self.how, matrix=own_matrix(self.camera))
        return np.asarray(kind.curve.inverse(kind.show(seen)) / kind.exposure)


def shot(camera: str, light: str, look: str, raw: bool, number: int, seed: int) -> Shot:
    """Photo `number` of a camera; all photos of one camera share look and curve (`seed`)."""
    rng = np.random.default_rng([seed, 84, number])
    curve = str(np.random.default_rng([seed, 85]).choice(FAMILIES[1:]))
    error = 1 + 0.05 * rng.normal(size=2)
    exposure = float(rng.uniform(0.6, 0.95))
    white = (1.0, 1.0) if raw else (float(error[0]), float(error[1]))
    how = development(camera, look, curve, seed, exposure, white, "sRGB")
    return Shot(camera, light, how, raw, look != "none" and seed % 2 == 0, 1000 * seed + number)


def grey_signals_of(photo: Shot, sheet: PrintedSheet) -> GreySignals:
    """What the photo shows of the sheet's greys and paper."""
    signal = photo.see(sheet.greys, GREY_PLACES, 1, 0.5)
    usable = (signal < 0.985) & (signal > 0)
    spread = (0.0003 + _NOISE * signal) / 2
    return GreySignals(GREY_PLACES, PLAIN, signal, spread, usable)


def solve(photo: Shot, signals: GreySignals) -> GreyFit:
    """Light, curve and white of a photo by its greys, as the program finds them."""
    return fit_greys(signals, field_for_page(LAYOUT.paper_mm), linear=photo.raw)


def light_of(photo: Shot, fit: GreyFit, signal: Array, places: Array) -> Array:
    """Camera light (n, 3) of signals, white divided out, as the program finds it."""
    white = np.exp(fit.white - fit.white[1])
    return camera_light(fit.reflectance(signal, places), white, photo.to_xyz, not photo.raw)


def places_in_cell(count: int, seed: int) -> Array:
    """Places (count, 2) in mm inside the sheet's cell."""
    cell = LAYOUT.cells[0]
    rng = np.random.default_rng([seed, 86])
    return np.asarray(
        np.array([cell.x_mm, cell.y_mm])
        + rng.uniform(0.1, 0.9, (count, 2)) * [cell.w_mm, cell.h_mm]
    )
