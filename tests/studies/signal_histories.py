"""Histories of pieces in photos of one phone and one sheet, as signals, with known truth.

Cameras, lights, looks, prints and noise are the renderer's (``tests.studies.photo_signals``). Every
photo of a history has its own angle, exposure and white balance; photos of one occasion share a
daylight from D50 to D75; camera, tone curve and maker's look stay, as they do in one phone. What
only a picture has is left out, but that each photo shades each cloth a little otherwise, by as much
as renders do (``tests.studies.cloth_light --pairs``). Each of six pieces is there three times: as
it was, moved by exactly 2 CIEDE2000 in any direction, and faded by exactly 2 (its dye's reflectance
to a power below 1: lighter and less vivid).
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import brentq, least_squares

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.insight.difference import Measured
from dyeshade.library.shade_records import SheetReading
from dyeshade.measure.kept_signals import KeptSignals
from dyeshade.measure.propagate import HEIGHT_SPREAD
from dyeshade.measure.seen import signals_json
from tests.library.workshop import a_reading
from tests.render.pieces import random_spectrum
from tests.render.scene import Scene
from tests.render.spectra import WAVELENGTHS, Array, lab_of
from tests.studies.drift import LAYOUT, phone_scenes, white_again
from tests.studies.photo_signals import bare_sheet, kept_of

SIZE = 2.0
"""Of a move, CIEDE2000."""

TRUTHS = ("unmoved", "moved", "faded")
_SEED = 20251125


@dataclass(frozen=True, eq=False)
class Told:
    """Photos of one sheet, and the pieces on it.

    Attributes
    ----------
    sheets : tuple of SheetReading
        A photo each, in order of time; samples are named after piece and truth ("A1 faded").
    pieces : tuple of str
        Cells seen in all photos, whatever the piece had gone through.
    labs : dict of str to ndarray, shape (3,)
        True shade by name of sample.
    """

    sheets: tuple[SheetReading, ...]
    pieces: tuple[str, ...]
    labs: dict[str, Array]

    def reading(self, photo: int, piece: str, truth: str) -> Measured:
        """A piece in a photo, counted from 0."""
        reading = a_reading(
            1, sample=f"{piece} {truth}", photo_id=photo + 1, sheet_reading_id=photo + 1
        )
        reading = replace(reading, id=photo + 1, method_version=1)
        return Measured(reading, "a phone", "JPEG", "S-1", "window")

    def the(self, kind: type[SheetReading], id_: int) -> SheetReading:
        """A photo's sheet, as a library gives it."""
        assert kind is SheetReading
        return self.sheets[id_ - 1]


def photos_of(number: int, counts: Sequence[int], cameras: Sequence[str], look: bool) -> Told:
    """Photos of the sheet with six pieces.

    Parameters
    ----------
    number : int
        Which camera, print, look, pieces and lights.
    counts : sequence of int
        Photos of each occasion.
    cameras : sequence of str
        Names to choose among.
    look : bool
        Whether the phone renders as its maker likes.

    Returns
    -------
    Told
    """
    versions = _versions(number)
    kept = []
    for k, scene in enumerate(_scenes(number, counts, cameras, look)):
        shades = np.random.default_rng([_SEED, 3, number, k]).normal(0.0, HEIGHT_SPREAD, 6)
        kept.append([_shaded(kept_of(scene, LAYOUT, versions[t]), shades) for t in TRUTHS])
    names = [cell.name for cell in LAYOUT.cells[: len(versions["unmoved"])]]
    seen = tuple(
        name for name in names if all(name in one.samples for photo in kept for one in photo)
    )
    sheets = []
    for k, photo in enumerate(kept, 1):
        samples = {
            f"{name} {truth}": one.samples[name]
            for truth, one in zip(TRUTHS, photo, strict=True)
            for name in seen
        }
        told = json.loads(json.dumps(signals_json(photo[0].patches, samples)))
        sheets.append(SheetReading(k, 1, "window", "A4", "six", "S-1", 1, 0.004, told, id=k))
    labs = {
        f"{name} {truth}": lab
        for truth in TRUTHS
        for name, lab in zip(names, lab_of(versions[truth]), strict=True)
    }
    return Told(tuple(sheets), seen, labs)


def _shaded(kept: KeptSignals, shades: Array) -> KeptSignals:
    """The same photo with all light from each cloth a little more or less."""
    by_name = dict(zip((cell.name for cell in LAYOUT.cells), shades, strict=False))
    samples = {
        name: replace(one, signal=one.signal * np.exp(by_name[name]))
        for name, one in kept.samples.items()
    }
    return replace(kept, samples=samples)


def _scenes(number: int, counts: Sequence[int], cameras: Sequence[str], look: bool) -> list[Scene]:
    rng = np.random.default_rng([_SEED, 1, number])
    drawn, common = phone_scenes(rng, bare_sheet(LAYOUT), number, cameras, look, sum(counts))
    days = [day for day, count in enumerate(counts) for _ in range(count)]
    of_day = [drawn[days.index(day)] for day in days]
    return [
        scene.with_(
            **common,
            light=first.light,
            ambient_light=first.ambient_light,
            white_error=white_again(rng, first.white_error),
            exposure=min(scene.exposure, 1.0),
        )
        for scene, first in zip(drawn, of_day, strict=True)
    ]


def _versions(number: int) -> dict[str, Array]:
    """Reflectances of six pieces, each shape (6, 81), by what they went through."""
    rng = np.random.default_rng([_SEED, 2, number])
    fresh: list[Array] = []
    moved: list[Array] = []
    faded: list[Array] = []
    while len(fresh) < 6:
        # Mixtures of extrapolated spectra may fall a little below zero.
        spectrum = np.maximum(random_spectrum(rng), 1e-3)
        away, paler = _moved(spectrum, rng.normal(size=3)), _faded(spectrum)
        if away is None or paler is None:
            continue
        fresh.append(spectrum)
        moved.append(away)
        faded.append(paler)
    return dict(zip(TRUTHS, map(np.array, (fresh, moved, faded)), strict=True))


def _moved(spectrum: Array, way: Array) -> Array | None:
    """Moved by `SIZE` along a way in Lab, smoothly over the spectrum; None where it can't be."""
    lab = lab_of(spectrum)
    way = way / np.linalg.norm(way)
    share = brentq(lambda s: float(ciede2000(lab, lab + s * way)) - SIZE, 0.0, 50.0)
    goal = lab + share * way
    x = (WAVELENGTHS - 560.0) / 160.0
    shapes = np.array([np.ones_like(x), x, np.exp(-((x / 0.45) ** 2))])
    absorbed = -np.log(spectrum)

    def shown(size: Array) -> Array:
        return np.asarray(np.exp(-absorbed * np.exp(size @ shapes)))

    found = least_squares(lambda size: lab_of(shown(size)) - goal, np.zeros(3), bounds=(-3, 3))
    return shown(found.x) if found.cost < 1e-6 else None


def _faded(spectrum: Array) -> Array | None:
    """Faded by `SIZE`; None where the whole dye gone would not do it."""
    lab = lab_of(spectrum)

    def missing(power: float) -> float:
        return float(ciede2000(lab, lab_of(spectrum**power))) - SIZE

    if missing(0.2) < 0:
        return None
    return np.asarray(spectrum ** float(brentq(missing, 0.2, 1.0)))
