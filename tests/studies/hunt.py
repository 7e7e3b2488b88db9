"""A hunt for silent errors: photographs within the stated range whose numbers are wrong unsaid.

Run from the checkout's top::

    python -m tests.studies.hunt                  # 40 photos, one process, the worst samples
    python -m tests.studies.hunt --photos 20 --from 100 --one-grey

Scenes mix all troubles of the stated range (``tests/render``: published spectra, measured cameras
that no constant was fitted to). Each sample's error is told as a multiple of what was stated
(z = error / u95), beside the z of a perfect reader of greys: where both are high it is the camera's
own colours, of which one in twenty may lie outside; where only the reader's is high, the reader
erred. Nothing within the range may be refused, either.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.errors import DyeshadeError, Notice
from dyeshade.measure.photo_to_shade import measure_photo
from dyeshade.measure.regions import HandGrey, HandSample, Regions
from dyeshade.measure.result import Measurement
from dyeshade.photo.read import read_photo
from tests.render import Rendered, Scene, perfect_reader_lab, random_scene, render
from tests.studies.accuracy import EIGHT_KINDS, JUDGING, sheet_of

FORMATS = (
    {"file_format": "jpeg", "primaries": "Display P3"},
    {"file_format": "png16", "primaries": "Display P3"},
    {"file_format": "tiff16", "primaries": "sRGB"},
    {"file_format": "jpeg", "primaries": "sRGB", "profile": False},
)
GREY = 0.2
_SAYS_NOTHING = {"light_assumed", "no_profile"}
"""Notices that say nothing about how wrong a number may be."""


@dataclass(frozen=True)
class Found:
    """One sample: what it errs by, and what was said."""

    photo: int
    way: str
    name: str
    kind: str
    error: float
    u95: float
    limit: float
    codes: tuple[str, ...]
    off: tuple[float, ...]
    lab: tuple[float, ...]

    @property
    def z(self) -> float:
        return self.error / self.u95

    @property
    def silent(self) -> bool:
        return self.z > 1 and not self.codes


def scene_of(number: int) -> Scene:
    """A random scene within the stated range; file kinds and orientations take turns."""
    rng = np.random.default_rng([4711, number])
    kind = EIGHT_KINDS[int(rng.integers(len(EIGHT_KINDS)))]
    changes: dict[str, Any] = dict(FORMATS[number % len(FORMATS)])
    changes |= {"orientation": (1, 6, 3, 8)[number // 4 % 4]}
    look = str(rng.choice(["mild", "typical"]))
    return random_scene(
        rng,
        sheet_of(*kind),
        "daylight",
        look=look,
        camera=JUDGING[number % len(JUDGING)],
        **changes,
    )


def told(notices: tuple[Notice, ...]) -> tuple[str, ...]:
    return tuple(notice.code for notice in notices if notice.code not in _SAYS_NOTHING)


def one_grey(rendered: Rendered) -> Regions:
    """What a person would draw who has one grey card only: the patch near `GREY` lying open."""
    truth, layout = rendered.truth, rendered.scene.sheet.layout
    pieces = truth["cells"]
    here = np.mean([cell["outline_px"].mean(axis=0) for cell in pieces.values()], axis=0)
    open_ = [p for p in layout["patches"] if truth["patches"][p["name"]]["hidden"] < 0.02]
    near = min(abs(p["reflectance"] - GREY) for p in open_)
    cards = [p for p in open_ if abs(p["reflectance"] - GREY) < near + 0.01]

    def distance(patch: dict[str, str]) -> float:
        corners = truth["patches"][patch["name"]]["corners_px"]
        return float(np.linalg.norm(corners.mean(axis=0) - here))

    card = truth["patches"][min(cards, key=distance)["name"]]
    samples = []
    for name, cell in pieces.items():
        outline = np.asarray(cell["outline_px"], float)
        middle = outline.mean(axis=0)
        samples.append(HandSample(name, middle + 0.55 * (outline - middle)))
    grey = HandGrey(np.asarray(card["corners_px"], float), float(card["reflectance"]))
    return Regions((grey,), tuple(samples))


def compared(number: int, way: str, rendered: Rendered, seen: Measurement) -> Iterator[Found]:
    for sample in seen.samples:
        truth = rendered.truth["cells"].get(sample.name)
        codes = told(seen.notices) + told(sample.notices)
        lab, u95 = sample.shade.lab, sample.shade.u95
        if truth is None:
            yield Found(number, way, sample.name, "nothing there", 99.0, u95, 0.0, codes, (), ())
            continue
        limit = perfect_reader_lab(rendered.scene, truth["spectrum"])
        yield Found(
            number,
            way,
            sample.name,
            truth["kind"],
            float(ciede2000(lab, truth["lab"])),
            u95,
            float(ciede2000(limit, truth["lab"])),
            codes,
            tuple(np.round(lab - truth["lab"], 1).tolist()),
            tuple(np.round(truth["lab"], 1).tolist()),
        )


def hunt(number: int, by_one_grey: bool) -> list[Found] | str:
    """Everything that one photo yields, or the code by which it was refused."""
    rendered = render(scene_of(number))
    with tempfile.TemporaryDirectory() as folder:
        photo = read_photo(rendered.save(Path(folder) / "photo"))
    found: list[Found] = []
    try:
        found += compared(number, "sheet", rendered, measure_photo(photo, light="window"))
        if by_one_grey:
            seen = measure_photo(photo, one_grey(rendered), light="window")
            found += compared(number, "one grey", rendered, seen)
    except DyeshadeError as error:
        return f"{error.code} {error.facts}"
    return found


def described(scene: Scene) -> str:
    """What troubles a photo has, in one line."""
    return (
        f"{scene.camera}, {scene.look}, {scene.light}, factor {scene.light_factor:.2f}, "
        f"shadow {scene.shadow_depth:.2f}, white {scene.white_error[0]:.2f} "
        f"{scene.white_error[1]:.2f}, exposure {scene.exposure:.2f}, flare {scene.flare:.3f}, "
        f"tilt {scene.tilt_deg:.0f}, curl {scene.curl_mm:.0f}, {scene.file_format} "
        f"{scene.primaries}, {scene.curve}"
    )


def main() -> None:
    """Hunt, and print the worst."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--photos", type=int, default=40)
    parser.add_argument("--from", type=int, default=0, dest="first")
    parser.add_argument("--worst", type=int, default=15)
    parser.add_argument("--one-grey", action="store_true", help="read by one drawn grey as well")
    asked = parser.parse_args()
    found: list[Found] = []
    for number in range(asked.first, asked.first + asked.photos):
        result = hunt(number, asked.one_grey)
        if isinstance(result, str):
            print(f"REFUSED {number}: {result}; {described(scene_of(number))}", flush=True)
            continue
        found += result
        worst = max((one.z for one in result), default=0.0)
        print(f"{number}: {len(result)} samples, worst z {worst:.2f}", flush=True)
    for way in dict.fromkeys(one.way for one in found):
        mine = [one for one in found if one.way == way]
        z = np.array([one.z for one in mine])
        silent = sum(one.silent for one in mine)
        print(f"{way}: {len(mine)} samples, {np.mean(z <= 1):.1%} held, {silent} silently outside")
        for one in sorted(mine, key=lambda one: -one.z)[: asked.worst]:
            print(
                f"  z {one.z:.2f} (perfect reader {one.limit / one.u95:.2f}) photo {one.photo} "
                f"{one.name} {one.kind}: error {one.error:.1f}, u95 {one.u95:.1f}, off {one.off}, "
                f"true {one.lab}, said {', '.join(one.codes) or 'nothing'}"
            )
            print(f"      {described(scene_of(one.photo))}")


if __name__ == "__main__":
    main()
