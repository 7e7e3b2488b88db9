"""Skein labels: what is claimed, the lot, and a code that names the piece."""

from datetime import date

import pytest

from dyeshade.paper.paper_page import pages_pdf
from dyeshade.paper.skein_labels import LabelSheet, SkeinLabel, lay_out_labels
from dyeshade.sheet.tag import tag_text
from dyeshade.words.skein_labels import LABEL_WORDS
from tests.paper.reading_back import codes_on, fonts_embedded, outlines_mm, plumbed, words_of

WELD = SkeinLabel(
    "W-014", "", "wool", "4-ply yarn", 50.0, ("weld",), "alum", "bath-007", date(2026, 3, 1)
)
SILK = SkeinLabel("S-015", "the long skein", "silk")


def printed(*labels, **sheet) -> bytes:
    return pages_pdf(lay_out_labels(LabelSheet(**sheet), labels, LABEL_WORDS))


def test_a_label_tells_fibre_dyestuff_lot_and_maker():
    pdf = printed(WELD, maker="Hollow Weir Dye Room", note="Wash cool by hand")
    told = words_of(pdf).replace("\xa0", " ")
    for words in (
        "Weld",
        "wool, 4-ply yarn, 50 g",
        "dyed with weld, mordant alum",
        "lot bath-007 · piece W-014 · 1 March 2026",
        "Hollow Weir Dye Room",
        "Wash cool by hand",
    ):
        assert words in told
    assert codes_on(pdf) == [[tag_text("W-014")]]
    assert fonts_embedded(pdf)


def test_a_fibre_content_is_claimed_only_for_its_own_fibre():
    told = words_of(printed(WELD, SILK, contents=(("Wool", "100 % wool"),)))
    assert "100 % wool, 4-ply yarn" in told
    assert told.count("100 %") == 1
    assert "100" not in words_of(printed(WELD))


def test_labels_are_85_by_50_and_ten_on_a_page():
    laid = lay_out_labels(LabelSheet("Letter"), [SILK] * 11, LABEL_WORDS)
    assert len(laid.pages) == 2
    first, second = plumbed(pages_pdf(laid))
    cuts = [one for one in outlines_mm(first) if one[3] > 20]
    assert len(cuts) == 10
    assert cuts[0][2:] == pytest.approx([85.0, 50.0], abs=0.2)
    assert len([one for one in outlines_mm(second) if one[3] > 20]) == 1


def test_whatever_is_written_down_stays_on_the_label():
    long = SkeinLabel("W-1", "a name that goes on and on " * 8, "wool", "yarn " * 20)
    (page,) = plumbed(printed(long, note="a note that goes on and on " * 12))
    cut = next(one for one in outlines_mm(page) if one[3] > 20)
    assert max(c["bottom"] for c in page.chars) * 25.4 / 72 < cut[1] + cut[3]
    assert max(c["x1"] for c in page.chars) * 25.4 / 72 < cut[0] + cut[2]
