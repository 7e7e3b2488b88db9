"""The example images' scenes, without rendering them all."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from tests.render import Sheet, stand_in_sheet
from tests.render.example_pieces import COTTON, WOOL, spectrum_near
from tests.render.make_examples import ROOT, example_scenes, refused_scenes
from tests.render.sheet import box_corners
from tests.render.spectra import delta_e, lab_of
from tests.render.stage import make_stage

EXAMPLES: Path = ROOT / "example_images"


@pytest.fixture(scope="module")
def sheets() -> tuple[Sheet, Sheet]:
    return stand_in_sheet("six", 2), stand_in_sheet("one", 2)


@pytest.mark.parametrize("lab", [*WOOL.values(), *COTTON.values()])
def test_a_spectrum_is_found_for_each_shade_of_the_series(lab: tuple[float, float, float]) -> None:
    assert float(delta_e(lab_of(spectrum_near(*lab)), np.array(lab))) < 4


def test_every_sheet_but_the_refused_is_whole_in_its_photo(sheets: tuple[Sheet, Sheet]) -> None:
    for scene, words in example_scenes(*sheets).values():
        view = make_stage(scene).view
        marks = np.vstack([box_corners(m) for m in scene.sheet.layout["marks"]])
        pixels = view.project(marks)
        assert np.all((pixels > 0) & (pixels < view.size_px))
        assert {p.cell for p in scene.pieces} == set(words)


def test_the_truth_beside_the_images_is_complete() -> None:
    truth = json.loads((EXAMPLES / "truth.json").read_text(encoding="utf-8"))
    assert set(truth["photos"]) == {p.name for p in EXAMPLES.glob("*.jpg")}
    for photo in truth["photos"].values():
        for sample in photo["samples"].values():
            lightness, a, b = sample["lab"]
            assert 0 < lightness < 100
            assert np.hypot(a, b) < 120


def test_images_are_below_a_megabyte_and_a_half() -> None:
    images = list(EXAMPLES.rglob("*.jpg"))
    assert len(images) >= 9
    assert all(image.stat().st_size < 1.5e6 for image in images)


def test_two_photos_are_refused_for_troubles_beyond_the_stated(
    sheets: tuple[Sheet, Sheet],
) -> None:
    refused = refused_scenes(example_scenes(*sheets))
    assert set(refused) == {p.name for p in (EXAMPLES / "refused").glob("*.jpg")}
    cut_off = refused["sheet_cut_off.jpg"]
    view = make_stage(cut_off).view
    whole = 0
    for mark in cut_off.sheet.layout["marks"]:
        pixels = view.project(box_corners(mark))
        whole += bool(np.all((pixels > 0) & (pixels < view.size_px)))
    assert 0 < whole < 4
    assert refused["too_blurred.jpg"].blur_px > 10


def test_all_photos_are_of_one_camera_and_of_two_printed_sheets(
    sheets: tuple[Sheet, Sheet],
) -> None:
    scenes = [scene for scene, _ in example_scenes(*sheets).values()]
    assert len({(s.camera, s.camera_seed, s.look, s.curve) for s in scenes}) == 1
    assert len({(s.printed, s.print_seed) for s in scenes}) == 2
