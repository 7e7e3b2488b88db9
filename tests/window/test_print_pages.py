"""What a printer gets is the page that is shown, at its exact size."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from dyeshade.paper.card_page import draw_card_page
from dyeshade.window.print_pages import paint_pages, printer_for
from tests.paper.cards import laid, shades
from tests.paper.reading_back import MM, PAPERS, plumbed


@pytest.mark.parametrize("paper", PAPERS)
def test_pages_reach_the_printer_at_their_size(
    qapp: QApplication, tmp_path: Path, paper: str
) -> None:
    card = laid(shades(7), title="Weld", paper=paper, two_sided=True, fibre_place=True)
    printer = printer_for(card.pages[0].paper_mm, "Weld", two_sided=True)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    assert paint_pages(printer, card.pages, draw_card_page)
    pages = plumbed((tmp_path / "printed.pdf").read_bytes())
    assert len(pages) == len(card.pages)
    for page, shown in zip(pages, card.pages, strict=True):
        assert (page.width / MM, page.height / MM) == pytest.approx(PAPERS[paper], abs=0.2)
        drawn = [(r["x0"] / MM, r["top"] / MM, r["width"] / MM, r["height"] / MM)
                 for r in page.rects]  # fmt: skip
        for swatch in shown.swatches:
            # A ruler on the print shows no more than this.
            assert any(one == pytest.approx(swatch.rect, abs=0.2) for one in drawn)
