"""A photo read by one grey card alone, drawn by hand: wide, said to be so, and true.

The photograph is rendered by ``tests/render`` from published spectra (CIE 224:2017, as
colour-science carries them) and a measured camera (RAW to ACES data repository, Apache-2.0).
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.measure.photo_to_shade import measure_photo
from dyeshade.photo.read import read_photo
from tests.main_job.at_the_ends import TROUBLES, scene_with
from tests.render import render
from tests.studies.hunt import one_grey


@pytest.mark.parametrize("name", ["Display P3 in 16 bit", "light uneven by 1.6"])
def test_one_grey_says_that_it_is_one_and_states_enough(name: str, tmp_path: Path) -> None:
    rendered = render(scene_with(TROUBLES[name], look="typical"))
    photo = read_photo(rendered.save(tmp_path / "photo"))
    by_sheet = measure_photo(photo, light="window")
    by_card = measure_photo(photo, one_grey(rendered), light="window")
    assert "few_greys" in {notice.code for notice in by_card.notices}
    for sample in by_card.samples:
        true = rendered.truth["cells"][sample.name]["lab"]
        assert ciede2000(sample.shade.lab, true) <= sample.shade.u95
    # The whole sheet knows more than one grey does.
    narrow, wide = (np.median([s.shade.u95 for s in seen.samples]) for seen in (by_sheet, by_card))
    assert narrow < 0.9 * wide
