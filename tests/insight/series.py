"""Invented pH series of known truth, read with known errors."""

from dataclasses import replace

import numpy as np

from dyeshade.insight.difference import Measured
from dyeshade.insight.ph_series import PhSeries, SeriesPoint
from dyeshade.library.conditions import BathConditions
from tests.library.workshop import a_reading

SIX = np.triu_indices(3)


def a_series(ph, labs, photo, common=None, ph_sd=0.01, baths=None):
    """A series of readings by one camera on one sheet; no kind of light is known."""
    common = np.zeros((3, 3)) if common is None else common
    points = []
    for k, (one, lab) in enumerate(zip(ph, labs, strict=True)):
        reading = a_reading(
            k + 1,
            lab_l=float(lab[0]),
            lab_a=float(lab[1]),
            lab_b=float(lab[2]),
            covariance_photo=tuple(photo[SIX]),
            covariance_common=tuple(common[SIX]),
            photo_id=k + 1,
        )
        taken = Measured(replace(reading, id=k + 1), "a camera", "JPEG", "S-1", None)
        taken = replace(taken, light="incandescent")
        bath = ("bath", k if baths is None else baths[k])
        points.append(SeriesPoint(None, taken, float(one), ph_sd, bath))
    ordered = tuple(sorted(points, key=lambda point: point.ph))
    return PhSeries("bath_end", BathConditions(), "dry", ordered)


def turning(ph, middle=7.0, steep=2.0, low=(75.0, -5.0, 60.0), high=(60.0, 25.0, 45.0)):
    """A dyestuff that turns from one shade to another, as an acid and its base would."""
    share = 1 / (1 + np.exp(-(np.asarray(ph, float) - middle) * steep))
    low, high = np.array(low), np.array(high)
    return low + share[..., None] * (high - low)
