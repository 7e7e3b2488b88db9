"""Cautions say what can be done where they stand."""

from __future__ import annotations

from dyeshade.errors import Notice
from dyeshade.window.wording import caution_words, kept_caution_words

ASSUMED = Notice("light_assumed", {"light": "window"})


def test_a_light_that_was_assumed_is_named_above_the_photo_or_by_measuring_again() -> None:
    assert "choose it above the photo" in caution_words(ASSUMED)
    # Where a kept shade is looked at there is nothing above a photo to choose.
    assert "above the photo" not in kept_caution_words(ASSUMED)
    assert "measure the photo again" in kept_caution_words(ASSUMED)
