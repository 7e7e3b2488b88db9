"""Fine steps survive: more than 256 levels a channel, from every kind of file that can hold them.

Any step through 8 bits on the way would leave at most 256.
"""

import io

import numpy as np
import pytest
import tifffile

from dyeshade.photo.read import read_photo
from tests.photo import files
from tests.photo.raw_files import dng, heic10, sites

# A slow ramp within a twentieth of the scale: eight bits would show it as a staircase.
RAMP = np.linspace(0.40, 0.45, 640)[None, :, None] * np.array([1.0, 0.9, 0.8])
FINE = np.broadcast_to(RAMP, (600, 640, 3))


def tiff16() -> bytes:
    out = io.BytesIO()
    tifffile.imwrite(out, np.round(FINE * 65535).astype(np.uint16), photometric="rgb")
    return out.getvalue()


WAYS = {
    "PNG": lambda: files.png(np.round(FINE * 65535).astype(np.uint16)),
    "TIFF": tiff16,
    "DNG": lambda: dng(sites(FINE)),
}


@pytest.mark.parametrize("kind", WAYS)
def test_a_slow_ramp_keeps_its_steps(kind, tmp_path):
    path = tmp_path / "photo"
    path.write_bytes(WAYS[kind]())
    photo = read_photo(path)
    light = photo.linear()
    for channel in range(3):
        assert len(np.unique(light[..., channel])) > 500
    coded = FINE if kind == "DNG" else np.asarray(photo.encoding.curves[0](FINE))
    np.testing.assert_allclose(light, coded, atol=1 / 20000)


def test_ten_bits_of_a_phone_photo_keep_their_levels(tmp_path):
    codes = np.tile(np.arange(1024), (600, 1))[..., None].repeat(3, axis=2)
    path = tmp_path / "photo"
    path.write_bytes(heic10(codes, matrix_coefficients=0))
    photo = read_photo(path)
    assert photo.coded.dtype == np.uint16
    assert len(np.unique(photo.coded[..., 0])) == 1024
    np.testing.assert_allclose(photo.coded / 65535, codes / 1023, atol=0.51 / 65535)
