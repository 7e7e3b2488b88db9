"""Tags as they are printed lie in the rendered photo where they are put."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
import zxingcpp

from dyeshade.paper.paper_page import pages_pdf
from dyeshade.paper.tag_sheet import Tag as PaperTag
from dyeshade.paper.tag_sheet import TagSheet
from dyeshade.paper.tags import lay_out_tags
from dyeshade.sheet.tag import tag_text
from tests.render.make_tagged import FIRST, NAME, SKEINS
from tests.render.tag import Tag, printed_tags, tag_texture
from tests.render_tests.test_examples import EXAMPLES

CELL = {"x_mm": 10.0, "y_mm": 20.0, "w_mm": 60.0, "h_mm": 66.0}


@pytest.fixture(scope="module")
def tags(tmp_path_factory: pytest.TempPathFactory) -> dict[str, np.ndarray]:
    pdf = Path(tmp_path_factory.mktemp("tags")) / "tags.pdf"
    listed = [PaperTag("W-001", "wool"), PaperTag("W-002")]
    pdf.write_bytes(pages_pdf(lay_out_tags(TagSheet(), listed)))
    return printed_tags(pdf)


def test_each_tag_is_cut_out_whole(tags: dict[str, np.ndarray]) -> None:
    assert set(tags) == {"W-001", "W-002"}
    for code, printed in tags.items():
        assert printed.shape[1] / 16 == pytest.approx(21.0, abs=0.6)
        (read,) = zxingcpp.read_barcodes((255 * printed).astype(np.uint8))
        assert read.text == tag_text(code)


@pytest.mark.parametrize("angle", [0.0, 90.0])
def test_a_tag_lies_where_it_is_put(tags: dict[str, np.ndarray], angle: float) -> None:
    tag = Tag("A", tags["W-001"], 16.0, (5.0, -7.0), angle)
    texture = tag_texture(tag, CELL, 8.0)
    rows, columns = np.nonzero(texture.alpha > 0.5)
    middle = np.array([columns.mean(), rows.mean()]) / 8.0 + texture.place.origin_mm
    assert middle == pytest.approx([10 + 30 + 5, 20 + 33 - 7], abs=0.1)
    wide, high = np.ptp(columns) / 8.0, np.ptp(rows) / 8.0
    assert (wide < high) == (angle == 0.0)


def test_the_photo_of_tagged_skeins_has_its_truth() -> None:
    truth = json.loads((EXAMPLES / "truth.json").read_text(encoding="utf-8"))["tagged"][NAME]
    pieces = [facts["piece"] for facts in truth["samples"].values()]
    assert pieces == [f"W-{FIRST + n:03d}" for n in range(len(SKEINS))]
    assert (EXAMPLES / NAME).stat().st_size < 0.9e6
    assert b"Render" in (EXAMPLES / NAME).read_bytes()[:4096]
