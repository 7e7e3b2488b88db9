"""What the greys of one photo tell: the signals they gave, and light, curve and white from them."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.light_field import LightField
from dyeshade.measure.response import InverseCurve
from dyeshade.measure.tone_pieces import KNOTS, curve_places

Array = NDArray[np.float64]


@dataclass(frozen=True)
class GreySignals:
    """What the photo shows of greys and bare paper.

    Attributes
    ----------
    places_mm : ndarray, shape (n, 2)
        Middles on the page in mm.
    reflectance : ndarray, shape (n,)
        Luminance factor of a plain print, 0..1.
    signal : ndarray, shape (n, 3)
        Decoded linear signal in the file's primaries, 0..1.
    spread : ndarray, shape (n, 3)
        Standard error of each signal.
    usable : ndarray of bool, shape (n, 3)
        False where clipped or hidden.
    tint : ndarray, shape (n, 3)
        Log of what each channel sees of the patch, less that of a neutral of this reflectance;
        zeros where greys are taken for neutral.
    departs : float or ndarray, shape (n,)
        How far a patch may depart with the print: 1 for those of a print that was never
        calibrated, less where its greys are known, 0 for a grey that is on no print.
    """

    places_mm: Array
    reflectance: Array
    signal: Array
    spread: Array
    usable: NDArray[np.bool_]
    tint: Array | float = 0.0
    departs: Array | float = 1.0


@dataclass(frozen=True)
class GreyFit:
    """Light, tone curve and white of one photo, with their uncertainty.

    Attributes
    ----------
    curve : InverseCurve
    field : LightField
    white : ndarray, shape (3,)
        Log of the light's colour per channel; paper white has log light `white` mid page.
    field_weights : ndarray, shape (field.size,)
    colour_tilt : ndarray, shape (2, 2)
        Slope of log light of red and of blue against green, per scaled place x, y.
    log_flare : float
        Log of the veiling light, as a share of a perfect white mid page.
    print_departure : ndarray, shape (4,)
        Log departure of this print at `dyeshade.measure.grey_problem.PRINT_KNOTS` but the last.
    covariance : ndarray, shape (p, p)
        Of all parameters together, in the order above.
    covariance_known_print : ndarray, shape (p, p)
        The same, were the print exactly plain: what differs from photo to photo.
    residual : ndarray, shape (n, 3)
        Log light seen less log light expected; NaN where not usable.
    weights : ndarray, shape (n,)
        0..1, how far each patch was believed.
    scatter : float
        Root mean square of the believed residuals.
    """

    curve: InverseCurve
    field: LightField
    white: Array
    field_weights: Array
    colour_tilt: Array
    log_flare: float
    print_departure: Array
    covariance: Array
    covariance_known_print: Array
    residual: Array
    weights: Array
    scatter: float

    def parameters(self) -> Array:
        """All parameters as one vector, in the order of `covariance`."""
        return pack(self)

    def with_parameters(self, vector: Array) -> GreyFit:
        """The same fit with other parameters; for derivatives."""
        curve, white, weights, tilt, flare, departure = unpack(vector, self.field.size)
        return replace(
            self,
            curve=InverseCurve(curve, self.curve.reference),
            white=white,
            field_weights=weights,
            colour_tilt=tilt,
            log_flare=flare,
            print_departure=departure,
        )

    def log_light_at(self, places_mm: Array) -> Array:
        """Log light on a perfect white at places of the page, shape (..., 3)."""
        even = self.field.features(places_mm) @ self.field_weights
        place = self.field.scaled(places_mm)
        tilt = place @ self.colour_tilt.T
        zero = np.zeros(even.shape)
        return self.white + even[..., None] + np.stack([tilt[..., 0], zero, tilt[..., 1]], axis=-1)

    def reflectance(self, signal: Array, places_mm: Array) -> Array:
        """Reflectance per channel, the light's colour not yet divided out of its space.

        Parameters
        ----------
        signal : ndarray, shape (..., 3)
            Decoded linear signal in the file's primaries.
        places_mm : ndarray, shape (..., 2)

        Returns
        -------
        ndarray, shape (..., 3)
            1 for a perfect white in each channel; negative where flare was overdrawn.
        """
        light = np.exp(self.log_light_at(places_mm))
        flare = np.exp(self.white + self.log_flare)
        return np.asarray((self.curve.light(signal) - flare) / light)

    @property
    def white_at(self) -> slice:
        """Where the white stands among the parameters."""
        return slice(len(KNOTS), len(KNOTS) + 3)

    def reflectance_slopes(self, signal: Array, place_mm: Array) -> Array:
        """Derivatives of `reflectance` by all parameters.

        Parameters
        ----------
        signal : ndarray, shape (3,)
            Decoded linear signal in the file's primaries, above zero.
        place_mm : ndarray, shape (2,)

        Returns
        -------
        ndarray, shape (3, p)
        """
        on_white = np.exp(self.log_light_at(place_mm))
        lit = self.curve.light(signal) / on_white
        veiled = np.exp(self.white + self.log_flare) / on_white
        seen = lit - veiled
        place = self.field.scaled(place_mm)
        k, size = len(KNOTS), self.field.size
        slopes = np.zeros((3, k + 8 + size + len(self.print_departure)))
        places = curve_places(np.log(signal), self.curve.reference)
        slopes[:, :k] = lit[:, None] * self.curve.at(places).derivatives().T
        slopes[range(3), range(k, k + 3)] = -seen - veiled
        slopes[:, k + 3 : k + 3 + size] = -np.outer(seen, self.field.features(place_mm))
        slopes[0, k + 3 + size : k + 5 + size] = -seen[0] * place
        slopes[2, k + 5 + size : k + 7 + size] = -seen[2] * place
        slopes[:, k + 7 + size] = -veiled
        return slopes


def pack(fit: GreyFit) -> Array:
    """All parameters of a fit as one vector, shape (p,)."""
    return np.concatenate(
        [
            fit.curve.log_slopes,
            fit.white,
            fit.field_weights,
            fit.colour_tilt.ravel(),
            [fit.log_flare],
            fit.print_departure,
        ]
    )


def unpack(vector: Array, size: int) -> tuple[Array, Array, Array, Array, float, Array]:
    """Log slopes, white, field weights (size,), colour tilt, log flare and print departure."""
    k = len(KNOTS)
    return (
        vector[:k],
        vector[k : k + 3],
        vector[k + 3 : k + 3 + size],
        vector[k + 3 + size : k + 7 + size].reshape(2, 2),
        float(vector[k + 7 + size]),
        vector[k + 8 + size :],
    )
