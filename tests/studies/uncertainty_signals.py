"""What a photo of a sheet, a chart and cloths shows, as signals, with every trouble of a scene.

Scenes, light in the room, cameras, looks, curves and prints are the renderer's (``tests/render``):
window and reflected light of two colours, uneven; prints off by up to 8 % (two spreads), tinted ink
and paper, in every second print a brightener that daylight lights up; cloth that stands above the
sheet and lets some of what is under it through. What only pixels have is left to full renders.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from dyeshade.paper.patch_colours import PATCH_COLOURS
from dyeshade.photo.camera_space import from_xyz_to_camera
from dyeshade.sheet.layout import print_value
from tests.render import Scene, perfect_reader_lab, random_scene
from tests.render.ink import Print, colour_spectrum, printed_spectra, random_print
from tests.render.raw_file import colour_matrix
from tests.render.spectra import Array
from tests.render.stage import Stage, make_stage, scene_development
from tests.studies.calibration_signals import BOXES, LAYOUT, PLAIN, PrintedSheet
from tests.studies.photo_signals import bare_sheet

PRINT_SPREAD = 0.04
BRIGHTENED = 0.5
BRIGHTENER = (0.5, 3.5)
"""CIELAB b* by which a brightener makes paper bluer in daylight (common practice, no source)."""

LIT_UP = {"daylight": (0.3, 1.0), "fluorescent": (0.1, 0.4), "led": (0, 0.05), "incandescent": 0.05}
"""How far a kind of light lights a brightener up (common practice, no source)."""

_NOISE, _READ, _CODE = 0.003, 0.0003, 0.15 / 255
_LOCAL = 0.05
_HEADROOM = 1.25
_UNDER = 0.5
"""Reflectance of a card or paper between strands, in their shadow."""


@dataclass(frozen=True, eq=False)
class Cloths:
    """Pieces of a photo.

    Attributes
    ----------
    spectra : ndarray, shape (n, 81)
        Reflectance of what an instrument would average.
    height : ndarray, shape (n,)
        Over the sheet, mm.
    shading : ndarray, shape (n,)
        Log light that strands and folds hide or give beyond that average.
    through : ndarray, shape (n,)
        Share of what lies beneath among what was averaged.
    """

    spectra: Array
    height: Array
    shading: Array
    through: Array


@dataclass(frozen=True, eq=False)
class TroubledShot:
    """One photo; it may stand for a `tests.studies.calibration_signals.Shot`."""

    scene: Scene
    stage: Stage
    raw: bool

    @property
    def to_xyz(self) -> Array:
        """The file's channels to XYZ, as the program finds them in the file."""
        if not self.raw:
            return scene_development(self.scene).to_xyz
        own = from_xyz_to_camera(colour_matrix(self.scene.camera))
        assert own is not None
        return own

    def _show(self, lit: Array, large: float, salt: int) -> Array:
        scene = self.scene
        if scene.look != "none" and scene.camera_seed % 2 == 0 and not self.raw:
            # Local tone mapping lifts large dark areas and lowers large light ones.
            lit = lit * (np.maximum(lit[:, 1:2], 0.02) / 0.4) ** (-_LOCAL * large)
        lit = lit * (1 - scene.flare) + 0.88 * scene.flare
        rng = np.random.default_rng([scene.seed, 92, salt])
        if self.raw:
            signal = scene.exposure / _HEADROOM * lit
        else:
            signal = np.asarray(scene_development(scene).show(lit))
        signal = signal + (_READ + _NOISE * signal) / 2 * rng.normal(size=signal.shape)
        if not self.raw:
            root = np.sqrt(np.maximum(signal, 0)) + _CODE * rng.normal(size=signal.shape)
            signal = np.maximum(root, 0) ** 2
        return np.clip(signal, 0.0, 1.0)

    def _lit(self, spectra: Array, places: Array, height: Array | float) -> Array:
        window, ambient = self.stage.to_raw()
        direct, reflected = self.stage.field.parts(places[:, 0], places[:, 1], height)
        return np.asarray(
            spectra @ window * direct[:, None] + spectra @ ambient * reflected[:, None]
        )

    def see(self, spectra: Array, places: Array, salt: int, large: float) -> Array:
        """Noisy signals (n, 3) of spectra (n, 81) that lie flat at places (n, 2) in mm."""
        return self._show(self._lit(spectra, places, 0.0), large, salt)

    def see_cloths(self, cloths: Cloths, places: Array) -> Array:
        """The same of cloths."""
        seen = cloths.spectra * np.exp(cloths.shading)[:, None]
        seen = (1 - cloths.through[:, None]) * seen + cloths.through[:, None] * _UNDER
        return self._show(self._lit(seen, places, cloths.height), 1.0, 4)

    def perfect(self, spectra: Array) -> Array:
        """Lab (n, 3) that a perfect reader of greys gets."""
        kind = "dng" if self.raw else "jpeg"
        return perfect_reader_lab(self.scene.with_(file_format=kind), spectra)


def troubled_scene(camera: str, light: str, look: str, number: int, seed: int) -> Scene:
    """Scene `number` of one camera, whose photos share curve and look (`seed`)."""
    rng = np.random.default_rng([seed, 93, number])
    own = np.random.default_rng([seed, 94])
    return random_scene(
        rng,
        bare_sheet(LAYOUT),
        light,
        look=look,
        camera=camera,
        camera_seed=seed,
        curve=str(own.choice(["sigmoid", "hill", "filmic", "knee"])),
        curve_strength=float(own.uniform(0.4, 1.0)),
        primaries=str(own.choice(["sRGB", "Display P3"])),
        # Burnt paper is refused or told, and left to renders.
        exposure=float(rng.uniform(0.55, 1.0)),
    )


def troubled_shot(scene: Scene, raw: bool) -> TroubledShot:
    """The photo of a scene."""
    return TroubledShot(scene, make_stage(scene), raw)


def print_in_light(kind: str, of_print: np.random.Generator, now: np.random.Generator) -> Print:
    """A print off by up to 8 % (two spreads), tinted, every second with a brightener.

    Parameters
    ----------
    kind : str
        One of `LIT_UP`.
    of_print, now : Generator
        What draws the print, and how far this photo's light lights its brightener up.
    """
    how: Print = random_print(of_print, PRINT_SPREAD)
    brightener = float(of_print.uniform(*BRIGHTENER)) * (of_print.random() < BRIGHTENED)
    low, high = np.broadcast_to(LIT_UP[kind], 2)
    return replace(how, paper_b=how.paper_b - float(brightener * now.uniform(low, high)))


def troubled_print(kind: str, seed: int, number: int) -> PrintedSheet:
    """Print `seed` as it looks in the light of photo `number`, of a kind of light."""
    rng = np.random.default_rng([seed, 95])
    how = print_in_light(kind, rng, np.random.default_rng([seed, 96, number]))
    patches = 1 + 0.005 * rng.normal(size=(len(PLAIN), 1))
    patches[len(LAYOUT.patches) :] = 1.0
    asked = np.array([print_value(value) for value in PLAIN])
    greys = printed_spectra(asked, how) * patches
    colours = np.array([colour_spectrum(np.array(rgb) / 255.0, how) for rgb in PATCH_COLOURS])
    assert len(BOXES) == len(greys)
    return PrintedSheet(greys, colours)


def random_cloths(rng: np.random.Generator, spectra: Array) -> Cloths:
    """Cloths of given spectra: a fifth stand high, the rest as skeins and swatches do.

    Shading and what shines through are about those of renders by fitting cameras, as
    ``tests.studies.cloth_light`` prints them: luminance 2 % too high in the middle, spread 3 %, and
    light of 0.003 on average besides, which dark cloth shows most; more where it stands high.
    """
    count = len(spectra)
    high = rng.random(count) < 0.1
    height = np.where(high, rng.uniform(8, 50, count), rng.uniform(0.4, 8, count))
    return Cloths(
        spectra,
        height,
        rng.normal(0.02, 0.03, count),
        rng.uniform(0, 0.02, count) * (rng.random(count) < 0.5),
    )
