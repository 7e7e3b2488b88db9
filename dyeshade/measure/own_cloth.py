"""What a cloth has for itself between two photos, so that no ink tells of it.

Inks tell how a light and a rendering change colours (`colour_change`, `rendering_change`), and so
of a cloth of near colour, but not all of it. A rendering bends unlike what is hardly alike in the
darkest of its channels, and two photos tell a dark channel beside a bright one least surely. How
much of this a cloth has was chosen so that what is said of histories is true
(``python -m tests.studies.histories``, whose head says which histories chose and which judge).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.lab import lab_to_xyz, xyz_to_lab
from dyeshade.cie.rgb_spaces import SRGB
from dyeshade.measure.colour_change import channels_of
from dyeshade.photo.camera_space import camera_to_srgb

Array = NDArray[np.float64]

OWN_BEND, BY_RATIO, BY_SIZE = 3.35, 0.3, 0.1
"""In what a rendering changes, the variance of what a cloth has for itself counts as many times
what near inks do not share as the first says; it grows with how many times the brightest of its
sRGB channels is the darkest, to the second power, and with the squared size of what inks show of
the rendering's change, to the third."""

OWN_CHANNEL = 0.0045
"""Relative standard deviation of a camera's channel that gets half as much as the brightest."""

_MOST_RATIO = 55.0
_LEAST_CHANNEL = 1e-3
_STEP = 1e-4


def bend_factor(lab: Array, squared_size: float) -> float:
    """How many times the variance that near inks do not share a cloth has for itself.

    Parameters
    ----------
    lab : ndarray, shape (3,)
        Of the cloth.
    squared_size : float
        Of the rendering's change as inks tell it (`dyeshade.measure.conditioning.predict_last`).
    """
    channels = np.linalg.solve(SRGB.to_xyz, lab_to_xyz(lab))
    brightest = float(channels.max())
    ratio = brightest / max(float(channels.min()), brightest / _MOST_RATIO)
    return float(OWN_BEND * ratio**BY_RATIO * squared_size**BY_SIZE)


def own_channels(lab: Array) -> Array:
    """Covariance of what the channels of a cloth have for themselves.

    Parameters
    ----------
    lab : ndarray, shape (3,)

    Returns
    -------
    ndarray, shape (3, 3)
        In Lab units squared; nothing for a neutral.
    """
    channels = channels_of(lab[None])[:, 0]
    channels = np.maximum(channels, _LEAST_CHANNEL * channels.max())
    to_xyz = (SRGB.to_xyz @ camera_to_srgb()).T
    sides = [
        xyz_to_lab((channels + sign * _STEP * np.diag(channels)) @ to_xyz) for sign in (1.0, -1.0)
    ]
    by_channel = (sides[0] - sides[1]) / (2 * _STEP)
    less = np.sqrt(channels.max() / channels - 1)
    return np.asarray(OWN_CHANNEL**2 * (by_channel.T * less) @ by_channel)
