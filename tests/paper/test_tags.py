"""Tags: their codes by a second decoder, their measures with a ruler, their words."""

import numpy as np
import pytest

from dyeshade.paper.codes import qr_modules
from dyeshade.paper.paper_page import pages_pdf
from dyeshade.paper.tag_sheet import TAG_SIZES, Tag, TagSheet
from dyeshade.paper.tags import lay_out_tags
from dyeshade.sheet.tag import tag_text
from tests.paper.reading_back import (
    PAPERS,
    codes_on,
    fonts_embedded,
    outlines_mm,
    plumbed,
    sizes_mm,
    words_of,
)

WITHIN_MM = 0.2
WIDE_MM = {"small": 21.0, "middle": 27.0, "large": 36.0}


def tags(count: int) -> list[Tag]:
    return [Tag(f"W-{number:03d}", "wool") for number in range(1, count + 1)]


def printed(listed: list[Tag], **sheet) -> bytes:
    return pages_pdf(lay_out_tags(TagSheet(**sheet), listed))


@pytest.mark.parametrize(("paper", "size"), [("A4", "small"), ("Letter", "large")])
def test_every_code_is_read_by_a_second_decoder(paper, size):
    pdf = printed(tags(23), paper=paper, size=size)
    assert {text for page in codes_on(pdf) for text in page} == {
        tag_text(tag.piece) for tag in tags(23)
    }
    assert sizes_mm(pdf)[0] == pytest.approx(PAPERS[paper], abs=0.01)
    assert fonts_embedded(pdf)


@pytest.mark.parametrize("size", TAG_SIZES)
def test_tags_are_of_their_size_and_lie_edge_to_edge(size):
    (page,) = plumbed(printed(tags(6), size=size))
    # The line is a tenth of a millimetre wide and its middle on the cut.
    cuts = [one for one in outlines_mm(page) if one[3] > 20]
    assert len(cuts) == 6
    assert {round(float(one[2])) for one in cuts} == {round(WIDE_MM[size])}
    assert cuts[0][2] == pytest.approx(WIDE_MM[size], abs=WITHIN_MM)
    assert cuts[1][0] - cuts[0][0] == pytest.approx(WIDE_MM[size], abs=0.01)


def test_around_a_code_four_modules_are_white():
    # ISO/IEC 18004, 6.3.8: the quiet zone.
    pdf = printed([Tag("W-001", "wool")], size="large")
    (page,) = plumbed(pdf)
    dark = [one for one in page.rects if one["fill"]] or page.curves
    left, right = min(o["x0"] for o in dark), max(o["x1"] for o in dark)
    top, bottom = min(o["top"] for o in dark), max(o["bottom"] for o in dark)
    module = (right - left) / 21
    rest = [
        (line["x0"], line["top"], line["x1"], line["bottom"])
        for line in [*page.lines, *page.chars, *(r for r in page.rects if not r["fill"])]
    ]
    inside = [
        one
        for one in rest
        if one[2] > left - 4 * module + 0.2
        and one[0] < right + 4 * module - 0.2
        and one[3] > top - 4 * module + 0.2
        and one[1] < bottom + 3.6 * module
        and not (one[0] < left - 4 * module and one[2] > right + 4 * module)
    ]
    assert inside == []


def test_a_code_repairs_as_much_as_its_size_allows():
    # ISO/IEC 18004, table 7: version 1 holds 16 alphanumerics at level Q and 10 at level H.
    assert len(qr_modules("A" * 10)) == len(qr_modules("A" * 16)) == 21
    assert len(qr_modules("A" * 21)) == 25


def test_what_stands_on_a_tag_is_the_piece_and_one_line():
    told = words_of(printed([Tag("HW-27", "silk, cloth"), Tag("Größe-7"), Tag("藍-1", "ラミー")]))
    for words in ("HW-27", "silk, cloth", "Größe-7", "藍-1", "ラミー"):
        # Where the font changes, readers of PDFs see a space.
        assert words.replace(" ", "") in told.replace(" ", "")


@pytest.mark.parametrize("piece", ["a piece with quite a long id", "W" * 60, "x"])
def test_long_ids_stay_on_their_tag(piece):
    (page,) = plumbed(printed([Tag(piece, "a line that is far too long for so small a tag" * 2)]))
    cut = next(one for one in outlines_mm(page) if one[3] > 20)
    ends = np.array([[c["x0"], c["x1"]] for c in page.chars]) * 25.4 / 72
    assert ends.min() >= cut[0]
    assert ends.max() <= cut[0] + cut[2]
    bottoms = max(c["bottom"] for c in page.chars) * 25.4 / 72
    assert bottoms <= cut[1] + cut[3] + 0.5


def test_many_tags_take_as_many_pages_as_they_need():
    large = TagSheet(size="large")
    columns, rows = large.grid
    laid = lay_out_tags(large, tags(columns * rows + 1))
    assert len(laid.pages) == 2
    assert laid.missing == ""
    assert lay_out_tags(TagSheet(), [Tag("\U0001f9f6")]).missing == "\U0001f9f6"


def test_the_same_tags_give_the_same_file():
    assert printed(tags(3)) == printed(tags(3))


def test_no_tags_or_no_paper_is_our_mistake():
    with pytest.raises(ValueError, match="no tags"):
        lay_out_tags(TagSheet(), [])
    with pytest.raises(ValueError, match="A5"):
        TagSheet("A5")
