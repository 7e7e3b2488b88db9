"""A pot card: one page, whatever is on it; boxes, blanks, amounts and the wanted shade."""

from io import BytesIO

import numpy as np
import pypdf
import pytest

from dyeshade.bath.recipe import DyestuffShare, PieceInPot, Recipe, SubstanceShare
from dyeshade.bath.work_out import BathAsked
from dyeshade.paper.paper_page import pages_pdf
from dyeshade.words.pot_card import pot_card
from dyeshade.work.make_pot_card import (
    PotAddition,
    PotAsked,
    PotStep,
    WantedShade,
    laid_pot_cards,
)
from tests.paper.reading_back import (
    MM,
    PAPERS,
    fonts_embedded,
    outlines_mm,
    plumbed,
    sizes_mm,
    words_of,
)

RECIPE = Recipe(
    (DyestuffShare("weld", 2.0), DyestuffShare("madder", 0.5)),
    (SubstanceShare("alum", 0.15),),
    30.0,
)


def asked(**given) -> PotAsked:
    pieces = given.pop("pieces", (PieceInPot("wool", 240.0, "W-031"),))
    return PotAsked(BathAsked(pieces, RECIPE), **given)


def printed(**given) -> bytes:
    return pages_pdf(laid_pot_cards(asked(**given), pot_card))


def told(**given) -> str:
    return words_of(printed(**given)).replace("\xa0", " ")


@pytest.mark.parametrize("paper", PAPERS)
def test_it_is_one_page_however_much_is_on_it(paper):
    steps = tuple(PotStep(f"step {n}, told in many words " * 3, 80.0, n) for n in range(20))
    additions = tuple(PotAddition(f"substance {n}", 2.0, "g", 8.0) for n in range(10))
    pdf = printed(steps=steps, additions=additions, paper=paper, title="a long title " * 6)
    assert sizes_mm(pdf) == [pytest.approx(PAPERS[paper], abs=0.01)]
    (page,) = plumbed(pdf)
    height = PAPERS[paper][1]
    assert max(c["bottom"] for c in page.chars) / MM < height - 8
    # The last addition ends above the heading of the cautions.
    words = page.extract_words()
    last = max(w["bottom"] for w in words if w["text"] == "9")
    assert last < min(w["top"] for w in words if w["text"] == "Cautions")


def test_amounts_stand_in_grams_and_ounces_with_a_box_to_tick_each():
    words = told()
    # 2 x 240 g; 480 / 28.3495 = 16.9 oz = 1 lb 0.9 oz; 15 % of 240 g.
    for amount in ("480 g (1 lb 0.9 oz)", "36 g", "7.2 L", "2:1", "15 % wof"):
        assert amount in words
    (page,) = plumbed(printed())
    boxes = [one for one in outlines_mm(page) if 2.0 < one[2] < 5.0]
    # Three weighed things and water, seven steps, five empty additions.
    assert len(boxes) == 4 + 7 + 5
    assert all(one[2] == pytest.approx(one[3], abs=0.01) for one in boxes)


def blanks(page) -> int:
    """Lines of a table to write on: shorter than the page is wide."""
    return sum(line["x1"] - line["x0"] < page.width / 2 for line in page.lines)


def test_what_room_is_left_has_lines_for_notes():
    (page,) = plumbed(printed())
    (heading,) = [w for w in page.extract_words() if w["text"] == "Notes"]
    (cautions,) = [w for w in page.extract_words() if w["text"] == "Cautions"]
    tops = sorted(
        line["top"] / MM
        for line in page.lines
        if line["x1"] - line["x0"] > page.width / 2
        and heading["bottom"] < line["top"] < cautions["top"]
    )
    assert len(tops) >= 3
    assert np.diff(tops) == pytest.approx(8.0, abs=0.2)


def test_what_is_not_known_is_left_blank():
    bare = blanks(plumbed(printed())[0])
    known = blanks(plumbed(printed(temperature_c=80.0, minutes=60.0))[0])
    assert bare == known + 2
    assert "80 °C (176 °F)" in told(temperature_c=80.0, minutes=60.0)
    assert "80 °C" not in told()


def test_a_class_sees_what_each_student_and_all_of_them_need():
    words = told(students=12, pieces=(PieceInPot("wool", 20.0),))
    for amount in ("each student", "for all 12", "40 g", "480 g", "3 g", "36 g", "7.2 L"):
        assert amount in words
    assert "12 students: 240 g" in words


def test_the_wanted_shade_is_a_swatch_in_srgb_with_its_figures():
    wanted = WantedShade((78.0, -6.0, 61.0), (214, 200, 74), piece="W-005")
    pdf = printed(wanted=wanted)
    (page,) = plumbed(pdf)
    swatches = [rect for rect in page.rects if len(np.atleast_1d(rect["non_stroking_color"])) == 3]
    assert [round(255 * c) for c in swatches[0]["non_stroking_color"]] == [214, 200, 74]
    assert "as W-005" in told(wanted=wanted)
    catalog = pypdf.PdfReader(BytesIO(pdf)).trailer["/Root"]
    assert catalog["/OutputIntents"][0]["/OutputConditionIdentifier"] == "sRGB IEC61966-2.1"
    assert "/OutputIntents" not in pypdf.PdfReader(BytesIO(printed())).trailer["/Root"]


def test_ph_wanted_additions_and_cautions_are_told():
    words = told(
        temperature_c=80.0,
        phs=(("bath_end", 8.8),),
        additions=(PotAddition("washing soda", 2.0, "g", 9.0), PotAddition("vinegar")),
    )
    for part in (
        "Wanted: pH 8.8 of the bath at end.",
        "bears pH 3.0 to 8.5",
        "pH 8.8 is more than that",
        "washing soda",
        "2 g",
        "pH 9.0",
        "Hot liquor scalds",
        "Washing soda, lime and lye burn skin",
    ):
        assert part in words


def test_its_fonts_are_embedded():
    assert fonts_embedded(printed())
