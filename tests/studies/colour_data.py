"""Published spectra and measured cameras, as arrays, for the studies.

Wavelengths are 380 to 780 nm by 5 nm. colour-science carries the CIE data; the cameras are from the
RAW to ACES data repository (Apache-2.0), copied into ``tests/data``.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import colour
import numpy as np
from colour.quality.cfi2017 import load_TCS_CIE2017
from numpy.typing import NDArray

Array = NDArray[np.float64]

DATA = Path(__file__).parents[1] / "data"
SHAPE = colour.SpectralShape(380, 780, 5)

LIGHTS = {
    "daylight": ("D5000", "D5500", "D6500", "D7500"),
    "led": ("LED-B1", "LED-B2", "LED-B3", "LED-B4", "LED-B5", "LED-BH1", "LED-V1", "LED-V2"),
    "fluorescent": (
        *("FL1", "FL2", "FL7", "FL10", "FL11"),
        *("FL3.1", "FL3.4", "FL3.7", "FL3.9", "FL3.12"),
    ),
    "incandescent": ("A",),
}
"""Illuminants that stand for each kind of light (CIE 15:2018)."""


@cache
def sensitivities() -> dict[str, Array]:
    """Relative sensitivities by camera, each shape (81, 3)."""
    rows: dict[str, list[list[float]]] = {}
    with (DATA / "camera_sensitivities.csv").open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            rows.setdefault(row["camera"], []).append([float(row[k]) for k in "rgb"])
    return {name: np.array(values) for name, values in rows.items()}


@cache
def observer() -> Array:
    """Colour matching functions of the 2 degree observer, shape (81, 3)."""
    values = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(SHAPE).values
    return np.asarray(values)


@cache
def illuminant(name: str) -> Array:
    """Relative spectrum of an illuminant; ``D5500`` and the like are CIE daylight, shape (81,)."""
    if name[0] == "D" and len(name) == 5:
        # 1.4388 / 1.4380: today's second radiation constant (CIE 15:2018).
        xy = colour.temperature.CCT_to_xy_CIE_D(float(name[1:]) * 1.4388 / 1.4380)
        return np.asarray(colour.sd_CIE_illuminant_D_series(xy).align(SHAPE).values)
    return np.asarray(colour.SDS_ILLUMINANTS[name].copy().align(SHAPE).values)


@cache
def test_colours() -> Array:
    """The 99 test colours of CIE 224:2017, shape (99, 81)."""
    return np.asarray(load_TCS_CIE2017(SHAPE).values).T


@cache
def chart_spectra() -> Array:
    """The 24 patches of ISO 17321-1, shape (24, 81)."""
    chart = colour.SDS_COLOURCHECKERS["ISO 17321-1"].values()
    return np.array([patch.copy().align(SHAPE).values for patch in chart])


def xyz_of(reflectance: Array) -> Array:
    """XYZ under D65, Y = 1 for the perfect diffuser; (n, 81) to (n, 3)."""
    light = illuminant("D65")
    return (reflectance * light) @ observer() / (light @ observer()[:, 1])


def white_xyz() -> Array:
    """XYZ of the perfect diffuser under D65, shape (3,)."""
    return xyz_of(np.ones((1, 81)))[0]


def lab_of(xyz: Array) -> Array:
    """Lab of XYZ relative to `white_xyz`, by colour-science."""
    return np.asarray(colour.XYZ_to_Lab(xyz, colour.XYZ_to_xy(white_xyz())))


def srgb_matrix() -> Array:
    """Linear sRGB to XYZ, as colour-science carries IEC 61966-2-1, scaled to our white."""
    primaries = colour.RGB_COLOURSPACES["sRGB"]
    matrix = colour.normalised_primary_matrix(primaries.primaries, colour.XYZ_to_xy(white_xyz()))
    return np.asarray(matrix)


def balanced(camera: str, light: str, reflectance: Array) -> Array:
    """A camera's own light, a perfect white being 1 in each channel; (n, 81) to (n, 3)."""
    weighted = illuminant(light)[:, None] * sensitivities()[camera]
    return reflectance @ weighted / weighted.sum(axis=0)


def best_matrix(light_seen: Array, wanted: Array, weight: Array) -> Array:
    """Least squares matrix whose rows sum to one, so that white stays white; shape (3, 3)."""
    rows = []
    for channel in range(3):
        others = [k for k in range(3) if k != channel]
        left = (light_seen[:, others] - light_seen[:, [channel]]) * weight[:, None]
        right = (wanted[:, channel] - light_seen[:, channel]) * weight
        row = np.zeros(3)
        row[others] = np.linalg.lstsq(left, right, rcond=None)[0]
        row[channel] = 1 - row[others].sum()
        rows.append(row)
    return np.array(rows)


@cache
def own_matrix(camera: str, light: str = "D5500") -> Array:
    """This camera's own matrix from balanced light to linear sRGB, fitted in daylight."""
    known = np.concatenate([test_colours(), chart_spectra()])
    xyz = xyz_of(known)
    # The cube root's slope: equal errors in lightness weigh the same for dark and light colours.
    weight = np.maximum(xyz[:, 1], 0.02) ** (-2 / 3)
    wanted = np.linalg.solve(srgb_matrix(), xyz.T).T
    return best_matrix(balanced(camera, light, known), wanted, weight)


@cache
def real_chart_rows() -> dict[int, dict[str, Array]]:
    """Real photographs by number: ``signal`` (24, 3), ``clipped``, ``lab`` (D65) and ``y``."""
    photos: dict[int, list[dict[str, str]]] = {}
    with (DATA / "real_charts.csv").open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            photos.setdefault(int(row["photo"]), []).append(row)
    return {number: _real_chart(rows) for number, rows in photos.items()}


def _real_chart(rows: list[dict[str, str]]) -> dict[str, Array]:
    whites = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]
    d50 = np.array([[float(row[f"{k}_published_D50"]) for k in "Lab"] for row in rows])
    xyz = colour.chromatic_adaptation(
        colour.Lab_to_XYZ(d50, whites["D50"]),
        colour.xy_to_XYZ(whites["D50"]),
        colour.xy_to_XYZ(whites["D65"]),
        method="Von Kries",
        transform="Bradford",
    )
    return {
        "signal": np.array([[float(row[f"{k}_linear"]) for k in "rgb"] for row in rows]),
        "clipped": np.array([float(row["clipped_share"]) for row in rows]),
        "lab": np.asarray(colour.XYZ_to_Lab(xyz, whites["D65"])),
        "y": np.asarray(xyz)[:, 1],
    }
