"""One camera in one kind of light: a chart photographed once, cloths another day, all ways of
reading them. A part of ``uncertainty``."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.measure.calibrate_sheet import SCALE_SPREAD, _greys_of_print
from dyeshade.measure.calibrated_spread import left_out_size, with_spread
from dyeshade.measure.calibrations import SheetCalibration
from dyeshade.measure.chart_light import ChartSignals, solve_chart
from dyeshade.measure.grey_fit import GreyFit, GreySignals
from dyeshade.measure.learn_colours import LEAST_COLOURS, Learnt, learn_colours
from dyeshade.measure.light_field import field_for_page
from dyeshade.measure.own_colours import OwnColours
from dyeshade.measure.propagate import PAPER_SPREAD, PAPER_TINT_SPREAD, SampleMean, shade_of
from dyeshade.measure.sheet_colours import MOST_DISAGREEING, with_known_greys
from dyeshade.measure.typical_camera import camera_base
from dyeshade.measure.typical_colours import typical_colours
from dyeshade.measure.use_calibrations import KNOWN_TINT_SPREAD
from tests.render.pieces import random_spectrum
from tests.render.spectra import chart_colours, cie224_colours, lab_of, lab_of_linear
from tests.studies.calibration_signals import (
    COLOUR_PLACES,
    GREY_PLACES,
    LAYOUT,
    PLAIN,
    Array,
    light_of,
    places_in_cell,
    solve,
)
from tests.studies.uncertainty_signals import (
    TroubledShot,
    random_cloths,
    troubled_print,
    troubled_scene,
    troubled_shot,
)

FORMATS = ("JPEG", "JPEG, camera calibrated", "JPEG, colour sheet", "raw", "raw, camera calibrated")
WITHOUT_LOOK = "JPEG without a look"
NAMED = {
    "daylight": "window",
    "led": "led",
    "fluorescent": "fluorescent",
    "incandescent": "incandescent",
}
_TEXTURE = np.array([0.004, 0.0008])


@dataclass(frozen=True, eq=False)
class Reading:
    """One cloth, read one way.

    Attributes
    ----------
    camera, kind, look : str
    way : str
        One of `FORMATS`.
    lab, true : ndarray, shape (3,)
    given : ndarray, shape (3, 3)
        Covariance but for that of the camera's colours.
    size : ndarray, shape (3,)
        What leaving out said of learnt colours (`left_out_size`); ones without.
    error, limit, hand, u95 : float
    """

    camera: str
    kind: str
    look: str
    way: str
    lab: Array
    true: Array
    given: Array
    size: Array
    error: float
    limit: float
    hand: float
    u95: float


def signals_of(photo: TroubledShot, greys: Array) -> GreySignals:
    """What a photo shows of the sheet's greys and paper."""
    signal = photo.see(greys, GREY_PLACES, 1, 0.5)
    usable = (signal < 0.985) & (signal > 0)
    return GreySignals(GREY_PLACES, PLAIN, signal, (0.0003 + 0.003 * signal) / 2, usable)


@dataclass(frozen=True, eq=False)
class _Calibrated:
    own: OwnColours
    size: Array
    sheet: SheetCalibration
    colours: Array


def _calibrated(photo: TroubledShot, kind: str, seed: int) -> _Calibrated:
    """What a chart on the sheet teaches: this camera, this print and its colours."""
    printed = troubled_print(kind, seed, 1)
    chart = chart_colours()
    places = places_in_cell(24, seed)
    signal = photo.see(chart, places, 2, 0.5)
    usable = (signal < 0.985).all(axis=1) & (signal > 0).all(axis=1)
    seen = ChartSignals(places, lab_of(chart), signal, 3e-4 + 1.5e-3 * signal, usable)
    greys = signals_of(photo, printed.greys)
    field = field_for_page(LAYOUT.paper_mm)
    solved = solve_chart(seen, field, photo.to_xyz, not photo.raw, greys)
    base = camera_base(photo.to_xyz, not photo.raw)
    learnt = learn_colours(solved.light[usable], seen.lab[usable], base, not photo.raw)
    file = "camera_raw" if photo.raw else "camera_rendered"
    own = with_spread(learnt, seen.lab[usable], file, NAMED[kind])
    levels, of_print = _greys_of_print(solved.fit, greys, photo.to_xyz)
    sheet = SheetCalibration("S", "A4", "one", "chart", levels, of_print, SCALE_SPREAD)
    shown = photo.see(printed.colours, COLOUR_PLACES, 3, 0.5)
    size = left_out_size(learnt.left_out, seen.lab[usable])
    return _Calibrated(own, size, sheet, own.lab(light_of(photo, solved.fit, shown, COLOUR_PLACES)))


def _by_sheet(
    photo: TroubledShot, fit: GreyFit, colours: Array, known: Array, kind: str
) -> tuple[OwnColours | None, Array | None]:
    light = light_of(photo, fit, photo.see(colours, COLOUR_PLACES, 5, 0.5), COLOUR_PLACES)
    fine = (light > 0).all(axis=1)
    if fine.sum() < LEAST_COLOURS:
        return None, None
    base = camera_base(photo.to_xyz, not photo.raw)
    learnt: Learnt = learn_colours(light[fine], known[fine], base, not photo.raw)
    if learnt.error > MOST_DISAGREEING:
        return None, None
    file = "sheet_raw" if photo.raw else "sheet_rendered"
    own = with_spread(learnt, known[fine], file, NAMED[kind])
    return own, left_out_size(learnt.left_out, known[fine])


def cloth_spectra(rng: np.random.Generator, count: int) -> Array:
    """Spectra (count, 81): a third each neutral, middling and vivid, of test colours and dyes."""
    pool = np.concatenate([cie224_colours(), [random_spectrum(rng) for _ in range(200)]])
    sorts = sort_of(lab_of(pool))
    chosen = [rng.choice(np.flatnonzero(sorts == sort), count // 3) for sort in range(3)]
    return np.asarray(pool[np.concatenate(chosen)])


def sort_of(lab: Array) -> Array:
    """0 for neutral, 1 for middling, 2 for vivid, by C*ab below 12, 12 to 35, above; (...,)."""
    return np.digitize(np.hypot(lab[..., 1], lab[..., 2]), [12.0, 35.0])


def case(
    camera: str,
    kind: str,
    light: tuple[str, str],
    look: str,
    seed: int,
    count: int = 12,
    sheet_for_raw: bool = False,
) -> list[Reading]:
    """One camera: calibrated on its first photo, cloths on its second.

    Parameters
    ----------
    camera, kind, look : str
    light : tuple of str
        Of the two photos.
    seed : int
    count : int
        How many cloths.
    sheet_for_raw : bool
        Whether raw light is read by the sheet's colours as well: the program does so under lamps,
        where the camera is not calibrated.
    """
    scenes = [troubled_scene(camera, one, look, k + 1, seed) for k, one in enumerate(light)]
    printed = troubled_print(kind, seed, 2)
    rng = np.random.default_rng([seed, 97])
    spectra = cloth_spectra(rng, count)
    cloths = random_cloths(rng, spectra)
    where = places_in_cell(count, seed + 7)
    true = lab_of(spectra)
    told = (camera, kind, look)
    hand = np.zeros(count)
    out: list[Reading] = []
    for raw in (False, True):
        learnt = _calibrated(troubled_shot(scenes[0], raw), kind, seed)
        photo = troubled_shot(scenes[1], raw)
        shown = photo.see_cloths(cloths, where)
        plain = signals_of(photo, printed.greys)
        fit = solve(photo, plain)
        if not raw:
            hand = ciede2000(_by_hand(plain, shown), true)
        limit = ciede2000(photo.perfect(spectra), true)
        name = "raw" if raw else "JPEG"
        ways = [
            _Way(name, photo, fit),
            _Way(f"{name}, camera calibrated", photo, fit, learnt.own, learnt.size),
        ]
        if not raw or sheet_for_raw:
            known = with_known_greys(plain, learnt.sheet, photo.to_xyz)
            by_print = solve(photo, known)
            own, size = _by_sheet(photo, by_print, printed.colours, learnt.colours, kind)
            ways.append(_Way(f"{name}, colour sheet", photo, by_print, own, size, known=True))
        seen = _Seen(shown, where, true, limit, hand)
        out += [one for way in ways for one in _read(way, seen, told)]
    bare = troubled_shot(scenes[1].with_(look="none"), raw=False)
    shown = bare.see_cloths(cloths, where)
    fit = solve(bare, signals_of(bare, printed.greys))
    seen = _Seen(shown, where, true, ciede2000(bare.perfect(spectra), true), hand)
    return out + _read(_Way(WITHOUT_LOOK, bare, fit), seen, (camera, kind, "none"))


def case_by_greys(
    camera: str, kind: str, light: tuple[str, str], look: str, seed: int, raw: bool, count: int = 12
) -> list[Reading]:
    """Of a `case`, cloths read by the greys alone."""
    photo = troubled_shot(troubled_scene(camera, light[1], look, 2, seed), raw)
    spectra = cloth_spectra(np.random.default_rng([seed, 97]), count)
    cloths = random_cloths(np.random.default_rng([seed, 99]), spectra)
    where = places_in_cell(count, seed + 7)
    fit = solve(photo, signals_of(photo, troubled_print(kind, seed, 2).greys))
    true, none = lab_of(spectra), np.zeros(count)
    seen = _Seen(photo.see_cloths(cloths, where), where, true, none, none)
    return _read(_Way("raw" if raw else "JPEG", photo, fit), seen, (camera, kind, look))


@dataclass(frozen=True, eq=False)
class _Way:
    name: str
    photo: TroubledShot
    fit: GreyFit
    own: OwnColours | None = None
    size: Array | None = None
    known: bool = False


@dataclass(frozen=True, eq=False)
class _Seen:
    signal: Array
    where: Array
    true: Array
    limit: Array
    hand: Array


def _read(way: _Way, seen: _Seen, told: tuple[str, str, str]) -> list[Reading]:
    """Cloths by one way of reading; those burnt or black are left out, as the program tells."""
    light, rendered = NAMED[told[1]], not way.photo.raw
    paper = SCALE_SPREAD if way.known else PAPER_SPREAD
    tint = KNOWN_TINT_SPREAD if way.known else PAPER_TINT_SPREAD
    colours = way.own or typical_colours(way.photo.to_xyz, rendered, light)
    alike = _TEXTURE[0] ** 2 + _TEXTURE[1] ** 2 * np.eye(3)
    out = []
    for k, signal in enumerate(seen.signal):
        if signal.max() > 0.985 or signal.min() < 1e-5:
            continue
        reflectance = way.fit.reflectance(signal, seen.where[k])
        about = np.maximum(reflectance, 0.003)
        mean = SampleMean(reflectance, np.outer(about, about) * alike, seen.where[k])
        to_xyz = way.photo.to_xyz
        shade = shade_of(
            way.fit, mean, to_xyz, light, rendered, paper, own=colours, tint_spread=tint
        )
        error = float(ciede2000(shade.lab, seen.true[k]))
        out.append(
            Reading(
                *told,
                way.name,
                shade.lab,
                seen.true[k],
                shade.covariance - colours.covariance(shade.lab),
                np.ones(3) if way.size is None else way.size,
                error,
                float(seen.limit[k]),
                float(seen.hand[k]),
                shade.u95,
            )
        )
    return out


def _by_hand(greys: GreySignals, shown: Array) -> Array:
    """Lab by one grey of about 0.2 in the middle, the photo decoded as sRGB."""
    near = np.abs(greys.reflectance - 0.2)
    chosen = np.flatnonzero(near < near.min() + 0.01)
    middle = np.array(LAYOUT.paper_mm) / 2
    one = chosen[np.argmin(np.linalg.norm(greys.places_mm[chosen] - middle, axis=1))]
    return lab_of_linear(shown * greys.reflectance[one] / greys.signal[one])
