"""Whole renders: truth and pixels agree; files hold what the scene says."""

from __future__ import annotations

import io

import cv2
import numpy as np
import pytest
from PIL import Image

from tests.render import (
    Piece,
    Print,
    Scene,
    Sheet,
    by_hand_lab,
    flat_pieces,
    perfect_reader_lab,
    random_scene,
    render,
)
from tests.render.ink import srgb_decode
from tests.render.spectra import cie224_colours, delta_e, lab_of, lab_of_linear, xyz_of
from tests.render.stage import scene_development

COLOURS = cie224_colours()[[5, 20, 41, 60, 77, 93]]


def kind_scene(sheet: Sheet, **changes: object) -> Scene:
    scene = Scene(
        sheet,
        flat_pieces(sheet, COLOURS),
        seed=3,
        patch_noise=0.0,
        light="D65",
        light_factor=1.0,
        flare=0.0,
        noise=0.0,
        sharpen=0.0,
        long_side_px=1000,
        file_format="png16",
    )
    return scene.with_(**changes)


def region_mean(pixels: np.ndarray, corners: np.ndarray) -> np.ndarray:
    mask = np.zeros(pixels.shape[:2], np.uint8)
    middle = corners.mean(axis=0)
    cv2.fillPoly(mask, [np.round(middle + 0.5 * (corners - middle)).astype(np.int32)], 1)
    return pixels[mask > 0].mean(axis=0)


@pytest.mark.parametrize("curve", ["hill", "knee"])
@pytest.mark.parametrize("primaries", ["sRGB", "Display P3"])
def test_flat_pieces_in_a_kind_photo_read_as_the_perfect_reader_says(
    sheet: Sheet, curve: str, primaries: str
) -> None:
    scene = kind_scene(sheet, curve=curve, primaries=primaries, look="mild")
    done = render(scene)
    how = scene_development(scene)
    linear = srgb_decode(done.upright / 65535)
    for cell in done.truth["cells"].values():
        seen = how.curve.inverse(region_mean(linear, cell["outline_px"]))
        lab = lab_of_linear(seen / scene.exposure, how.to_xyz)
        assert float(delta_e(lab, perfect_reader_lab(scene, cell["spectrum"]))) < 1.0
        assert cell["lab"] == pytest.approx(lab_of(cell["spectrum"]), abs=1e-9)


def test_patches_reflect_in_the_photo_what_the_truth_says(sheet: Sheet) -> None:
    scene = kind_scene(sheet, curve="linear", printed=Print(gain=0.04, paper=0.01))
    done = render(scene)
    linear = srgb_decode(done.upright / 65535)[..., 1]
    for patch in done.truth["patches"].values():
        seen = region_mean(linear, patch["corners_px"]) / scene.exposure
        assert seen == pytest.approx(patch["reflectance"], rel=0.03)


def test_the_truth_of_a_wound_skein_is_darker_than_its_fibre(sheet: Sheet) -> None:
    skein = Piece("A", "skein", COLOURS[1], strand_mm=1.6, seed=4)
    truth = render(kind_scene(sheet, pieces=(skein,))).truth["cells"]["A"]
    assert xyz_of(truth["spectrum"])[1] < 0.9 * xyz_of(COLOURS[1])[1]


def test_a_piece_of_two_colours_has_two_shades(sheet: Sheet) -> None:
    dipped = Piece("B", "swatch", COLOURS[0], second=COLOURS[3], share=0.4, strand_mm=0.8, seed=2)
    shades = render(kind_scene(sheet, pieces=(dipped,))).truth["cells"]["B"]["shades"]
    assert len(shades) == 2
    assert 0.25 < shades[1][2] < 0.55


@pytest.mark.parametrize("orientation", [1, 3, 6, 8])
def test_a_jpeg_comes_upright_by_its_tag(sheet: Sheet, orientation: int) -> None:
    from PIL import ImageOps

    done = render(kind_scene(sheet, file_format="jpeg", quality=95, orientation=orientation))
    image = Image.open(io.BytesIO(done.data))
    assert image.getexif()[0x010F] == "Render"
    assert image.getexif()[0x0112] == orientation
    assert image.info["icc_profile"]
    upright = np.asarray(ImageOps.exif_transpose(image), dtype=float)
    assert upright.shape == done.upright.shape
    assert np.abs(upright - done.upright).mean() < 2


@pytest.mark.parametrize(("kind", "head"), [("png16", b"\x89PNG"), ("tiff16", b"II*\0")])
def test_16_bit_files_hold_the_pixels_exactly(sheet: Sheet, kind: str, head: bytes) -> None:
    done = render(kind_scene(sheet, file_format=kind))
    assert done.data[:4] == head
    read = cv2.imdecode(np.frombuffer(done.data, np.uint8), cv2.IMREAD_UNCHANGED)
    assert np.array_equal(read[..., ::-1], done.upright)


@pytest.mark.parametrize("primaries", ["sRGB", "Display P3"])
def test_the_profile_is_understood_by_a_colour_engine(primaries: str) -> None:
    from PIL import ImageCms

    from tests.render.photo_file import icc_profile

    profile = ImageCms.ImageCmsProfile(io.BytesIO(icc_profile(primaries)))
    assert ImageCms.getProfileDescription(profile).strip() == primaries
    patch = Image.new("RGB", (1, 1), (200, 90, 40))
    srgb = ImageCms.createProfile("sRGB")
    shown = ImageCms.profileToProfile(patch, profile, srgb, renderingIntent=1)
    assert shown is not None
    got = np.array(shown.getpixel((0, 0)), dtype=float)
    if primaries == "sRGB":
        assert np.abs(got - [200, 90, 40]).max() <= 1
    else:
        assert got[0] > 208


def test_marks_under_a_leaf_are_known(sheet: Sheet) -> None:
    truth = render(kind_scene(sheet, leaf_over=True, strands_over=3)).truth
    hidden = [m["hidden"] for m in truth["marks"].values()]
    assert max(hidden) > 0.1
    assert min(hidden) == 0.0


def test_the_same_seed_renders_the_same_photo(sheet: Sheet) -> None:
    first, second = (
        render(random_scene(np.random.default_rng(9), sheet, long_side_px=700)).data
        for _ in range(2)
    )
    assert first == second


def test_a_hand_reads_worse_than_a_perfect_reader_on_most(sheet: Sheet) -> None:
    worse = []
    for seed in range(3):
        scene = random_scene(np.random.default_rng(seed), sheet, long_side_px=900)
        done = render(scene)
        for name, cell in done.truth["cells"].items():
            hand = delta_e(by_hand_lab(done, name), cell["lab"])
            perfect = delta_e(perfect_reader_lab(scene, cell["spectrum"]), cell["lab"])
            worse.append(float(hand) > float(perfect))
    assert np.mean(worse) > 0.6


def test_photos_of_one_print_share_its_patch_errors(sheet: Sheet) -> None:
    reflectances = [
        [
            p["reflectance"]
            for p in render(
                kind_scene(sheet, patch_noise=0.02, print_seed=4, seed=seed, long_side_px=400)
            )
            .truth["patches"]
            .values()
        ]
        for seed in (1, 2)
    ]
    assert reflectances[0] == reflectances[1]
    assert len(set(reflectances[0])) == len(reflectances[0])
