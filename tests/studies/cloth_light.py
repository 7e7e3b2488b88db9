"""How far cloth's light is off beyond what greys and camera explain: ``propagate.CLOTH_SPREAD``.

Run from the checkout's top::

    python -m tests.studies.cloth_light            # the constant: 5 minutes on one core
    python -m tests.studies.cloth_light --causes   # and whence it comes: as long again for each
    python -m tests.studies.cloth_light --pairs    # what differs between two photos of a piece

Photos drawn pixel by pixel (``tests/render``) by the fitting cameras, raw and as a camera without a
look writes them, with all troubles of ``accuracy``. Luminance is set beside that of a perfect
reader of greys with the same camera, so that the camera's own colours are out of it, and the
constant is the spread which, added to what is stated of light, print and noise, holds 95 in 100.

Cloth comes out 3 to 4 % too light. The truth is the cloth alone, without paper or card; with one
thing away at a time (``--causes``, November 2026, means of log luminance) it is seen why. Holes and
gaps narrower than a pixel let what lies beneath shine through, which no pixel can be told from:
without them 0.023 instead of 0.036. Sharpening widens the contrast of strands, and the mean of
light with it: without it 0.037 instead of 0.042 in what a camera writes. A skein's face stands
nearer to the window than the sheet. Without these three 0.007 is left of 0.030 in raw light, 0.018
of 0.042 in what a camera writes. None is seen in a photo from above, so it is stated rather than
put right.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

import numpy as np

from dyeshade.cie.lab import lab_to_xyz
from dyeshade.errors import DyeshadeError
from dyeshade.measure.camera_colours import camera_covariance
from dyeshade.measure.photo_to_shade import measure_photo
from dyeshade.measure.propagate import cloth_spread
from dyeshade.photo.read import read_photo
from tests.render import Scene, perfect_reader_lab, random_scene, render
from tests.studies.accuracy import EIGHT_KINDS, sheet_of
from tests.studies.camera_constants import COVERED, FITTING
from tests.studies.uncertainty_signals import print_in_light

FIRST = 7000
PHOTOS = 64
_NORMAL_95 = 1.96


def _pieces(scene: Scene, **changes: object) -> Scene:
    return scene.with_(pieces=tuple(replace(one, **changes) for one in scene.pieces))  # type: ignore[arg-type]


CAUSES: dict[str, Callable[[Scene], Scene]] = {
    "as it is": lambda scene: scene,
    "nothing shines through": lambda scene: _pieces(scene, gaps=0.0),
    "lying on the sheet": lambda scene: _pieces(scene, height_mm=0.0),
    "not sharpened": lambda scene: scene.with_(sharpen=0.0),
    "these three": lambda scene: _pieces(scene, gaps=0.0, height_mm=0.0).with_(sharpen=0.0),
    "light nearly even": lambda scene: scene.with_(light_factor=1.05, shadow_depth=0.0),
    "hardly any veil": lambda scene: scene.with_(flare=0.0005),
}


@dataclass(frozen=True)
class Piece:
    """One piece.

    Attributes
    ----------
    kind : str
    lighter : float
        Log luminance over the truth.
    stated, of_photo : float
        Its stated variance but for cloth; of it, what differs from photo to photo.
    luminance : float
        Of the truth, 1 for white.
    """

    kind: str
    lighter: float
    stated: float
    of_photo: float
    luminance: float


def scene_of(number: int) -> Scene:
    """Photo `number`: even ones raw, odd ones by a camera without a look."""
    rng = np.random.default_rng([20250314, number])
    kinds = [kind for kind in EIGHT_KINDS if kind[1] == ("one" if number % 5 == 4 else "six")]
    sheet = sheet_of(*kinds[rng.integers(len(kinds))])
    camera = FITTING[number // 2 % len(FITTING)]
    of_print = np.random.default_rng([20250314, number, 95])
    printed = print_in_light("daylight", of_print, of_print)
    scene = random_scene(rng, sheet, "daylight", look="none", camera=camera, printed=printed)
    return scene.with_(file_format="dng") if number % 2 == 0 else scene


def again(number: int) -> Scene:
    """The same pieces on the same sheet another day: light, angle, exposure are others."""
    first = scene_of(number)
    rng = np.random.default_rng([20250314, number, 2])
    same = {
        key: getattr(first, key)
        for key in ("camera", "pieces", "printed", "file_format", "curve", "curve_strength")
    }
    same |= {"print_seed": first.seed, "camera_seed": first.seed}
    # As steep as the first at most: pieces that stand high would be out of their cells.
    same["tilt_deg"] = min(first.tilt_deg, float(rng.uniform(0, 20)))
    return random_scene(rng, first.sheet, "daylight", look="none", **same)


def pieces_of(number: int, cause: str) -> list[Piece]:
    """What one photo tells; nothing where it is refused."""
    return list(_read(CAUSES[cause](scene_of(number))).values())


def _pair(number: int) -> list[tuple[Piece, Piece]]:
    one, other = (_read(scene) for scene in (scene_of(number), again(number)))
    return [(one[cell], other[cell]) for cell in one.keys() & other.keys()]


def _read(scene: Scene) -> dict[str, Piece]:
    rendered = render(scene)
    with tempfile.TemporaryDirectory() as folder:
        photo = read_photo(rendered.save(Path(folder) / "photo"))
    try:
        measured = measure_photo(photo)
    except DyeshadeError:
        return {}
    found = {}
    for sample in measured.samples:
        truth = rendered.truth["cells"].get(sample.name)
        if truth is None:
            continue
        lab = sample.shade.lab
        perfect = float(lab_to_xyz(perfect_reader_lab(scene, truth["spectrum"]))[1])
        # From L* to log luminance: CIELAB's cube.
        by_lightness = (3 / (lab[0] + 16)) ** 2
        of_cloth = cloth_spread(lab) ** 2
        of_photo = sample.shade.covariance_photo[0, 0] * by_lightness - of_cloth
        colours = camera_covariance(lab, "window", photo.encoding.rendered)
        common = (sample.shade.covariance_common - colours)[0, 0] * by_lightness
        lighter = float(np.log(lab_to_xyz(lab)[1] / perfect))
        of_photo = max(float(of_photo), 0.0)
        stated = max(of_photo + float(common), 0.0)
        found[sample.name] = Piece(truth["kind"], lighter, stated, of_photo, perfect)
    return found


def pair_spread(pairs: list[tuple[Piece, Piece]]) -> float:
    """Spread in each of two photos of a piece with which 95 in 100 differences are held."""
    needed = [
        ((one.lighter - other.lighter) / _NORMAL_95) ** 2 - one.of_photo - other.of_photo
        for one, other in pairs
    ]
    return float(np.sqrt(np.quantile(np.maximum(needed, 0.0), COVERED) / 2))


def holding(pieces: list[Piece]) -> float:
    """The least spread, over the root of luminance, with which 95 in 100 are held."""
    off, stated, luminance = np.array([[p.lighter, p.stated, p.luminance] for p in pieces]).T
    needed = ((off / _NORMAL_95) ** 2 - stated) * np.maximum(luminance, 0.01)
    return float(np.sqrt(np.quantile(np.maximum(needed, 0.0), COVERED)))


def lines(pieces: list[Piece]) -> list[str]:
    """How much too light, by kind and by luminance."""
    groups = {
        "all": pieces,
        **{kind: [p for p in pieces if p.kind == kind] for kind in ("skein", "swatch", "felt")},
        "below 0.06": [p for p in pieces if p.luminance < 0.06],
        "0.06 to 0.3": [p for p in pieces if 0.06 <= p.luminance < 0.3],
        "above 0.3": [p for p in pieces if p.luminance >= 0.3],
    }
    out = []
    for name, some in groups.items():
        if not some:
            continue
        off, stated, luminance = np.array([[p.lighter, p.stated, p.luminance] for p in some]).T
        clipped = np.clip(off, -0.25, 0.25)
        held = np.abs(off) <= _NORMAL_95 * np.sqrt(stated + holding(pieces) ** 2 / luminance)
        out.append(
            f"  {name}: {len(some)}, median {np.median(off):+.3f}, mean {clipped.mean():+.3f}, "
            f"spread {clipped.std():.3f}, of white {np.mean(clipped * luminance):+.4f}, "
            f"held {100 * held.mean():.0f} %"
        )
    return out


def read(photos: int, workers: int, cause: str) -> list[Piece]:
    """All pieces of some photos."""
    with ProcessPoolExecutor(workers) as pool:
        found = pool.map(partial(pieces_of, cause=cause), range(FIRST, FIRST + photos))
        return [piece for some in found for piece in some]


def print_pairs(photos: int, workers: int) -> None:
    """Print what differs between two photos of a piece, raw and as a camera writes them."""
    for name, first in (("raw", FIRST), ("rendered", FIRST + 1)):
        with ProcessPoolExecutor(workers) as pool:
            found = pool.map(_pair, range(first, FIRST + photos, 2))
            pairs = [pair for some in found for pair in some]
        off = np.median([abs(one.lighter - other.lighter) for one, other in pairs])
        print(f"{name}: {len(pairs)} pairs, apart by {off:.3f} in the middle")
        print(f"  spread in each photo: {pair_spread(pairs):.3f}", flush=True)


def main() -> None:
    """Print the constant, and what it comes of."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--causes", action="store_true", help="with one trouble away at a time")
    parser.add_argument("--pairs", action="store_true", help="two photos of each piece")
    parser.add_argument("--photos", type=int, default=PHOTOS)
    parser.add_argument("--workers", type=int, default=1)
    asked = parser.parse_args()
    if asked.pairs:
        print_pairs(asked.photos, asked.workers)
        return
    for cause in CAUSES if asked.causes else ["as it is"]:
        pieces = read(asked.photos, asked.workers, cause)
        print(cause, *lines(pieces), sep="\n", flush=True)
        if cause == "as it is":
            print(f"CLOTH_SPREAD = {holding(pieces):.3f}", flush=True)


if __name__ == "__main__":
    main()
