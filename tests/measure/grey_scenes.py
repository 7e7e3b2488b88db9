"""Grey signals as a photo might show them, made without any of the reader's own models.

The light is a window of finite size with the inverse square law, the tone curve a filmic or sinus
curve, the print's departure a sine: none of them is what `dyeshade.measure.greys` fits.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.grey_fit import GreySignals

Array = NDArray[np.float64]
PAGE = (210.0, 297.0)
LEVELS = np.append(((np.array([88, 80, 70, 60, 50, 40, 30]) + 16) / 116) ** 3, 0.035)


@dataclass(frozen=True)
class GreyScene:
    """A sheet under some light, seen by some camera.

    Attributes
    ----------
    light : callable
        Light at places in mm, 1 mid page.
    curve : callable
        Light to signal.
    white, exposure, flare : light's colour (3,), scale and veil.
    departure : callable
        Log departure of the print by reflectance.
    """

    light: Callable[[Array], Array]
    curve: Callable[[Array], Array]
    white: Array
    exposure: float
    flare: float
    departure: Callable[[Array], Array]

    def signal(self, places: Array, reflectance: Array) -> Array:
        """Signal of flat patches; (n, 2) and (n,) or (n, 3) to (n, 3)."""
        tall = reflectance if reflectance.ndim == 2 else reflectance[:, None]
        light = self.light(places)[:, None] * tall + self.flare
        return self.curve(self.exposure * self.white * light)

    def printed(self, reflectance: Array) -> Array:
        """What this print reflects where a plain one reflects `reflectance`."""
        return reflectance * np.exp(np.where(reflectance < 0.87, self.departure(reflectance), 0))


def filmic(rng: np.random.Generator) -> Callable[[Array], Array]:
    """A Naka-Rushton shoulder with contrast."""
    power, knee, gain = rng.uniform(1, 1.5), rng.uniform(0.3, 1.2), rng.uniform(0.9, 1.3)
    top = gain**power * (1 + knee**power) / (gain**power + knee**power)
    return lambda x: (
        0.97 * (x * gain) ** power * (1 + knee**power) / ((x * gain) ** power + knee**power) / top
    )


def sine_contrast(rng: np.random.Generator) -> Callable[[Array], Array]:
    """An S laid over the sRGB-coded values."""
    strength = rng.uniform(0, 0.7)

    def curve(x: Array) -> Array:
        coded = np.where(x < 0.0031308, 12.92 * x, 1.055 * np.maximum(x, 1e-9) ** (1 / 2.4) - 0.055)
        coded = np.clip(coded + strength * 0.25 * np.sin(2 * np.pi * (coded - 0.5)) / np.pi, 0, 1)
        return np.where(coded < 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)

    return curve


def window_light(rng: np.random.Generator, uneven: float = 1.6) -> Callable[[Array], Array]:
    """Light of a window beside the sheet, at most `uneven` times brighter here than there."""
    turn, away, high = rng.uniform(0, 2 * np.pi), rng.uniform(350, 900), rng.uniform(300, 900)
    middle = np.array(PAGE) / 2
    stands = middle + away * np.array([np.cos(turn), np.sin(turn)])

    def bare(places: Array) -> Array:
        return (((places - stands) ** 2).sum(axis=-1) + high**2) ** -1.5

    corners = bare(np.array([[0, 0], [PAGE[0], 0], [0, PAGE[1]], PAGE], float))
    power = min(1.0, float(np.log(uneven) / np.log(corners.max() / corners.min())))
    return lambda places: (bare(places) / bare(middle)) ** power


def random_scene(rng: np.random.Generator, print_spread: float = 0.02) -> GreyScene:
    """A scene with troubles within the stated range."""
    curve = (filmic(rng), sine_contrast(rng), lambda x: x)[rng.integers(3)]
    bend = rng.normal(0, print_spread, 2)
    span = np.log(0.035 / 0.88)

    def departure(reflectance: Array) -> Array:
        along = np.log(reflectance / 0.88) / span
        return bend[0] * np.sin(np.pi * along) + bend[1] * along**2

    return GreyScene(
        window_light(rng),
        curve,
        np.exp(rng.uniform(-0.15, 0.15, 3)),
        rng.uniform(0.45, 0.9),
        rng.uniform(0.002, 0.02),
        departure,
    )


def sheet_places(rng: np.random.Generator) -> tuple[Array, Array]:
    """Middles (n, 2) and plain reflectances (n,) of a sheet: greys on four sides, paper between."""
    places, reflectance = [], []
    for side in range(4):
        for k, level in enumerate(rng.permutation(LEVELS)):
            at = (k + 1) / 9
            spots = [(30 + 150 * at, 18), (30 + 150 * at, 279), (14, 40 + 220 * at)]
            places.append([*spots, (196, 40 + 220 * at)][side])
            reflectance.append(level)
    for y in np.linspace(20, 277, 8):
        for x in (24, 70, 105, 140, 186):
            places.append((x + rng.uniform(-3, 3), y))
            reflectance.append(0.88)
    return np.array(places, float), np.array(reflectance)


def grey_signals(
    scene: GreyScene, rng: np.random.Generator, hidden_share: float = 0.06
) -> GreySignals:
    """Signals of a whole sheet, some of them under something, noisy, clipped ones left out."""
    places, reflectance = sheet_places(rng)
    printed = scene.printed(reflectance)
    printed = printed * np.exp(np.where(reflectance < 0.87, rng.normal(0, 0.005, len(printed)), 0))
    signal = scene.signal(places, printed) * np.exp(rng.normal(0, 0.002, (len(printed), 3)))
    usable = signal < 0.985
    hidden = rng.random(len(printed)) < hidden_share
    signal[hidden] *= rng.uniform(0.2, 0.9, (int(hidden.sum()), 1))
    return GreySignals(places, reflectance, np.minimum(signal, 1), 0.002 * signal, usable)
