"""Several flat spots of one photo with what their errors have in common.

The stated covariance of a shade is of that shade alone. Of two spots in one photo most errors are
the same: the light that was fitted, the print that it was fitted to, the camera's colours where
the two are near each other. Whoever compares spots, as a strip's pad with its printed scale, needs
them together. As `dyeshade.measure.propagate`, by JCGM 100; the spots are flat and lie on the
sheet, so nothing of what cloth adds is in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.measure.photo_to_shade import Solved
from dyeshade.measure.propagate import (
    _EXPECTED_SCATTER,
    PAPER_SPREAD,
    PAPER_TINT_SPREAD,
    SampleMean,
    by_light,
    by_parameters,
    tint_covariance,
)
from dyeshade.measure.shared_error import alike
from dyeshade.measure.typical_colours import typical_colours

Array = NDArray[np.float64]

FLAT_SPREAD = 0.01
"""Spread of log light between a flat spot and the sheet around it: its gloss, an edge that stands
up, what the fitted light misses there (ours, by judgement)."""

OTHER_COLOURANT = 0.8
"""Correlation of a camera's errors with two spots of one colour whose colourants differ, as a dyed
pad and printed ink: their spectra are not the same (ours, by judgement)."""

OTHER_PHOTO = 0.9
"""Correlation of one camera's errors with one colour in two photos in one kind of light: its
rendering follows the scene (ours, by judgement)."""


@dataclass(frozen=True, eq=False)
class SpotsTogether:
    """n spots of one photo.

    Attributes
    ----------
    lab : ndarray, shape (n, 3)
    covariance : ndarray, shape (3 n, 3 n)
        Of the errors of all of them, spot by spot, in Lab units squared.
    camera_roots : ndarray, shape (n, 3, 3)
        Square root of what of each one's covariance comes of the camera's colours.
    """

    lab: Array
    covariance: Array
    camera_roots: Array


def spots_together(
    solved: Solved, names: Sequence[str], other: Sequence[str] = (), camera_known: bool = True
) -> SpotsTogether:
    """Spots of a measured photo with the covariance of all their errors.

    Parameters
    ----------
    solved : Solved
        A photo on which the spots were drawn as samples.
    names : sequence of str
        Of the samples, in the order wanted.
    other : sequence of str
        Those that are coloured with something else than the rest.
    camera_known : bool
        As for `dyeshade.measure.propagate.shade_of`.

    Returns
    -------
    SpotsTogether

    Raises
    ------
    ValueError
        Where there is no such sample, or its signals were not kept.
    """
    measurement, fit, used = solved.measurement, solved.fit, solved.used
    patches = measurement.patches
    found = {one.name: one for one in measurement.samples}
    if patches is None or any(name not in found or found[name].seen is None for name in names):
        raise ValueError(f"not all of {names} were measured")
    on_paper, tint = PAPER_SPREAD, PAPER_TINT_SPREAD
    if measurement.sheet is not None:
        on_paper, tint = used.reference_spread, used.tint_spread
    to_xyz, rendered = patches.to_xyz, patches.rendered
    own = used.own or typical_colours(to_xyz, rendered, measurement.light, camera_known)
    by_fit, scaled, labs, roots = [], [], [], []
    of_spots = np.zeros((3 * len(names),) * 2)
    for k, name in enumerate(names):
        seen = found[name].seen
        assert seen is not None
        mean = SampleMean(seen.reflectance, seen.covariance, seen.place)
        lab = found[name].shade.lab
        slopes = by_light(fit, mean, to_xyz, rendered, own)
        by_mean = slopes[0]
        relative = by_mean * mean.reflectance
        by_fit.append(by_parameters(fit, mean, slopes))
        scaled.append(relative)
        labs.append(lab)
        light = relative.sum(axis=1)
        rows = slice(3 * k, 3 * k + 3)
        of_spots[rows, rows] = by_mean @ mean.covariance @ by_mean.T
        of_spots[rows, rows] += FLAT_SPREAD**2 * np.outer(light, light)
        roots.append(_root(own.covariance(lab)))
    lab = np.array(labs)
    # What a photo's fit is off by counts more where its greys agree less than usual.
    excess = max(1.0, fit.scatter / _EXPECTED_SCATTER) ** 2 if np.isfinite(fit.scatter) else 1.0
    of_fit = fit.covariance_known_print * excess + (fit.covariance - fit.covariance_known_print)
    stacked, relative = np.concatenate(by_fit), np.concatenate(scaled)
    light = relative.sum(axis=1)
    covariance = of_spots + stacked @ of_fit @ stacked.T
    covariance += on_paper**2 * np.outer(light, light)
    covariance += tint_covariance(relative, tint, measurement.light)
    others = np.array([name in other for name in names])
    covariance += _of_camera(lab, np.array(roots), others)
    return SpotsTogether(lab, covariance, np.array(roots))


def shared_by_camera(lab: Array, roots: Array, other_lab: Array, other_roots: Array) -> Array:
    """What the errors of spots in two photos by one camera have in common.

    Parameters
    ----------
    lab, roots : ndarray, shapes (n, 3) and (n, 3, 3)
        As in `SpotsTogether`, of the one photo.
    other_lab, other_roots : ndarray, shapes (m, 3) and (m, 3, 3)
        Of the other photo's spots, which are coloured with something else.

    Returns
    -------
    ndarray, shape (3 n, 3 m)
        Covariance of the ones' errors with the others', in Lab units squared.
    """
    shared = np.vectorize(alike)(ciede2000(lab[:, None], other_lab[None, :]))
    shared = shared * OTHER_COLOURANT * OTHER_PHOTO
    blocks = np.einsum("iab,ij,jcb->iajc", roots, shared, other_roots)
    return np.asarray(blocks.reshape(3 * len(lab), 3 * len(other_lab)))


def _of_camera(lab: Array, roots: Array, others: NDArray[np.bool_]) -> Array:
    """A camera errs with near colours alike, a little less so where colourants differ."""
    count = len(lab)
    shared = np.vectorize(alike)(ciede2000(lab[:, None], lab[None, :]))
    shared *= np.where(others[:, None] == others[None, :], 1.0, OTHER_COLOURANT)
    # CIEDE2000 is no true distance: what is not a correlation in it is cut off.
    values, axes = np.linalg.eigh(shared)
    shared = (axes * np.maximum(values, 0.0)) @ axes.T
    blocks = np.einsum("iab,ij,jcb->iajc", roots, shared, roots)
    return np.asarray(blocks.reshape(3 * count, 3 * count))


def _root(covariance: Array) -> Array:
    """Symmetric square root, so that two near colours have near roots."""
    values, axes = np.linalg.eigh(covariance)
    return np.asarray((axes * np.sqrt(np.maximum(values, 0.0))) @ axes.T)
