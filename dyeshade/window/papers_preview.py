"""Tags, labels, piece sheets and pot cards as they will be printed."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from dyeshade.paper.paper_page import LaidPages, PaperPage, draw_paper_page
from dyeshade.window.page_preview import PagesPreview, PageView
from dyeshade.window.qt_page import QtPage


class _PaperView(PageView):
    def draw(self, onto: QtPage, page: PaperPage) -> None:
        draw_paper_page(onto, page)


class PapersPreview(PagesPreview):
    """All pages of a paper, or a sentence where there are none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(_PaperView(), parent)

    def show_pages(self, laid: LaidPages) -> None:
        """Show pages, at the number that was looked at where there is one."""
        self.put_pages(laid.pages)

    def show_words(self, words: str) -> None:
        """Say why there are no pages."""
        self.put_pages((), words)

    def turn_to(self, number: int) -> None:
        """Show a page, the nearest that there is."""
        super().turn_to(number)
        self.closer.setEnabled(self.count > 0)
