"""A piece sheet: pictures within their place, history whole, another page only where it must be."""

from io import BytesIO

import pytest
from PIL import Image

from dyeshade.paper.paper_page import pages_pdf
from dyeshade.paper.piece_sheet import HistoryRow, PieceSheet, PieceView, lay_out_piece_sheets
from dyeshade.sheet.tag import tag_text
from tests.paper.reading_back import MM, codes_on, fonts_embedded, plumbed, sizes_mm, words_of


def view(width: int, height: int) -> PieceView:
    data = BytesIO()
    Image.new("RGB", (width, height), (150, 60, 60)).save(data, "JPEG")
    return PieceView(data.getvalue(), (width, height), "15 March 2025, dry")


def sheet(rows: int = 4, views: tuple[PieceView, ...] = ()) -> PieceSheet:
    history = tuple(
        HistoryRow(
            f"{n} March 2026", (f"treatment {n}", "and more of it"), (9, 9, 9) if n % 2 else None
        )
        for n in range(rows)
    )
    return PieceSheet(
        "HW-27",
        "the red skein",
        ("HW-27: wool",),
        (170, 90, 80),
        ("L* 48.3",),
        views,
        "History",
        history,
        ("A note at the foot.",),
    )


def test_a_usual_history_fits_on_one_page_with_its_code():
    pdf = pages_pdf(lay_out_piece_sheets([sheet(18, (view(400, 300),))]))
    assert len(sizes_mm(pdf)) == 1
    assert codes_on(pdf) == [[tag_text("HW-27")]]
    assert fonts_embedded(pdf)
    assert "treatment 17" in words_of(pdf)


@pytest.mark.parametrize("rows", [40, 120])
def test_a_long_history_goes_on_with_nothing_lost(rows):
    pdf = pages_pdf(lay_out_piece_sheets([sheet(rows)]))
    pages = plumbed(pdf)
    assert len(pages) > 1
    words = words_of(pdf)
    assert all(f"treatment {n} " in words for n in range(rows))
    assert f"1 of {len(pages)}" in words
    for page in pages:
        rest = [c for c in page.chars if c["size"] > 6.5]
        assert max(c["bottom"] for c in rest) / MM < 297 - 14


@pytest.mark.parametrize("size", [(900, 200), (200, 900), (500, 500)])
def test_photos_keep_their_shape_and_stay_apart(size):
    pdf = pages_pdf(lay_out_piece_sheets([sheet(2, (view(*size), view(*size)))]))
    (page,) = plumbed(pdf)
    first, second = page.images
    for one in (first, second):
        assert one["width"] / one["height"] == pytest.approx(size[0] / size[1], rel=0.01)
        assert one["x1"] / MM < 210 - 18 + 0.1
    assert first["x1"] < second["x0"]


def test_two_pieces_are_two_pages():
    assert len(lay_out_piece_sheets([sheet(), sheet()]).pages) == 2
