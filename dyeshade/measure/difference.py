"""The difference of two readings of one sheet, solved from the signals of both photos.

Nothing is subtracted that was stored as Lab. Light, tone curves and print of both photos are solved
together (`together`); then both samples, and the sheet's colours where it has them, are told by
both. The colours are the same in both photos, so what they seem to have moved by is error, and
tells of the error at the sample's own colour (`colour_change`, `rendering_change`, `conditioning`).
On a sheet without colours the difference stands as the greys tell it, and is less sure.

What is left of the error is stated with the difference. A camera's error with one colour under one
light leaves it; with two colours it leaves as far as they are near (`shared_error`).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.measure import propagate
from dyeshade.measure.camera_colours import camera_covariance
from dyeshade.measure.colour_change import light_part, own_spectrum
from dyeshade.measure.conditioning import predict_last
from dyeshade.measure.grey_fit import GreyFit, GreySignals
from dyeshade.measure.greys import fit_greys
from dyeshade.measure.kept_signals import KeptSignals
from dyeshade.measure.light_field import field_for_page
from dyeshade.measure.own_cloth import bend_factor, own_channels
from dyeshade.measure.rendering_change import lights_of, own_rendering, rendering_part
from dyeshade.measure.seen import PatchesSeen, SampleSeen
from dyeshade.measure.shared_error import alike
from dyeshade.measure.together import Together, solve_together
from dyeshade.measure.told_pair import Told, told_by
from dyeshade.measure.usable_greys import standard_error, usable, usable_greys

Array = NDArray[np.float64]

LEAST_LEVELS = 4
"""Levels of grey that both photos must show."""


@dataclass(frozen=True, eq=False)
class Alone:
    """One photo of a sheet, its light solved from what was kept of it."""

    kept: KeptSignals
    signals: GreySignals
    fit: GreyFit


@dataclass(frozen=True, eq=False)
class TwoPhotos:
    """Two photos of one sheet, solved together."""

    kept: tuple[KeptSignals, KeptSignals]
    greys: Together
    colours: tuple[Told, Told]
    errors: tuple[Array, Array]
    """Of the colours' signals, relative, each shape (m, 3)."""
    places: tuple[Array, Array]
    """Of the colours in each photo, mm, each shape (m, 2)."""


@dataclass(frozen=True, eq=False)
class ShadeDifference:
    """From one sample to another.

    Attributes
    ----------
    lab_from, lab_to : ndarray, shape (3,)
        Shades whose difference is the one that was solved; their middle is that of both photos.
    covariance : ndarray, shape (3, 3)
        Of the error of ``lab_to - lab_from``, in Lab units squared.
    colours : int
        Colours of the sheet that told of it; 0 where greys did alone.
    lasting : ndarray, shape (3, 3)
        Of the covariance, what stays however many photos are taken in the lights of these two.
    """

    lab_from: Array
    lab_to: Array
    covariance: Array
    colours: int
    lasting: Array


def solve_alone(kept: KeptSignals, page_mm: tuple[float, float]) -> Alone | None:
    """Solve one photo's light again.

    Parameters
    ----------
    kept : KeptSignals
    page_mm : (float, float)
        Width and height of the sheet's page.

    Returns
    -------
    Alone or None
        None where the greys were drawn by hand, or too few are to be seen.
    """
    seen = kept.patches
    if seen.unit != "mm":
        return None
    signals = usable_greys(seen.places, seen.reflectance, seen, seen.full_scale == 255)
    levels = np.unique(seen.reflectance[signals.usable.all(axis=1)].round(3))
    if len(levels) < LEAST_LEVELS:
        return None
    return Alone(kept, signals, fit_greys(signals, field_for_page(page_mm), not seen.rendered))


def solve_pair(first: Alone, second: Alone) -> TwoPhotos | None:
    """Solve two photos of one sheet together.

    Parameters
    ----------
    first, second : Alone
        Both of the same print.

    Returns
    -------
    TwoPhotos or None
        None where the two sheets differ in kind, or one photo is raw and the other is not.
    """
    ours, theirs = first.kept.patches, second.kept.patches
    if ours.names != theirs.names or ours.rendered != theirs.rendered:
        return None
    greys = solve_together(
        (first.signals, second.signals), (first.fit, second.fit), not ours.rendered
    )
    seen = _colours_in_both(ours, theirs)
    told, errors, where = [], [], []
    for patches, fit in zip((ours, theirs), greys.fits, strict=True):
        colours = patches.colours
        if colours is None:
            signal, places, error = np.zeros((0, 3)), np.zeros((0, 2)), np.zeros((0, 3))
        else:
            signal, places = colours.mean[seen], colours.places[seen]
            error = standard_error(colours, patches.full_scale == 255)[seen] / signal
        told.append(told_by(fit, signal, places, patches.to_xyz, patches.rendered))
        errors.append(error)
        where.append(places)
    return TwoPhotos(
        (first.kept, second.kept),
        greys,
        (told[0], told[1]),
        (errors[0], errors[1]),
        (where[0], where[1]),
    )


def _colours_in_both(ours: PatchesSeen, theirs: PatchesSeen) -> NDArray[np.bool_]:
    if ours.colours is None or theirs.colours is None or ours.colours.names != theirs.colours.names:
        return np.zeros(0, dtype=bool)
    return np.asarray((usable(ours.colours) & usable(theirs.colours)).all(axis=1))


def difference_of(
    pair: TwoPhotos, first: SampleSeen, second: SampleSeen, light: str
) -> ShadeDifference:
    """The difference of a sample in the first photo and one in the second.

    Parameters
    ----------
    pair : TwoPhotos
    first, second : SampleSeen
    light : str
        Kind of light of both photos, one of `dyeshade.measure.lights.KINDS`; within one kind the
        light of another day may be another.

    Returns
    -------
    ShadeDifference

    References
    ----------
    JCGM 100:2008, 5.2 (correlated input quantities).
    """
    samples = (first, second)
    rendered = pair.kept[0].patches.rendered
    alone = [
        told_by(fit, one.signal[None], one.place[None], kept.patches.to_xyz, rendered)
        for fit, one, kept in zip(pair.greys.fits, samples, pair.kept, strict=True)
    ]
    told = [_joined(colours, one) for colours, one in zip(pair.colours, alone, strict=True)]
    gap = told[1].lab - told[0].lab
    middle = (told[0].lab + told[1].lab) / 2
    known = _known_part(pair, told)
    known[-3:, -3:] += _of_samples(samples, alone, rendered)
    lights = _lights(pair, samples)
    error = predict_last(gap[:-1], known, _changes(middle, lights, light, rendered))
    own = own_channels(middle[-1])
    if rendered:
        factor = bend_factor(middle[-1], error.squared_sizes[1])
        own = own + factor * own_rendering(middle[-1], [one[-1] for one in lights])
    # A camera finds its white again in the same light, and bends the cloth alike: both parts stay.
    lasting = error.squared_sizes[0] * own_spectrum(middle[-1], light) + own
    moved = gap[-1] - error.mean
    lab_from, lab_to = middle[-1] - moved / 2, middle[-1] + moved / 2
    shared = alike(float(ciede2000(lab_from, lab_to)))
    camera = sum(camera_covariance(lab, light, rendered) for lab in (lab_from, lab_to))
    covariance = error.covariance + own + (1 - shared) * camera
    return ShadeDifference(lab_from, lab_to, covariance, error.used, lasting)


def _changes(middle: Array, lights: tuple[Array, Array], light: str, rendered: bool) -> list[Array]:
    """What light and rendering change, as far as inks tell its size and share it."""
    sized = [light_part(middle, light)]
    if rendered:
        bent = rendering_part(middle, lights)
        bent[-3:, -3:] -= own_rendering(middle[-1], [one[-1] for one in lights])
        sized.append(bent)
    return sized


def _lights(pair: TwoPhotos, samples: tuple[SampleSeen, SampleSeen]) -> tuple[Array, Array]:
    """Light on all spots in both photos, the sample last."""
    places = [
        np.vstack([of_colours, one.place])
        for of_colours, one in zip(pair.places, samples, strict=True)
    ]
    return lights_of(pair.greys.fits, places, [kept.patches.to_xyz for kept in pair.kept])


def _joined(colours: Told, sample: Told) -> Told:
    return Told(
        *(
            np.concatenate([getattr(colours, name), getattr(sample, name)])
            for name in ("lab", "reflectance", "by_fit", "by_scale", "slope")
        )
    )


def _known_part(pair: TwoPhotos, told: list[Told]) -> Array:
    """Covariance of all spots' differences by greys and noise; (3 n, 3 n), the sample last."""
    count = len(told[0].lab)
    by_fit = np.concatenate([-told[0].by_fit, told[1].by_fit], axis=-1).reshape(3 * count, -1)
    whole = by_fit @ pair.greys.covariance @ by_fit.T
    unexplained = pair.greys.level**2 * np.ones((3, 3)) + pair.greys.tint**2 * np.eye(3)
    for one, errors in zip(told, pair.errors, strict=True):
        for k in range(count):
            block = unexplained
            if k < count - 1:
                block = block + np.diag((one.slope[k] * errors[k]) ** 2)
            at = slice(3 * k, 3 * k + 3)
            whole[at, at] += one.by_scale[k] @ block @ one.by_scale[k].T
    return np.asarray(whole)


def _of_samples(samples: tuple[SampleSeen, SampleSeen], own: list[Told], rendered: bool) -> Array:
    """What the samples add: texture and height in each photo, and the paper that both share."""
    on_cloth = propagate.HEIGHT_SPREAD if rendered else propagate.CLOTH_SPREAD_RAW
    whole = np.zeros((3, 3))
    for one, told in zip(samples, own, strict=True):
        by_mean = told.by_scale[0] / np.maximum(told.reflectance[0], 1e-4)
        whole += by_mean @ one.covariance @ by_mean.T
        every = told.by_scale[0].sum(axis=1)
        whole += on_cloth**2 * np.outer(every, every)
    across = own[1].by_scale[0] - own[0].by_scale[0]
    every = across.sum(axis=1)
    whole += propagate.PAPER_SPREAD**2 * np.outer(every, every)
    whole += propagate.PAPER_TINT_SPREAD**2 * across[:, [0, 2]] @ across[:, [0, 2]].T
    return whole
