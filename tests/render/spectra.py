"""Published spectra, and from spectra to colour: the ground that the renderer stands on.

Everything is sampled at 380 to 780 nm by 5 nm (81 values). Truth is always CIELAB for D65 and the
2 degree observer, with the perfect diffuser as white.

References
----------
CIE 015:2018 (XYZ, CIELAB, daylight, illuminants); CIE 224:2017 (the 99 test colours); ISO 17321-1
(the 24-patch chart's spectra); the training reflectances of RAW to ACES. All of them as carried by
colour-science. Cameras: ``tests/data/camera_sensitivities.csv`` (see the notice there).
"""

from __future__ import annotations

import csv
import warnings
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

with warnings.catch_warnings():
    # colour-science warns about optional packages that are not installed.
    warnings.simplefilter("ignore")
    import colour

Array = NDArray[np.floating[Any]]

WAVELENGTHS: Array = np.arange(380.0, 781.0, 5.0)
_SHAPE = colour.SpectralShape(380, 780, 5)
DATA = Path(__file__).resolve().parent.parent / "data"

# IEC 61966-2-1: linear sRGB to XYZ (D65), with the exact white of the integration below put in by
# the caller where it matters.
SRGB_TO_XYZ: Array = np.array(
    [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
)
# Display P3 (SMPTE EG 432-1 primaries, D65 white): linear to XYZ.
P3_TO_XYZ: Array = np.array(
    [[0.48657, 0.26567, 0.19822], [0.22897, 0.69174, 0.07929], [0.0, 0.04511, 1.04394]]
)


@cache
def light(name: str) -> Array:
    """Relative power of a light, (81,), largest value 1.

    Parameters
    ----------
    name
        A CIE illuminant as colour-science names it ("D65", "A", "FL2", "LED-B3"), or
        "daylight 5600" for CIE daylight of that correlated colour temperature in kelvin.
    """
    if name.startswith("daylight"):
        xy = colour.temperature.CCT_to_xy_CIE_D(float(name.split()[1]))
        sd = colour.sd_CIE_illuminant_D_series(xy)
    else:
        sd = colour.SDS_ILLUMINANTS[name].copy()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        values = sd.align(_SHAPE).values
    values = np.clip(np.asarray(values, dtype=float), 0.0, None)
    return values / values.max()


@cache
def observer() -> Array:
    """CIE 1931 2 degree colour-matching functions, (81, 3)."""
    cmfs = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(_SHAPE)
    return np.asarray(cmfs.values, dtype=float)


@cache
def _weights(name: str) -> Array:
    weights = light(name)[:, None] * observer()
    return weights / weights[:, 1].sum()


def xyz_of(reflectance: Array, light_name: str = "D65") -> Array:
    """XYZ (..., 3) of reflectances (..., 81) under a light; the perfect diffuser has Y = 1."""
    return np.asarray(reflectance) @ _weights(light_name)


def lab_of_xyz(xyz: Array, light_name: str = "D65") -> Array:
    """CIELAB of XYZ (..., 3) with the light's perfect diffuser as white."""
    ratio = np.asarray(xyz) / _weights(light_name).sum(axis=0)
    f = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio / (3 * (6 / 29) ** 2) + 4 / 29)
    fx, fy, fz = f[..., 0], f[..., 1], f[..., 2]
    return np.stack([116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)], axis=-1)


def lab_of(reflectance: Array, light_name: str = "D65") -> Array:
    """CIELAB (..., 3) of reflectances (..., 81)."""
    return lab_of_xyz(xyz_of(reflectance, light_name), light_name)


def lab_of_linear(rgb: Array, to_xyz: Array = SRGB_TO_XYZ) -> Array:
    """CIELAB (D65) of linear RGB (..., 3) in primaries given by their matrix to XYZ."""
    white = to_xyz.sum(axis=1)
    return lab_of_xyz(np.asarray(rgb) @ to_xyz.T / white * _weights("D65").sum(axis=0))


def delta_e(lab1: Array, lab2: Array) -> Array:
    """CIEDE2000 colour difference (...,) of CIELAB (..., 3), as colour-science computes it."""
    return np.asarray(colour.delta_E(lab1, lab2, method="CIE 2000"), dtype=float)


def linear_srgb_of(reflectance: Array) -> Array:
    """Linear sRGB (..., 3) of reflectances under D65; the perfect diffuser is exactly [1, 1, 1]."""
    ratio = xyz_of(reflectance) / _weights("D65").sum(axis=0)
    return np.asarray((ratio * SRGB_TO_XYZ.sum(axis=1)) @ np.linalg.inv(SRGB_TO_XYZ).T)


@cache
def cameras() -> dict[str, Array]:
    """Measured cameras: name to relative spectral sensitivities (81, 3) in order r, g, b."""
    rows: dict[str, list[list[float]]] = {}
    with (DATA / "camera_sensitivities.csv").open(newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            rows.setdefault(row["camera"], []).append([float(row[c]) for c in "rgb"])
    return {name: np.array(values) for name, values in rows.items()}


@cache
def cie224_colours() -> Array:
    """The 99 test colours of CIE 224:2017, (99, 81)."""
    from colour.quality.cfi2017 import load_TCS_CIE2017

    return np.asarray(load_TCS_CIE2017(_SHAPE).values.T, dtype=float)


@cache
def chart_colours() -> Array:
    """The 24 chart patches of ISO 17321-1 in their order, (24, 81)."""
    chart = colour.SDS_COLOURCHECKERS["ISO 17321-1"]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return np.array([sd.copy().align(_SHAPE).values for sd in chart.values()])


@cache
def training_colours() -> Array:
    """The 190 training reflectances of RAW to ACES, (190, 81)."""
    from colour.characterisation import read_training_data_rawtoaces_v1

    return np.asarray(read_training_data_rawtoaces_v1().values.T, dtype=float)


def mixture(parts: list[tuple[Array, float]], depth: float = 1.0) -> Array:
    """Reflectance (81,) of dyes mixed on one fibre, by adding K/S (Kubelka and Munk, 1931).

    Parameters
    ----------
    parts
        Pairs of reflectance (81,) and weight.
    depth
        Factor on the summed K/S: below 1 for a paler shade, above 1 for a deeper one.
    """
    ks = np.zeros(WAVELENGTHS.size)
    for reflectance, weight in parts:
        r = np.clip(reflectance, 0.003, 0.995)
        ks = ks + weight * (1 - r) ** 2 / (2 * r)
    ks = depth * ks
    return np.asarray(1 + ks - np.sqrt(ks**2 + 2 * ks))
