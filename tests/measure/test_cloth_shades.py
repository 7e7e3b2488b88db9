"""A piece of several colours is told from one with shadow, crease or an even change of depth."""

from __future__ import annotations

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.measure.shades_in_cloth import main_shades
from tests.measure.cell_recipes import Recipe, random_recipe
from tests.measure.cells import make_cell
from tests.measure.test_cloth import BLACK, MADDER, WELD, codes, found, lab, read

PAIRS = [
    (MADDER, WELD),
    (WELD, (0.1, 0.2, 0.35)),
    (BLACK, MADDER),
    ((0.5, 0.4, 0.3), (0.2, 0.13, 0.08)),
]


@pytest.mark.parametrize("kind", ["swatch", "skein", "felt"])
@pytest.mark.parametrize("pair", PAIRS)
def test_dipped_piece_gives_both_shades(
    kind: str, pair: tuple[tuple[float, float, float], ...]
) -> None:
    cell = make_cell(Recipe(kind, pair[0], second=pair[1], gaps=0.0, light_error=0.01, seed=3))
    cloth = read(cell)
    assert "several_colours" in codes(cloth)
    shades = main_shades(cell.relative, cloth.mask)
    assert len(shades) == 2
    assert sum(share for _, share in shades) == pytest.approx(1.0)
    for part in cell.parts:
        assert min(float(ciede2000(lab(shade), lab(part))) for shade, _ in shades) < 2.5


def test_stripes_give_both_shades_and_their_shares() -> None:
    cell = make_cell(
        Recipe("skein", MADDER, second=WELD, stripes=True, second_share=0.3, gaps=0.0, seed=4)
    )
    shades = main_shades(cell.relative, read(cell).mask)
    assert len(shades) == 2
    assert shades[0][1] > shades[1][1]
    assert shades[1][1] == pytest.approx(0.3, abs=0.1)


def test_mean_of_a_dipped_piece_is_that_of_the_whole() -> None:
    cell = make_cell(Recipe("swatch", MADDER, second=WELD, light_error=0.0, seed=5))
    assert cell.truth is not None
    assert ciede2000(lab(read(cell).mean), lab(cell.truth)) < 1.5


@pytest.mark.parametrize("slope", [0.3, 0.6])
def test_even_change_of_depth_is_one_shade(slope: float) -> None:
    cell = make_cell(Recipe("swatch", MADDER, slope=slope, seed=6))
    assert "several_colours" not in codes(read(cell))


def test_pieces_of_one_colour_are_not_flagged() -> None:
    flagged = []
    for seed in range(2000, 2012):
        cloth = found(make_cell(random_recipe(seed)))
        if cloth is not None and "several_colours" in codes(cloth):
            flagged.append(seed)
    assert not flagged


def test_one_shade_is_the_mean_itself() -> None:
    cell = make_cell(Recipe("felt", WELD, seed=7))
    cloth = read(cell)
    ((shade, share),) = main_shades(cell.relative, cloth.mask)
    assert share == 1.0
    assert shade == pytest.approx(cloth.mean, rel=1e-4)
    assert np.isfinite(shade).all()
