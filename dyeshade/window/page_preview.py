"""Pages as they will be printed, one at a time: what previews of any paper have in common."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPalette, QPen, QPixmap, QWheelEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from dyeshade.window.look import GROUND, ON_GROUND, SPACE
from dyeshade.window.qt_page import QtPage

_NOTCH = 120
"""What a wheel tells for one of its steps."""

_CLOSER = QSize(1000, 1400)
_FAR = 1_000_000
"""More pages than anybody prints."""


class PageView(QWidget):
    """One page on mid grey, as large as fits, or a sentence where there is none.

    A page is whatever `draw` can draw, with its ``paper_mm`` (width, height).

    Signals
    -------
    turned(int)
        A key asks for another page: so many further on.
    """

    turned = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.page: Any = None
        self._words = ""
        self._drawn: tuple[Any, QSize, QPixmap] | None = None
        self.come_closer(False)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def draw(self, onto: QtPage, page: Any) -> None:
        """Draw a page, in millimetres."""
        raise NotImplementedError

    def draw_over(self, painter: QPainter, page: Any) -> None:
        """Draw what stands over a page on the screen alone, in pixels."""

    def show_page(self, page: Any, words: str = "") -> None:
        """Show a page, or words where there is none."""
        self.page, self._words = page, words
        self.update()

    def come_closer(self, closer: bool) -> None:
        """Show the page large enough to read, or as large as there is room."""
        self.setMinimumSize(_CLOSER if closer else QSize(240, 320))

    def place(self, page: Any) -> tuple[float, float, float]:
        """Left and top of a page in pixels, and pixels to a millimetre."""
        wide, high = page.paper_mm
        scale = min((self.width() - 2 * SPACE) / wide, (self.height() - 2 * SPACE) / high)
        left, top = (self.width() - scale * wide) / 2, (self.height() - scale * high) / 2
        return round(left), round(top), scale

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Ask for other pages."""
        key = Qt.Key
        steps = {key.Key_PageUp: -1, key.Key_PageDown: 1, key.Key_Home: -_FAR, key.Key_End: _FAR}
        if event.key() in steps:
            self.turned.emit(steps[key(event.key())])
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Paint the page."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), GROUND)
        if self.page is not None:
            left, top, scale = self.place(self.page)
            painter.drawPixmap(round(left), round(top), self._pixmap(self.page, scale))
            self.draw_over(painter, self.page)
        elif self._words:
            painter.setPen(ON_GROUND)
            room = self.rect().adjusted(4 * SPACE, 4 * SPACE, -4 * SPACE, -4 * SPACE)
            flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
            painter.drawText(room, flags, self._words)
        if self.hasFocus():
            painter.setPen(QPen(self.palette().color(QPalette.ColorRole.Highlight), 4))
            painter.drawRect(self.rect())
        painter.end()

    def _pixmap(self, page: Any, scale: float) -> QPixmap:
        # Hundreds of words are drawn once, not at every change of what stands over them.
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
        self.draw(QtPage(painter), page)
        painter.end()
        self._drawn = (page, size, pixmap)
        return pixmap


class PagesPreview(QWidget):
    """All pages of a paper, to turn over with Page Up and Page Down.

    Parameters
    ----------
    view : PageView
        What a page is shown in.
    """

    def __init__(self, view: PageView, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.pages: Sequence[Any] = ()
        self.words = ""
        """What stands there instead of pages."""
        self._wheel = 0
        self.number = 0
        self.view = view
        self.view.turned.connect(lambda steps: self.turn_to(self.number + steps))
        area = QScrollArea()
        area.setWidget(self.view)
        area.setWidgetResizable(True)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.back, self.on = QPushButton(self.tr("‹ Back")), QPushButton(self.tr("Next ›"))
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
        self.back.clicked.connect(lambda: self.turn_to(self.number - 1))
        self.on.clicked.connect(lambda: self.turn_to(self.number + 1))
        bar = QHBoxLayout()
        for widget, share in ((self.back, 0), (self.told, 1), (self.closer, 0), (self.on, 0)):
            bar.addWidget(widget, share)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        column.addWidget(area, 1)
        column.addLayout(bar)
        self.turn_to(0)

    @property
    def count(self) -> int:
        """How many pages there are."""
        return len(self.pages)

    def name_words(self) -> str:
        """What the preview is called for those who do not see it; "{}" is what is told."""
        return self.tr("Preview. {}")

    def told_of(self, page: Any) -> str:
        """What is told of the page that is shown."""
        return self.tr("Page {} of {}").format(self.number + 1, self.count)

    def put_pages(self, pages: Sequence[Any], words: str = "") -> None:
        """Show pages, at the number that was looked at where there is one; or else words."""
        self.pages, self.words = pages, words
        self.turn_to(self.number)

    def turn_to(self, number: int) -> None:
        """Show a page, the nearest that there is."""
        self.number = max(0, min(number, self.count - 1))
        page = self.pages[self.number] if self.pages else None
        self.view.show_page(page, self.words)
        told = "" if page is None else self.told_of(page)
        self.told.setText(told)
        self.view.setAccessibleName(self.name_words().format(told or self.words).strip())
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
