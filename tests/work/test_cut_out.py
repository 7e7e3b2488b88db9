"""A sample cut out of its photo."""

from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from dyeshade.errors import DyeshadeError
from dyeshade.work.cut_out import LONGEST_PX, CutOut, cut_out, cut_out_here


@pytest.fixture
def photo(tmp_path: Path) -> str:
    """Yellow cloth on black, 300 pixels wide at (500, 200)."""
    pixels = np.zeros((600, 1200, 3), np.uint8)
    pixels[200:350, 500:800] = (200, 180, 60)
    path = tmp_path / "cloth.png"
    Image.fromarray(pixels).save(path)
    return str(path)


CORNERS = ((500.0, 200.0), (800.0, 200.0), (800.0, 350.0), (500.0, 350.0))


def test_the_picture_shows_the_sample_and_a_little_around_it(photo: str) -> None:
    found = cut_out_here(CutOut(photo, CORNERS))
    assert isinstance(found, bytes)
    picture = np.asarray(Image.open(BytesIO(found))).astype(int)
    assert picture.shape[1] == pytest.approx(300 + 2 * (0.12 * 300 + 4), abs=2)
    height, width = picture.shape[:2]
    assert np.allclose(picture[height // 2, width // 2], (200, 180, 60), atol=6)
    assert picture[2, 2].max() < 30


def test_without_an_outline_it_is_the_whole_photo_made_small(photo: str) -> None:
    found = cut_out_here(CutOut(photo))
    assert isinstance(found, bytes)
    assert Image.open(BytesIO(found)).size == (LONGEST_PX, LONGEST_PX // 2)


def test_a_photo_that_is_gone_is_refused_from_the_other_process(tmp_path: Path) -> None:
    with pytest.raises(DyeshadeError, match="photo_missing"):
        cut_out(CutOut(str(tmp_path / "gone.jpg")))
