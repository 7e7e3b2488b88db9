"""Bradford adaptation against the ICC's figures and colour-science."""

import numpy as np
import pytest

from dyeshade.cie.adaptation import bradford
from dyeshade.cie.white import D50, D65


def test_the_one_white_becomes_the_other():
    np.testing.assert_allclose(bradford(D65, D50) @ D65, D50, atol=1e-12)


def test_the_matrix_of_srgb_profiles():
    # The "chad" of the ICC's own sRGB profiles, D65 to D50 (ICC.1:2022, annex E, and the
    # sRGB profiles of the ICC's profile registry).
    published = [
        [1.0479, 0.0229, -0.0502],
        [0.0296, 0.9905, -0.0171],
        [-0.0092, 0.0151, 0.7517],
    ]
    np.testing.assert_allclose(bradford(D65, D50), published, atol=4e-4)


def test_colour_science_agrees():
    import colour.adaptation

    theirs = colour.adaptation.matrix_chromatic_adaptation_VonKries(D65, D50, transform="Bradford")
    np.testing.assert_allclose(bradford(D65, D50), theirs, atol=1e-6)


def test_there_and_back():
    np.testing.assert_allclose(bradford(D50, D65) @ bradford(D65, D50), np.eye(3), atol=1e-12)


def test_what_is_no_white_is_refused():
    with pytest.raises(ValueError, match="not a white"):
        bradford([0.0, 0.0, 0.0], D65)
