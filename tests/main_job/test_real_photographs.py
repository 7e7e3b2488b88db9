"""Real photographs of a chart, its neutrals drawn by hand as greys, through the command line.

Sources: photographs out of the package colour-checker-detection 0.2.3 (BSD-3-Clause, notice in
``tests/data``); the chart's published values as colour-science carries them ("After November
2014"), kept in ``tests/data/real_charts.csv``.
"""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cli import main
from tests.studies.colour_data import DATA, real_chart_rows

# Middles of patches 1, 6, 24 and 19 in the photographs, in pixels.
CORNERS = {
    1: [(579, 456), (584, 242), (711, 245), (712, 460)],
    2: [(332, 213), (741, 236), (727, 480), (317, 458)],
}
HALF = 9


def patch_middles(corners: list[tuple[int, int]]) -> np.ndarray:
    """Middles of the 24 patches, six to a row, from those of the corner patches, shape (24, 2)."""
    first, sixth, last, nineteenth = (np.array(corner, float) for corner in corners)
    across, down = np.meshgrid(np.linspace(0, 1, 6), np.linspace(0, 1, 4))
    u, v = across.reshape(-1, 1), down.reshape(-1, 1)
    top, bottom = first + u * (sixth - first), nineteenth + u * (last - nineteenth)
    return np.asarray(top + v * (bottom - top))


def square(middle: np.ndarray) -> list[list[float]]:
    steps = np.array([[-HALF, -HALF], [HALF, -HALF], [HALF, HALF], [-HALF, HALF]])
    return np.asarray(middle + steps).tolist()


def read_chart(
    number: int, folder: Path, capsys: pytest.CaptureFixture[str]
) -> tuple[np.ndarray, np.ndarray]:
    """Errors and stated limits of the 18 colours, by the six neutrals."""
    published = next(iter(real_chart_rows().values()))
    middles = patch_middles(CORNERS[number])
    regions = {
        "greys": [
            {"corners": square(middles[k]), "reflectance": round(float(published["y"][k]), 4)}
            for k in range(18, 24)
        ],
        "samples": [{"name": f"patch {k + 1}", "corners": square(middles[k])} for k in range(18)],
    }
    file = folder / "regions.json"
    file.write_text(json.dumps(regions), encoding="utf-8")
    photo = str(DATA / f"chart_photo_{number}.png")
    assert main(["measure", photo, "--regions", str(file), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    lab = np.array([sample["lab"] for sample in told["samples"]])
    u95 = np.array([sample["u95"] for sample in told["samples"]])
    return ciede2000(lab, published["lab"][:18]), u95


@pytest.mark.parametrize("number", [1, 2])
def test_published_values_of_a_real_photograph_lie_within_what_is_stated(
    number: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    error, u95 = read_chart(number, tmp_path, capsys)
    # 18 patches of one photograph are not independent: one or two may lie outside.
    assert (error <= u95).sum() >= 16
    assert error.max() < 1.6 * u95[error.argmax()]
    assert np.median(error) < 7
