"""A shade card's pages as they will be printed, one at a time."""

from __future__ import annotations

from collections.abc import Collection

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
    QPixmap,
    QWheelEvent,
)
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from dyeshade.paper.card_layout import LaidCard
from dyeshade.paper.card_page import CardPage, draw_card_page
from dyeshade.window.look import GROUND, SPACE
from dyeshade.window.qt_page import QtPage

_NOTCH = 120
"""What a wheel tells for one of its steps."""

_CLOSER = QSize(1000, 1400)
_FAR = 1_000_000
"""More pages than a card has."""


class CardPageView(QWidget):
    """One page on mid grey, as large as fits; what is chosen has a line around it.

    Signals
    -------
    picked(int)
        A shade was clicked at: its number on the card, from 0.
    turned(int)
        A key asks for another page: so many further on.
    """

    picked = Signal(int)
    turned = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._page: CardPage | None = None
        self._chosen: frozenset[int] = frozenset()
        self._drawn: tuple[CardPage, QSize, QPixmap] | None = None
        self.come_closer(False)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_page(self, page: CardPage | None, chosen: Collection[int]) -> None:
        """Show a page, and which of its shades are chosen."""
        self._page, self._chosen = page, frozenset(chosen)
        self.update()

    def come_closer(self, closer: bool) -> None:
        """Show the page large enough to read, or as large as there is room."""
        self.setMinimumSize(_CLOSER if closer else QSize(240, 320))

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Ask for other pages."""
        key = Qt.Key
        steps = {
            key.Key_PageUp: -1,
            key.Key_PageDown: 1,
            key.Key_Home: -_FAR,
            key.Key_End: _FAR,
        }
        if event.key() in steps:
            self.turned.emit(steps[key(event.key())])
        else:
            super().keyPressEvent(event)

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for a page."""
        return QSize(480, 660)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Paint the page."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), GROUND)
        if self._page is not None:
            left, top, scale = self._place(self._page)
            painter.drawPixmap(QPointF(left, top), self._pixmap(self._page, scale))
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(self.palette().color(QPalette.ColorRole.Highlight), 2))
            for swatch in self._page.swatches:
                if swatch.place in self._chosen:
                    x, y, w, h = (scale * length for length in swatch.cell)
                    painter.drawRect(QRectF(left + x, top + y, w, h).adjusted(-4, -4, 4, 4))
        if self.hasFocus():
            painter.setPen(QPen(self.palette().color(QPalette.ColorRole.Highlight), 4))
            painter.drawRect(self.rect())
        painter.end()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Choose the shade that is clicked at."""
        super().mousePressEvent(event)
        if self._page is None or event.button() != Qt.MouseButton.LeftButton:
            return
        left, top, scale = self._place(self._page)
        point = (event.position() - QPointF(left, top)) / scale
        for swatch in self._page.swatches:
            if QRectF(*swatch.cell).contains(point):
                self.picked.emit(swatch.place)

    def _place(self, page: CardPage) -> tuple[float, float, float]:
        """Left and top of the page in pixels, and pixels to a millimetre."""
        wide, high = page.paper_mm
        scale = min((self.width() - 2 * SPACE) / wide, (self.height() - 2 * SPACE) / high)
        left, top = (self.width() - scale * wide) / 2, (self.height() - scale * high) / 2
        return round(left), round(top), scale

    def _pixmap(self, page: CardPage, scale: float) -> QPixmap:
        # Hundreds of words are drawn once, not at every change of what is chosen.
        ratio = self.devicePixelRatioF()
        wide, high = page.paper_mm
        size = QSize(round(ratio * scale * wide), round(ratio * scale * high))
        if self._drawn is not None and self._drawn[0] is page and self._drawn[1] == size:
            return self._drawn[2]
        pixmap = QPixmap(size)
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(Qt.GlobalColor.white)
        painter = QPainter(pixmap)
        painter.setRenderHints(
            QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing
        )
        painter.scale(scale, scale)
        draw_card_page(QtPage(painter), page)
        painter.end()
        self._drawn = (page, size, pixmap)
        return pixmap


class CardPreview(QWidget):
    """All pages of a card, to turn over with Page Up and Page Down.

    Signals
    -------
    picked(int)
        A shade was clicked at: its number on the card, from 0.
    """

    picked = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._laid: LaidCard | None = None
        self._chosen: frozenset[int] = frozenset()
        self._wheel = 0
        self.number = 0
        self.view = CardPageView()
        self.view.picked.connect(self.picked)
        self.view.turned.connect(lambda steps: self.turn_to(self.number + steps))
        area = QScrollArea()
        area.setWidget(self.view)
        area.setWidgetResizable(True)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.back = QPushButton(self.tr("‹ Back"))
        self.on = QPushButton(self.tr("Next ›"))
        self.closer = QPushButton(self.tr("Closer"))
        self.closer.setCheckable(True)
        self.closer.setToolTip(self.tr("Show the page large enough to read"))
        self.closer.toggled.connect(self.view.come_closer)
        self.told = QLabel()
        self.told.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.back.setToolTip(self.tr("The page before (Page Up)"))
        self.back.setAccessibleName(self.tr("The page before"))
        self.on.setToolTip(self.tr("The next page (Page Down)"))
        self.on.setAccessibleName(self.tr("The next page"))
        self.told.setWordWrap(True)
        self.back.clicked.connect(lambda: self.turn_to(self.number - 1))
        self.on.clicked.connect(lambda: self.turn_to(self.number + 1))
        bar = QHBoxLayout()
        bar.addWidget(self.back)
        bar.addWidget(self.told, 1)
        bar.addWidget(self.closer)
        bar.addWidget(self.on)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        column.addWidget(area, 1)
        column.addLayout(bar)
        self.turn_to(0)

    @property
    def count(self) -> int:
        """How many pages there are."""
        return 0 if self._laid is None else len(self._laid.pages)

    def show_card(self, laid: LaidCard | None) -> None:
        """Show a card that was laid out, at the page that was looked at where there is one."""
        self._laid = laid
        self.turn_to(self.number)

    def show_chosen(self, places: Collection[int]) -> None:
        """Mark shades by their numbers on the card, and turn to the first where none is in view."""
        if self._chosen == frozenset(places):
            # Whoever turns pages over is not taken back by something else that changes.
            return
        self._chosen = frozenset(places)
        pages = () if self._laid is None else self._laid.pages
        having = [
            number
            for number, page in enumerate(pages)
            if any(swatch.place in self._chosen for swatch in page.swatches)
        ]
        self.turn_to(having[0] if having and self.number not in having else self.number)

    def turn_to(self, number: int) -> None:
        """Show a page, the nearest that there is."""
        self.number = max(0, min(number, self.count - 1))
        page = None if self._laid is None else self._laid.pages[self.number]
        self.view.show_page(page, self._chosen)
        told = self.tr("Page {} of {}").format(self.number + 1, self.count) if page else ""
        if page is not None and page.back:
            told += self.tr(", the back of page {}").format(self.number)
        self.told.setText(told)
        self.view.setAccessibleName(self.tr("Preview of the shade card. {}").format(told).strip())
        self.back.setEnabled(self.number > 0)
        self.on.setEnabled(self.number + 1 < self.count)

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802
        """Turn pages over, one for each step of the wheel."""
        self._wheel += event.angleDelta().y()
        steps = int(self._wheel / _NOTCH)
        self._wheel -= steps * _NOTCH
        if steps:
            self.turn_to(self.number - steps)
        event.accept()
