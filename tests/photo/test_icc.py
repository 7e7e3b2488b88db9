"""Profiles as numbers, against Pillow's engine within its 8-bit step and against standards."""

import io

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageCms

from dyeshade.cie.lab import xyz_to_lab
from dyeshade.cie.rgb_spaces import DISPLAY_P3, SRGB, srgb_encode
from dyeshade.cie.white import D50, D65
from dyeshade.photo.curves import SRGB_CURVE
from dyeshade.photo.encoding import Encoding
from dyeshade.photo.icc import ProfileError, read_profile
from tests.photo import profiles

SRGB_FILE = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
# A version 2 table of 1024 entries, as widespread sRGB profiles have it.
TABLE = profiles.curv(*np.rint(65535 * SRGB_CURVE(np.linspace(0, 1, 1024))).astype(int).tolist())

PROFILES = {
    "sRGB of Pillow's engine": SRGB_FILE,
    "Display P3": profiles.matrix_profile(),
    "Display P3 without chad": profiles.matrix_profile(adaptation=None),
    "version 2 with a table": profiles.matrix_profile(curve=TABLE, version=2, adaptation=None),
    "version 2, exponent": profiles.matrix_profile(
        curve=profiles.gamma(2.19921875), version=2, adaptation=None
    ),
    "ROMM, white D50": profiles.matrix_profile(
        profiles.ROMM, profiles.para(0, 1.8), adaptation=None
    ),
    "linear": profiles.matrix_profile(curve=profiles.curv()),
    "function 1": profiles.matrix_profile(curve=profiles.para(1, 2.2, 0.9, 0.1)),
    "function 2": profiles.matrix_profile(curve=profiles.para(2, 2.2, 0.9, 0.08, 0.02)),
    "function 4": profiles.matrix_profile(
        curve=profiles.para(4, 2.4, 0.94, 0.05, 0.08, 0.04, 0.005, 0.0)
    ),
}


def _srgb_of(encoding: Encoding, coded: np.ndarray) -> np.ndarray:
    linear = np.stack([curve(coded[:, i]) for i, curve in enumerate(encoding.curves)], axis=1)
    return srgb_encode(linear @ (np.linalg.inv(SRGB.to_xyz) @ encoding.to_xyz).T)


@pytest.mark.parametrize("name", PROFILES)
def test_pillows_engine_agrees_within_its_8_bit_step(name):
    coded = np.random.default_rng(4).integers(0, 256, (4000, 3), dtype=np.uint8)
    source = ImageCms.ImageCmsProfile(io.BytesIO(PROFILES[name]))
    intent = ImageCms.Intent.RELATIVE_COLORIMETRIC
    # Without the engine's optimising to 8-bit tables (its flags NOOPTIMIZE and NOCACHE).
    transform = ImageCms.buildTransform(
        source, ImageCms.createProfile("sRGB"), "RGB", "RGB", intent, ImageCms.Flags(0x0140)
    )
    image = Image.fromarray(coded[:, np.newaxis])
    theirs = np.asarray(ImageCms.applyTransform(image, transform))[:, 0].astype(float)
    ours = 255.0 * np.clip(_srgb_of(read_profile(PROFILES[name]), coded / 255.0), 0.0, 1.0)
    assert np.abs(ours - theirs).max() <= 1.0
    assert np.abs(ours - theirs).mean() < 0.35


def test_the_engine_is_no_check_of_itself():
    # Reading Display P3 as sRGB is far outside the step that the check above allows.
    coded = np.random.default_rng(4).random((500, 3))
    p3 = _srgb_of(read_profile(PROFILES["Display P3"]), coded)
    assert 255.0 * np.abs(np.clip(p3, 0, 1) - coded).max() > 20.0


def test_display_p3_comes_out_at_its_published_primaries():
    encoding = read_profile(profiles.matrix_profile(name="Display P3"))
    np.testing.assert_allclose(encoding.to_xyz, DISPLAY_P3.to_xyz, atol=3e-4)
    assert encoding.name == "Display P3"
    assert not encoding.assumed


@pytest.mark.parametrize("name", PROFILES)
def test_equal_channels_are_neutral_under_d65(name):
    np.testing.assert_allclose(read_profile(PROFILES[name]).to_xyz @ np.ones(3), D65, atol=1e-12)


def test_the_profiles_own_adaptation_is_undone_not_guessed():
    # A profile whose maker went from D65 to D50 by scaling XYZ: Bradford would turn its colours.
    scaling = np.diag(D50 / D65)
    encoding = read_profile(
        profiles.matrix_profile(scaling @ DISPLAY_P3.to_xyz, adaptation=scaling)
    )
    np.testing.assert_allclose(encoding.to_xyz, DISPLAY_P3.to_xyz, atol=2e-4)


def test_a_chad_of_zeros_says_nothing():
    encoding = read_profile(profiles.matrix_profile(adaptation=np.zeros((3, 3))))
    np.testing.assert_allclose(encoding.to_xyz, DISPLAY_P3.to_xyz, atol=3e-4)


def test_a_table_loses_no_more_than_its_own_steps():
    steps = np.linspace(0.0, 1.0, 300)
    curve = read_profile(PROFILES["version 2 with a table"]).curves[1]
    np.testing.assert_allclose(curve(steps), SRGB_CURVE(steps), atol=2e-5)


@pytest.mark.parametrize("version", [2, 4])
def test_the_name_is_read_in_both_versions(version):
    assert read_profile(profiles.matrix_profile(name="Bench", version=version)).name == "Bench"


def test_a_curve_per_channel():
    tags = {
        **{tag: profiles.xyz(*column) for tag, column in _columns()},
        b"rTRC": profiles.gamma(1.0),
        b"gTRC": profiles.gamma(2.0),
        b"bTRC": profiles.gamma(3.0),
    }
    red, green, blue = read_profile(profiles.profile(tags)).curves
    assert [float(curve(0.5)) for curve in (red, green, blue)] == [0.5, 0.25, 0.125]


def _columns():
    return zip((b"rXYZ", b"gXYZ", b"bXYZ"), np.array(profiles.DISPLAY_P3).T, strict=True)


def test_tables_only_are_told_from_damage():
    with pytest.raises(ProfileError) as raised:
        read_profile(profiles.profile({b"A2B0": b"mAB " + bytes(60)}))
    assert raised.value.only_tables


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "not an ICC"),
        (bytes(200), "not an ICC"),
        (profiles.profile({b"kTRC": profiles.gamma(2.2)}, space=b"GRAY"), "GRAY"),
        (profiles.profile({}), "without primaries"),
        (profiles.matrix_profile(np.zeros((3, 3))), "no white"),
        (profiles.matrix_profile(np.full((3, 3), 0.3)), "no white"),
        (profiles.matrix_profile(curve=profiles.curv(65535, 0)), "does not rise"),
        (profiles.matrix_profile(curve=profiles.gamma(0.0)), "does not rise"),
        (profiles.matrix_profile(curve=profiles.para(0, -1.0)), "does not rise"),
        (profiles.matrix_profile(curve=profiles.para(1, 2.2, 0.0, 0.5)), "does not rise"),
        (profiles.matrix_profile(curve=profiles.para(9, 2.2)), "unknown function"),
        (profiles.matrix_profile(curve=b"curv"), "damaged"),
        (profiles.matrix_profile(curve=profiles.curv(1, 2, 3)[:-4]), "damaged"),
        (SRGB_FILE[:300], "without primaries|damaged"),
    ],
)
def test_what_is_no_rgb_profile_says_why(data, words):
    with pytest.raises(ProfileError, match=words):
        read_profile(data)


@settings(max_examples=150, deadline=None)
@given(
    name=st.sampled_from(sorted(PROFILES)),
    cut=st.integers(0, 4000),
    changes=st.lists(st.tuples(st.integers(0, 4000), st.integers(0, 255)), max_size=12),
)
def test_a_damaged_profile_is_refused_or_still_makes_white(name, cut, changes):
    data = bytearray(PROFILES[name])
    for place, value in changes:
        data[place % len(data)] = value
    if cut % 3 == 0:
        data = data[: cut % len(data)]
    try:
        encoding = read_profile(bytes(data))
    except ProfileError:
        return
    np.testing.assert_allclose(xyz_to_lab(encoding.to_xyz @ np.ones(3)), [100, 0, 0], atol=1e-6)
    for curve in encoding.curves:
        light = curve(np.linspace(0.0, 1.0, 50))
        assert np.all((light >= 0.0) & (light <= 1.0))
