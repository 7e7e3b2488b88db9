"""The eight orientations against Pillow's."""

import io

import numpy as np
import pytest
from PIL import Image, ImageOps

from dyeshade.photo.orientation import upright
from dyeshade.photo.read import read_photo
from tests.photo import files


@pytest.mark.parametrize("orientation", range(1, 9))
def test_pillow_turns_it_the_same_way(orientation):
    image = files.blocks(60, 80)
    block = Image.Exif()
    block[274] = orientation
    picture = Image.open(io.BytesIO(files.jpeg(image, exif=block)))
    expected = np.asarray(ImageOps.exif_transpose(picture))
    np.testing.assert_array_equal(upright(np.asarray(picture), orientation), expected)


@pytest.mark.parametrize("orientation", [0, 9, 65535])
def test_a_value_that_means_nothing_turns_nothing(orientation):
    image = files.blocks(60, 80)
    np.testing.assert_array_equal(upright(image, orientation), image)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_jpeg_a_png_and_a_tiff_come_upright(orientation, tmp_path):
    import tifffile

    stored = files.blocks(620, 640)
    expected = upright(stored, orientation)
    exif = files.exif({274: orientation})
    (tmp_path / "a.jpg").write_bytes(files.jpeg(stored, exif=b"Exif\0\0" + exif, quality=100))
    (tmp_path / "a.png").write_bytes(files.png(stored, files.chunk(b"eXIf", exif)))
    (tmp_path / "b.png").write_bytes(
        files.png(stored.astype(np.uint16) * 257, files.chunk(b"eXIf", exif))
    )
    tag = [(274, "H", 1, orientation, True)]
    tifffile.imwrite(tmp_path / "a.tif", stored, photometric="rgb", extratags=tag)
    tifffile.imwrite(
        tmp_path / "b.tif",
        stored.astype(np.uint16) * 257,
        photometric="rgb",
        extratags=tag,
        byteorder=">",
    )
    for name in ("a.png", "a.tif"):
        np.testing.assert_array_equal(read_photo(tmp_path / name).coded, expected)
    for name in ("b.png", "b.tif"):
        np.testing.assert_array_equal(read_photo(tmp_path / name).coded // 257, expected)
    difference = read_photo(tmp_path / "a.jpg").coded.astype(int) - expected
    assert np.abs(difference).max() < 12
