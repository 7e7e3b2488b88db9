"""How the light of one camera, learnt from known colours, becomes colour: a value to be kept.

A matrix stands at the base. Terms of a root-polynomial turn it to this camera's sensitivities.
What a maker's rendering does on top (vivid colours held back, hues moved) is smooth in colour and
no such polynomial; it is written as a smooth shift of Lab, zero for neutrals and fading away from
the colours that were known.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.lab import xyz_to_lab
from dyeshade.measure.camera_colours import vividness, weighted_axes
from dyeshade.measure.root_polynomial import DEGREES, term_count, terms

Array = NDArray[np.float64]

REACH = 32.0
"""Distance in Lab, lightness counted half, over which a shift fades."""

_LIGHTNESS = 0.5
_DIGITS = 10


@dataclass(frozen=True, eq=False)
class OwnColours:
    """From one camera's light, white divided out, to colour.

    Attributes
    ----------
    base : ndarray, shape (3, 3)
        Channels to XYZ; (1, 1, 1) becomes D65, Y = 1.
    degree : int
        Of the root-polynomial; one of `dyeshade.measure.root_polynomial.DEGREES`.
    weights : ndarray, shape (3, terms)
        Of its terms, to XYZ.
    known : ndarray, shape (n, 3)
        Lab at which shifts are known; n may be 0.
    shifts : ndarray, shape (n, 3)
        Their strengths along lightness, chroma and hue, in steps of CIEDE2000.
    neutral, vivid : ndarray, shape (3,)
        Spread of what is still wrong, along lightness, chroma and hue in steps of CIEDE2000: for
        neutrals, and what is added for vivid colours.
    """

    base: Array
    degree: int
    weights: Array
    known: Array = field(default_factory=lambda: np.zeros((0, 3)))
    shifts: Array = field(default_factory=lambda: np.zeros((0, 3)))
    neutral: Array = field(default_factory=lambda: np.zeros(3))
    vivid: Array = field(default_factory=lambda: np.zeros(3))

    def __post_init__(self) -> None:
        fits = (
            self.base.shape == (3, 3)
            and self.degree in DEGREES
            and self.weights.shape == (3, term_count(self.degree))
            and self.known.shape == self.shifts.shape == (len(self.known), 3)
            and self.neutral.shape == self.vivid.shape == (3,)
        )
        if not fits:
            raise ValueError("the parts of these colours do not go together")

    def lab(self, light: Array) -> Array:
        """Lab of light, shape (..., 3): channels with the white divided out, white 1 in each."""
        held = np.asarray(light, dtype=float)
        plain = xyz_to_lab(held @ self.base.T + terms(held, self.degree) @ self.weights.T)
        if not len(self.known):
            return plain
        flat = plain.reshape(-1, 3)
        moved = nearness(flat, self.known) @ self.shifts
        steps = [weighted_axes(one) @ move for one, move in zip(flat, moved, strict=True)]
        return np.asarray((flat + np.array(steps).reshape(-1, 3)).reshape(plain.shape))

    def covariance(self, lab: Array) -> Array:
        """Covariance of a shade that comes of these colours, shape (3, 3), in Lab units squared."""
        chroma = float(np.hypot(lab[1], lab[2]))
        variance = self.neutral**2 + (self.vivid * vividness(chroma)) ** 2
        axes = weighted_axes(lab)
        return np.asarray((axes * variance) @ axes.T)

    def to_json(self) -> dict[str, Any]:
        """Plain values that JSON can hold."""
        return {
            "base": _plain(self.base),
            "degree": self.degree,
            "weights": _plain(self.weights),
            "known": _plain(self.known),
            "shifts": _plain(self.shifts),
            "neutral": _plain(self.neutral),
            "vivid": _plain(self.vivid),
        }

    @classmethod
    def from_json(cls, values: dict[str, Any]) -> OwnColours:
        """The value of what `to_json` gave.

        Raises
        ------
        KeyError, TypeError, ValueError
            For anything else.
        """
        return cls(
            np.array(values["base"], dtype=float),
            int(values["degree"]),
            np.array(values["weights"], dtype=float),
            np.array(values["known"], dtype=float).reshape(-1, 3),
            np.array(values["shifts"], dtype=float).reshape(-1, 3),
            np.array(values["neutral"], dtype=float),
            np.array(values["vivid"], dtype=float),
        )


def nearness(one: Array, other: Array) -> Array:
    """How much Lab colours share a shift, shapes (n, 3) and (m, 3) to (n, m): 0 for neutrals."""
    scale = np.array([_LIGHTNESS, 1.0, 1.0]) / REACH
    gaps = (((one[:, None] - other[None]) * scale) ** 2).sum(axis=-1)
    vivid_one = vividness(np.hypot(one[:, 1], one[:, 2]))
    vivid_other = vividness(np.hypot(other[:, 1], other[:, 2]))
    return np.asarray(np.exp(-0.5 * gaps) * vivid_one[:, None] * vivid_other[None])


def _plain(values: Array) -> Any:
    if values.ndim:
        return [_plain(one) for one in values]
    return float(f"{float(values):.{_DIGITS}g}")
