"""A photo corrected by the sheet's own colours, whose values were learnt once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import Notice
from dyeshade.measure.calibrated_spread import with_spread
from dyeshade.measure.calibrations import SheetCalibration
from dyeshade.measure.grey_fit import GreyFit, GreySignals
from dyeshade.measure.learn_colours import LEAST_COLOURS, learn_colours
from dyeshade.measure.own_colours import OwnColours
from dyeshade.measure.signals import sample_boxes
from dyeshade.measure.typical_camera import camera_base, camera_light
from dyeshade.photo.photo import Photo
from dyeshade.sheet.place import SheetPlace

Array = NDArray[np.float64]

PRINT_DEPARTS = 0.42
"""How far a calibrated print may still depart, as a share of one that was never calibrated: what
greys learnt from a chart in a JPEG are off by (``tests/studies/calibration.py --fitting`` prints
it)."""

MOST_DISAGREEING = 6.0
"""CIEDE2000 by which the sheet's colours, each left out in turn, may be off on average before the
print counts as faded or swapped: twice what looks as strong as makers' leave
(``tests/studies/calibration.py`` prints both)."""

MOST_GREYS_OFF = 0.02
"""Root mean square, as a share of their light, by which levels of grey may be off after the fit.
Of prints as they were calibrated, in the photos of ``tests/studies/calibration_signals.py``, none
was off by more than half of it. Another print by the same printer mostly is not either."""

_PATCHY = 0.08
_OUTLIER = 3.5


@dataclass(frozen=True, eq=False)
class ColoursSeen:
    """What a photo shows of the sheet's n colour patches.

    Attributes
    ----------
    centre_mm : ndarray, shape (n, 2)
    mean : ndarray, shape (n, 3)
        Linear light in the file's primaries, 0..1.
    usable : ndarray of bool, shape (n,)
    """

    centre_mm: Array
    mean: Array
    usable: NDArray[np.bool_]


def seen_colours(photo: Photo, place: SheetPlace) -> ColoursSeen:
    """Read the sheet's colour patches."""
    seen = sample_boxes(photo, place, place.layout.colours)
    # A channel at its lower end is usual in vivid colours; they tell nothing then.
    usable = (seen.pixels > 0) & (seen.clipped < 0.02) & ~(seen.patchy > _PATCHY)
    mean = np.nan_to_num(seen.mean)
    return ColoursSeen(seen.centre_mm, mean, usable & (mean > 0).all(axis=1))


def with_known_greys(signals: GreySignals, sheet: SheetCalibration, to_xyz: Array) -> GreySignals:
    """The greys with what this print reflects in place of what a plain one does."""
    xyz = sheet.at(signals.reflectance)
    channels = np.linalg.solve(to_xyz, xyz.T).T
    return GreySignals(
        signals.places_mm,
        xyz[:, 1],
        signals.signal,
        signals.spread,
        signals.usable & np.all(channels > 0, axis=1, keepdims=True),
        np.log(np.maximum(channels, 1e-5) / xyz[:, 1:2]),
        PRINT_DEPARTS,
    )


def greys_off(fit: GreyFit, signals: GreySignals) -> float:
    """How far levels of grey are off after the fit: root mean square over levels and channels."""
    usable = signals.usable.all(axis=1)
    off = []
    for level in np.unique(signals.reflectance.round(4)):
        here = usable & (np.abs(signals.reflectance - level) < 1e-3)
        if here.sum() >= 2:
            # Whether it was believed or not: yarn hides one side, a changed print shows on all.
            off.append(np.median(fit.residual[here], axis=0))
    return float(np.sqrt(np.mean(np.square(off)))) if off else 0.0


def colours_by_sheet(
    photo: Photo, place: SheetPlace, fit: GreyFit, sheet: SheetCalibration, light: str
) -> tuple[OwnColours | None, tuple[Notice, ...]]:
    """How this photo shows colour, by the sheet's colour patches in it.

    Parameters
    ----------
    photo, place, fit, sheet
    light : str
        Kind of light, one of `dyeshade.measure.lights.KINDS`.

    Returns
    -------
    OwnColours or None
        None where too few are in sight, or where they are not what they were.
    tuple of Notice
        ``sheet_colours_few`` (usable, needed), ``sheet_colours_changed`` (error),
        ``sheet_colours_used`` (patches).
    """
    encoding = photo.encoding
    seen = seen_colours(photo, place)
    white = np.exp(fit.white - fit.white[1])
    reflectance = fit.reflectance(seen.mean, seen.centre_mm)
    seen_light = camera_light(reflectance, white, encoding.to_xyz, encoding.rendered)
    names = [box.name for box in place.layout.colours]
    used = seen.usable & (seen_light > 0).all(axis=1) & [name in sheet.colours for name in names]
    if used.sum() < LEAST_COLOURS:
        few = Notice("sheet_colours_few", {"usable": int(used.sum()), "needed": LEAST_COLOURS})
        return None, (few,)
    known = np.array([sheet.colours.get(name, np.zeros(3)) for name in names])
    base = camera_base_of(photo)
    return learn_from_sheet(seen_light, known, used, base, encoding.rendered, light)


def camera_base_of(photo: Photo) -> Array:
    """Camera light of this photo to XYZ where nothing else is known, (3, 3)."""
    return camera_base(photo.encoding.to_xyz, photo.encoding.rendered)


def learn_from_sheet(
    light: Array, known: Array, used: NDArray[np.bool_], base: Array, rendered: bool, kind: str
) -> tuple[OwnColours | None, tuple[Notice, ...]]:
    """As `colours_by_sheet`, from camera light (n, 3) and known Lab (n, 3) of the patches.

    `kind` is the kind of light.
    """
    learnt = learn_colours(light[used], known[used], base, rendered)
    far = np.linalg.norm(learnt.left_out, axis=1)
    kept = far < max(_OUTLIER * float(np.median(far)), MOST_DISAGREEING)
    if not kept.all() and kept.sum() >= max(LEAST_COLOURS, 0.7 * used.sum()):
        # A thread or a drop lies on some.
        used = used.copy()
        used[np.nonzero(used)[0][~kept]] = False
        learnt = learn_colours(light[used], known[used], base, rendered)
    if learnt.error > MOST_DISAGREEING:
        return None, (Notice("sheet_colours_changed", {"error": round(learnt.error, 1)}),)
    file = "sheet_rendered" if rendered else "sheet_raw"
    told = Notice("sheet_colours_used", {"patches": int(used.sum())})
    return with_spread(learnt, known[used], file, kind), (told,)
