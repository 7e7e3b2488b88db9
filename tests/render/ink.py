"""From a grey asked for on the page to the spectrum that a printer leaves on the paper.

A halftone of black ink: coverage with dot gain, mixed by Yule and Nielsen's modification of
Murray and Davies' formula, from the spectra of bare paper and of solid ink. A printer is set up so
that a plain print (ink 0.035, paper 0.88, luminance factor linear in decoded sRGB) comes out; a
real print misses it by errors that are smooth in tone (other ink density, other dot gain, other
paper), by a tint of ink and paper, and by a little from patch to patch.

References
----------
Murray (1936), "Monochrome reproduction in photoengraving"; Yule and Nielsen (1951), "The
penetration of light into paper and its effect on halftone reproduction".
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .spectra import WAVELENGTHS, Array, lab_of, xyz_of

PAPER = 0.88
INK = 0.035


def srgb_decode(coded: Array) -> Array:
    """Linear light of coded sRGB 0..1 (IEC 61966-2-1)."""
    coded = np.asarray(coded, dtype=float)
    return np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)


def srgb_encode(linear: Array) -> Array:
    """Coded sRGB of linear light 0..1 (IEC 61966-2-1)."""
    linear = np.clip(linear, 0.0, None)
    return np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)


@dataclass(frozen=True)
class Print:
    """How one print differs from the plain one.

    Attributes
    ----------
    density, gain, skew
        Smooth errors in tone, each as the relative error of reflectance that it causes on average
        over the levels: ink density, dot gain in the middle, dot gain in the shadows.
    paper
        Relative error of the paper's reflectance.
    paper_b, paper_a, ink_b
        CIELAB b* and a* of the bare paper and b* of solid ink, about (negative b*: blue).
    yule_nielsen
        The exponent n, 1 (no light spread in the paper) to 2.
    """

    density: float = 0.0
    gain: float = 0.0
    skew: float = 0.0
    paper: float = 0.0
    paper_b: float = 0.0
    paper_a: float = 0.0
    ink_b: float = 0.0
    yule_nielsen: float = 1.7


def random_print(rng: np.random.Generator, sd: float = 0.02) -> Print:
    """A print whose levels are off by about ``sd`` of their reflectance (one sd)."""
    part = rng.normal(0.0, sd / np.sqrt(3.0), size=3)
    return Print(
        density=float(part[0]),
        gain=float(part[1]),
        skew=float(part[2]),
        paper=float(rng.normal(0.0, min(sd, 0.02) / 2)),
        paper_b=float(rng.uniform(-1.5, 1.2)),
        paper_a=float(rng.uniform(-0.3, 0.3)),
        ink_b=float(rng.uniform(-1.0, 1.0)),
        yule_nielsen=float(rng.uniform(1.4, 1.9)),
    )


def _tint(level: float, a_star: float, b_star: float) -> Array:
    """A flat reflectance (81,) given a slight tint: two smooth bends, solved for a* and b*."""
    bends = np.stack([np.tanh((WAVELENGTHS - 490) / 40), np.cos((WAVELENGTHS - 555) / 60)])
    flat = np.full(WAVELENGTHS.size, level)
    step = 0.02
    jacobian = np.stack([(lab_of(flat * (1 + step * b)) - lab_of(flat))[1:] / step for b in bends])
    amounts = np.linalg.solve(jacobian.T, np.array([a_star, b_star]))
    spectrum = flat * (1 + amounts @ bends)
    return np.asarray(spectrum * level / xyz_of(spectrum)[1])


def _coverage(g: Array, n: float) -> Array:
    """Ink coverage that a plain printer gives to a grey asked for."""
    plain = INK + (PAPER - INK) * srgb_decode(g)
    top, bottom = PAPER ** (1 / n), INK ** (1 / n)
    return np.asarray((top - plain ** (1 / n)) / (top - bottom))


def _printed(a: Array, ink: Array, paper: Array, n: float) -> Array:
    return np.asarray((a[:, None] * ink ** (1 / n) + (1 - a[:, None]) * paper ** (1 / n)) ** n)


def _bend(a: Array, gain: float, skew: float) -> Array:
    """Dot gain: nothing on bare paper and on solid ink."""
    return np.clip(a + gain * 4 * a * (1 - a) + skew * 9.5 * a**3 * (1 - a), 0.0, 1.0)


def printed_spectra(g: Array, how: Print) -> Array:
    """Reflectance spectra (n, 81) of greys asked for, ``g`` (n,) coded 0..1, on one print."""
    g = np.asarray(g, dtype=float)
    n = how.yule_nielsen
    levels = np.linspace(0.0, 0.92, 9)
    nominal = _coverage(levels, n)

    def luminance(density: float, gain: float, skew: float) -> Array:
        ink, paper = np.array([INK * np.exp(density)]), np.array([PAPER])
        return _printed(_bend(nominal, gain, skew), ink, paper, n)[:, 0]

    # Each error is scaled so that its amount means the same: mean relative error over the levels.
    base, step = luminance(0.0, 0.0, 0.0), 0.01
    amounts = []
    for name in ("density", "gain", "skew"):
        change = np.log(luminance(**({"density": 0.0, "gain": 0.0, "skew": 0.0} | {name: step})))
        size = np.sqrt(np.mean((change - np.log(base)) ** 2)) / step
        amounts.append(getattr(how, name) / size)
    density = float(np.clip(amounts[0], -0.7, 0.7))
    ink = _tint(INK * np.exp(density), 0.0, how.ink_b)
    paper = _tint(PAPER * (1 + how.paper), how.paper_a, how.paper_b)
    return _printed(_bend(_coverage(g, n), amounts[1], amounts[2]), ink, paper, n)


def colour_spectrum(rgb: Array, how: Print) -> Array:
    """Reflectance (81,) of a printed colour asked for as coded RGB 0..1.

    Cyan, magenta and yellow inks with smooth absorption bands, each by its own coverage, multiplied
    like filters over the paper: not a press, but as far from plain sRGB as a desktop printer is.
    """
    coverage = 1 - srgb_decode(np.asarray(rgb, dtype=float))
    paper = printed_spectra(np.array([1.0]), how)[0]
    bands = [(640.0, 62.0, 0.94), (540.0, 38.0, 0.90), (430.0, 45.0, 0.93)]
    for share, (peak, width, strength) in zip(coverage, bands, strict=True):
        share = float(np.clip(share + how.gain * 4 * share * (1 - share), 0, 1))
        through = 1 - strength * np.exp(-0.5 * ((WAVELENGTHS - peak) / width) ** 2)
        paper = paper * (1 - share + share * through)
    return np.asarray(np.clip(paper, 0.01, 1.0))
