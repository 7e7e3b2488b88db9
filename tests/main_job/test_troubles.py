"""Each trouble that a photo may have, at the end of its stated range: read truly, or said aloud.

The photographs are rendered by ``tests/render`` from published spectra (CIE 224:2017, as
colour-science carries them) and a measured camera (RAW to ACES data repository, Apache-2.0).
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.measure.photo_to_shade import measure_photo
from dyeshade.measure.result import Measurement
from dyeshade.photo.read import read_photo
from tests.render import Piece, Scene, render
from tests.render.spectra import cie224_colours
from tests.studies.accuracy import JUDGING, sheet_of

TROUBLES: dict[str, dict[str, object]] = {
    "light uneven by 1.6": {"light_factor": 1.6},
    "a strong S-curve": {"curve": "sigmoid", "curve_strength": 1.0},
    "flare of 2 %": {"flare": 0.02},
    "tilt of 35 degrees": {"tilt_deg": 35.0, "tilt_towards_deg": 40.0},
    "turned by 90 degrees": {"turn_deg": 90.0, "orientation": 6},
    "upside down": {"turn_deg": 180.0, "orientation": 3},
    "barrel bend": {"lens_k1": -0.08},
    "pincushion bend": {"lens_k1": 0.08},
    "white off by 20 %": {"white_error": (1.2, 0.8)},
    "yarn and a leaf over greys and marks": {"strands_over": 3, "leaf_over": True},
    "a shadow over part of the greys": {"shadow_depth": 0.5, "shadow_offset_mm": 90.0},
    "paper clipped": {"exposure": 1.3},
    "corners curled up": {"curl_mm": 10.0},
    "Display P3": {"primaries": "Display P3"},
}


def pieces(height_mm: float = 3.0) -> tuple[Piece, ...]:
    colours = cie224_colours()
    wanted = ((20, "skein"), (45, "swatch"), (70, "skein"), (90, "swatch"))
    return tuple(
        Piece(cell, kind, colours[k], height_mm=height_mm, seed=k)
        for cell, (k, kind) in zip("ABEF", wanted, strict=True)
    )


def measured(
    folder: Path, height_mm: float = 3.0, **trouble: object
) -> tuple[Measurement, dict[str, np.ndarray]]:
    fields: dict[str, object] = {"camera": JUDGING[5], "seed": 11, "long_side_px": 1800}
    sheet = sheet_of("A4", "six", False)
    scene = Scene(sheet, pieces(height_mm)).with_(**(fields | trouble))
    rendered = render(scene)
    photo = read_photo(rendered.save(folder / "photo"))
    truth = {name: cell["lab"] for name, cell in rendered.truth["cells"].items()}
    return measure_photo(photo, light="window"), truth


@pytest.mark.parametrize("trouble", TROUBLES)
def test_a_trouble_within_the_range_is_read_truly_or_told(trouble: str, tmp_path: Path) -> None:
    measurement, truth = measured(tmp_path, **TROUBLES[trouble])
    assert {sample.name for sample in measurement.samples} == set(truth)
    for sample in measurement.samples:
        error = float(ciede2000(sample.shade.lab, truth[sample.name]))
        told = bool(sample.notices or measurement.notices)
        assert error <= sample.shade.u95 or told, f"{sample.name}: {error:.1f}, and nothing said"
        # What these troubles do to a camera that does not embellish is far less than stated.
        assert error < 5


@pytest.mark.parametrize("height_mm", [25.0, 50.0])
def test_pieces_above_the_sheet_are_read_truly_or_told(height_mm: float, tmp_path: Path) -> None:
    measurement, truth = measured(tmp_path, height_mm, tilt_deg=0.0)
    for sample in measurement.samples:
        error = float(ciede2000(sample.shade.lab, truth[sample.name]))
        assert error <= sample.shade.u95 or sample.notices


def test_clipped_paper_is_told(tmp_path: Path) -> None:
    measurement, _ = measured(tmp_path, exposure=1.3)
    assert "paper_clipped" in {notice.code for notice in measurement.notices}
