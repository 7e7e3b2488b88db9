"""A tag tells whose a sample is, only where that is sure, and leaves its shade alone."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.measure.cloth import find_cloth
from dyeshade.measure.tags_on_samples import hidden_by_tags, tags_of_cells, with_tag
from dyeshade.sheet.layout import build_layout
from dyeshade.sheet.read_tags import TagSeen, tag_seen
from dyeshade.sheet.tag import tag_text
from tests.measure.cell_recipes import Recipe
from tests.measure.cells import make_cell
from tests.measure.test_cloth import MADDER, WELD, lab
from tests.work.saving import measured

CELLS = build_layout("A4", "six", False).cells
SQUARE = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]) * 14.0
SAMPLE = measured("A").samples[0]


def tag(piece: str | None, x: float = 0.0, y: float = 0.0, readable: bool = True) -> TagSeen:
    """A tag whose code's middle lies at a place of the page."""
    text = ("another code" if piece is None else tag_text(piece)) if readable else ""
    return tag_seen(text, SQUARE + np.array([x - 7.0, y - 7.0]))


def of_cells(*tags: TagSeen) -> dict[str, int]:
    return {name: len(found) for name, found in tags_of_cells(CELLS, tags).items() if found}


def test_a_tag_belongs_to_the_cell_that_its_code_lies_in() -> None:
    a, b = CELLS[0].centre, CELLS[1].centre
    assert of_cells(tag("W-1", *a), tag("W-2", *b)) == {"A": 1, "B": 1}


def test_a_tag_that_hangs_over_the_edge_belongs_to_the_only_cell_that_it_reaches_into() -> None:
    cell = CELLS[0]
    assert of_cells(tag("W-1", cell.x_mm - 3.0, cell.y_mm + 30.0)) == {"A": 1}


def test_a_tag_beside_all_cells_belongs_to_none() -> None:
    assert of_cells(tag("W-1", 15.0, 150.0)) == {}
    between = (CELLS[0].x_mm + CELLS[0].w_mm + CELLS[1].x_mm) / 2
    assert of_cells(tag("W-1", between, 60.0)) == {}


def test_one_tag_names_the_piece_and_two_of_one_piece_as_well() -> None:
    assert with_tag(SAMPLE, [tag("W-014")]).tag == "W-014"
    assert with_tag(SAMPLE, [tag("W-014"), tag("w-014")]).tag == "W-014"
    assert with_tag(SAMPLE, []) == replace(SAMPLE, tag="")


@pytest.mark.parametrize(
    ("tags", "code"),
    [
        ([tag("W-1"), tag("W-2")], "tags_differ"),
        ([tag("W-1"), tag("W-2", readable=False)], "tag_unread"),
        ([tag("W-1", readable=False)], "tag_unread"),
    ],
)
def test_what_is_not_sure_is_told_and_not_guessed(tags: list[TagSeen], code: str) -> None:
    sample = with_tag(SAMPLE, tags)
    assert sample.tag == ""
    assert [notice.code for notice in sample.notices] == [code]


def test_codes_of_other_things_say_nothing_about_the_piece() -> None:
    assert with_tag(SAMPLE, [tag(None)]).tag == ""
    assert with_tag(SAMPLE, [tag(None), tag("W-7")]).tag == "W-7"


@pytest.mark.parametrize(("colour", "place"), [(MADDER, "middle"), (WELD, "corner")])
def test_a_tag_on_the_cloth_does_not_change_its_shade(
    colour: tuple[float, float, float], place: str
) -> None:
    cell = make_cell(Recipe(body=colour, size_mm=(60.0, 66.0), seed=5))
    scale = cell.recipe.px_per_mm
    high, wide = cell.relative.shape[:2]
    middle = np.array([wide, high]) / 2 / scale
    if place == "corner":
        middle = middle * 1.55
    one = tag("W-1", *middle)
    bare = tag_seen(tag_text("W-1"), one.corners, rim=0.0)
    printed = hidden_by_tags([bare], np.zeros(2), scale, (high, wide))
    pattern = np.random.default_rng(3).integers(0, 2, (high, wide, 1)).astype(np.float32)
    with_it = np.where(printed[..., None], 0.05 + 0.9 * pattern, cell.relative).astype(np.float32)
    covered = hidden_by_tags([one], np.zeros(2), scale, (high, wide))
    assert 0.02 < covered.mean() < 0.4

    plain = find_cloth(cell.relative, cell.clipped, scale, 0.006)
    tagged = find_cloth(with_it, cell.clipped, scale, 0.006, covered)
    blind = find_cloth(with_it, cell.clipped, scale, 0.006)
    assert plain is not None
    assert tagged is not None
    assert blind is not None
    assert not (tagged.mask & covered).any()
    assert float(ciede2000(lab(tagged.mean), lab(plain.mean))) < 0.5
    # Not because tags would not matter.
    assert place == "corner" or float(ciede2000(lab(blind.mean), lab(plain.mean))) > 0.8
