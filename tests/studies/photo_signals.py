"""The signals that a photo of a reference sheet would keep, without drawing the photo.

Light, print, camera, look and tone curve are the renderer's (``tests/render``); noise stands for
what a patch's or a cloth's mean has after JPEG. What only a picture has (texture that turns with
the angle, misplacement, blur, things lying on the sheet) is left to full renders.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from dyeshade.measure.kept_signals import KeptSignals
from dyeshade.measure.seen import ColoursSeen, PatchesSeen, SampleSeen
from dyeshade.paper.patch_colours import PATCH_COLOURS
from dyeshade.sheet.layout import Layout, paper_spots
from dyeshade.sheet.layout_json import layout_to_json
from tests.render import Sheet
from tests.render.ink import colour_spectrum, printed_spectra, srgb_decode, srgb_encode
from tests.render.scene import Scene
from tests.render.spectra import Array, linear_srgb_of
from tests.render.stage import make_stage, scene_development

CLIPPED, DARKEST = 0.985, 1e-4
_CODE = 0.15 / 255
_RELATIVE = 0.001
_TEXTURE, _HUES = 0.004, 0.0008
"""Relative standard errors of a cloth's mean: strands and folds darken all channels alike, what
each has alone is noise over thousands of pixels. (Renders tell whether that is fair.)"""


def bare_sheet(layout: Layout) -> Sheet:
    """A sheet that scenes can be made for, without its raster."""
    return Sheet(np.full((2, 2, 3), 255, np.uint8), layout_to_json(layout), 0.01)


def kept_of(scene: Scene, layout: Layout, cloths: Array) -> KeptSignals:
    """What is kept of a photo.

    Parameters
    ----------
    scene : Scene
    layout : Layout
        The scene's sheet.
    cloths : ndarray, shape (n, 81)
        Reflectances of flat cloths, one in each of the first n cells.
    """
    rng = np.random.default_rng([scene.seed, 91])
    of_print = np.random.default_rng([scene.print_seed, 61])
    boxes = [*layout.patches, *paper_spots(layout)]
    greys = np.array([patch.reflectance for patch in layout.patches])
    paper, ink = layout.paper_reflectance, layout.ink_reflectance
    asked = srgb_encode((greys - ink) / (paper - ink))
    printed = printed_spectra(np.append(asked, np.ones(len(boxes) - len(greys))), scene.printed)
    own = 1 + scene.patch_noise * of_print.normal(size=len(boxes) + len(layout.colours))
    own[len(greys) : len(boxes)] = 1.0
    colours = np.array([colour_spectrum(np.array(c) / 255, scene.printed) for c in PATCH_COLOURS])
    colours = colours[: len(layout.colours)].reshape(-1, printed.shape[1])
    patches = np.concatenate([printed, colours]) * own[:, None]
    places = np.array([box.centre for box in (*boxes, *layout.colours)])
    signal = _signal(scene, patches, places, 0.0, rng)
    names = tuple(box.name for box in (*boxes, *layout.colours))
    seen = _seen(
        scene, names, places, signal, np.append(greys, np.full(len(boxes) - len(greys), paper))
    )
    middles = np.array([cell.centre for cell in layout.cells[: len(cloths)]])
    height = float(np.random.default_rng([scene.print_seed, 7]).uniform(0.4, 2.0))
    of_cloth = _signal(scene, cloths, middles, height, rng, True)
    # Texture is small beside the rest: sRGB stands for the file's channels here.
    near = np.maximum(linear_srgb_of(cloths), 0.005)
    alike = _TEXTURE**2 + _HUES**2 * np.eye(3)
    samples = {
        cell.name: SampleSeen(place, one, about, np.outer(about, about) * alike)
        for cell, place, one, about in zip(layout.cells, middles, of_cloth, near, strict=False)
        if one.max() < CLIPPED and one.min() > DARKEST
    }
    return KeptSignals(seen, samples)


def _signal(
    scene: Scene,
    spectra: Array,
    places: Array,
    height: float,
    rng: np.random.Generator,
    cloth: bool = False,
) -> Array:
    stage = make_stage(scene)
    window, ambient = stage.to_raw()
    direct, reflected = stage.field.parts(places[:, 0], places[:, 1], height)
    raw = spectra @ window * direct[:, None] + spectra @ ambient * reflected[:, None]
    if cloth:
        level = rng.normal(0, _TEXTURE, (len(raw), 1))
        raw = raw * np.exp(level + rng.normal(0, _HUES, raw.shape))
    raw = raw * (1 - scene.flare) + 0.88 * scene.flare
    shown = scene_development(scene).show(raw)
    coded = srgb_encode(shown * np.exp(rng.normal(0, _RELATIVE, shown.shape)))
    return np.asarray(np.minimum(srgb_decode(coded + rng.normal(0, _CODE, shown.shape)), 1.0))


def _seen(
    scene: Scene, names: tuple[str, ...], places: Array, signal: Array, reflectance: Array
) -> PatchesSeen:
    count, every = len(reflectance), len(names)
    spread, pixels = 0.02 * signal, np.full(every, 2000)
    clipped = (signal >= CLIPPED).any(axis=1).astype(float)
    even = np.zeros(every)
    colours = ColoursSeen(
        names[count:],
        places[count:],
        signal[count:],
        spread[count:],
        pixels[count:],
        clipped[count:],
        even[count:],
    )
    to_xyz = scene_development(scene).to_xyz
    return PatchesSeen(
        names[:count],
        "mm",
        places[:count],
        reflectance,
        signal[:count],
        spread[:count],
        pixels[:count],
        clipped[:count],
        even[:count],
        to_xyz,
        255,
        True,
        colours if every > count else None,
    )


def without_colours(kept: KeptSignals) -> KeptSignals:
    """The same photo, were its sheet one of greys alone."""
    return replace(kept, patches=replace(kept.patches, colours=None))
