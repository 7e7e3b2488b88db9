"""A shade card's pages as they will be printed; what is chosen has a line around it."""

from __future__ import annotations

from collections.abc import Collection

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPalette, QPen
from PySide6.QtWidgets import QWidget

from dyeshade.paper.card_layout import LaidCard
from dyeshade.paper.card_page import CardPage, draw_card_page
from dyeshade.window.page_preview import PagesPreview, PageView
from dyeshade.window.qt_page import QtPage


class CardPageView(PageView):
    """One page; what is chosen has a line around it.

    Signals
    -------
    picked(int)
        A shade was clicked at: its number on the card, from 0.
    """

    picked = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._chosen: frozenset[int] = frozenset()

    def mark(self, chosen: frozenset[int]) -> None:
        """Mark shades by their numbers on the card."""
        self._chosen = chosen
        self.update()

    def draw(self, onto: QtPage, page: CardPage) -> None:
        """Draw a page, in millimetres."""
        draw_card_page(onto, page)

    def draw_over(self, painter: QPainter, page: CardPage) -> None:
        """Draw the lines around what is chosen."""
        left, top, scale = self.place(page)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.palette().color(QPalette.ColorRole.Highlight), 2))
        for swatch in page.swatches:
            if swatch.place in self._chosen:
                x, y, w, h = (scale * length for length in swatch.cell)
                painter.drawRect(QRectF(left + x, top + y, w, h).adjusted(-4, -4, 4, 4))

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for a page."""
        return QSize(480, 660)

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Choose the shade that is clicked at."""
        super().mousePressEvent(event)
        if self.page is None or event.button() != Qt.MouseButton.LeftButton:
            return
        left, top, scale = self.place(self.page)
        point = (event.position() - QPointF(left, top)) / scale
        for swatch in self.page.swatches:
            if QRectF(*swatch.cell).contains(point):
                self.picked.emit(swatch.place)


class CardPreview(PagesPreview):
    """All pages of a card.

    Signals
    -------
    picked(int)
        A shade was clicked at: its number on the card, from 0.
    """

    picked = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        view = CardPageView()
        super().__init__(view, parent)
        self._chosen: frozenset[int] = frozenset()
        self._mark = view.mark
        self.told.setWordWrap(True)
        view.picked.connect(self.picked)

    def name_words(self) -> str:
        """What the preview is called for those who do not see it."""
        return self.tr("Preview of the shade card. {}")

    def told_of(self, page: CardPage) -> str:
        """Which page it is, and of which it is the back."""
        told = super().told_of(page)
        if page.back:
            told += self.tr(", the back of page {}").format(self.number)
        return told

    def show_card(self, laid: LaidCard | None) -> None:
        """Show a card that was laid out, at the page that was looked at where there is one."""
        self.put_pages(() if laid is None else laid.pages)

    def show_chosen(self, places: Collection[int]) -> None:
        """Mark shades by their numbers on the card, and turn to the first where none is in view."""
        if self._chosen == frozenset(places):
            # Whoever turns pages over is not taken back by something else that changes.
            return
        self._chosen = frozenset(places)
        self._mark(self._chosen)
        having = [
            number
            for number, page in enumerate(self.pages)
            if any(swatch.place in self._chosen for swatch in page.swatches)
        ]
        self.turn_to(having[0] if having and self.number not in having else self.number)
