"""What was learnt of a camera or a print, painted: pairs of swatches on mid grey."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, QRect, QSize, Qt
from PySide6.QtGui import QColor, QHelpEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QToolTip, QWidget

from dyeshade.window.look import GROUND, ON_GROUND, SPACE
from dyeshade.words.learnt import grey_words, patch_words
from dyeshade.work.chart_compared import ChartCompared, GreyCompared, Rgb

_PATCH, _GAP = 46, 6


class ChartSwatches(QWidget):
    """A chart's patches as published, and within each how it was seen before and since."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._compared: ChartCompared | None = None
        self.setAccessibleName(self.tr("The chart's colours before and since"))

    def show_compared(self, compared: ChartCompared | None) -> None:
        """Show another chart, or none."""
        self._compared = compared
        self.updateGeometry()
        self.setVisible(compared is not None)
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802
        """As wide as it is let, as high as its rows need."""
        if self._compared is None:
            return QSize(0, 0)
        return QSize(360, self._side(360) * self._compared.rows + _GAP)

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """No smaller: a swatch must be large enough to judge."""
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Paint the patches."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), GROUND)
        if self._compared is None:
            return
        for number, patch in enumerate(self._compared.patches):
            rect = self._place(number)
            painter.fillRect(rect, QColor(*patch.published))
            if not patch.used:
                painter.setPen(ON_GROUND)
                painter.drawLine(rect.topLeft(), rect.bottomRight())
                continue
            inner = rect.adjusted(0, rect.height() // 4, 0, -(rect.height() // 4))
            half = rect.width() // 3
            left = QRect(inner.left(), inner.top(), half, inner.height())
            right = QRect(inner.right() - half + 1, inner.top(), half, inner.height())
            painter.fillRect(left, QColor(*patch.before))
            painter.fillRect(right, QColor(*patch.after))

    def event(self, event: QEvent) -> bool:
        """Tell how far a patch was off, where the pointer rests on it."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            words = self.words_at(event.pos())
            QToolTip.showText(event.globalPos(), words, self)
            return True
        return super().event(event)

    def words_at(self, pos: QPoint) -> str:
        """What there is to say of the patch at a place; "" beside them."""
        if self._compared is not None:
            for number, patch in enumerate(self._compared.patches):
                if self._place(number).contains(pos):
                    return patch_words(number + 1, patch)
        return ""

    def _side(self, width: int) -> int:
        assert self._compared is not None
        return max(12, min(_PATCH + _GAP, (width - _GAP) // self._compared.columns))

    def _place(self, number: int) -> QRect:
        assert self._compared is not None
        side = self._side(self.width())
        row, column = divmod(number, self._compared.columns)
        inset = (self.width() - side * self._compared.columns - _GAP) // 2
        gap = _GAP if side > 20 else 2
        return QRect(inset + gap + column * side, gap + row * side, side - gap, side - gap)


class GreySwatches(QWidget):
    """Greys of a print above those of a plain one, and its colours below."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._greys: tuple[GreyCompared, ...] = ()
        self._colours: tuple[Rgb, ...] = ()
        self.setAccessibleName(
            self.tr("The sheet's greys, as a plain print has them and as learnt")
        )

    def show_compared(self, greys: tuple[GreyCompared, ...], colours: tuple[Rgb, ...]) -> None:
        """Show another print, or none."""
        self._greys, self._colours = greys, colours
        self.setVisible(bool(greys))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for greys, their numbers and a line of colours."""
        line = self.fontMetrics().height()
        return QSize(360, 4 * SPACE + 60 + 2 * line + (36 if self._colours else 0))

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """No smaller."""
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Paint the strips."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), GROUND)
        if not self._greys:
            return
        painter.setPen(ON_GROUND)
        line = self.fontMetrics().height()
        step = (self.width() - 2 * SPACE) // len(self._greys)
        centre = Qt.AlignmentFlag.AlignCenter
        for number, grey in enumerate(self._greys):
            left, top = SPACE + number * step, SPACE
            painter.drawText(QRect(left, top, step, line), centre, grey_words(grey.plain))
            painter.fillRect(QRect(left, top + line + 2, step, 30), QColor(*grey.plain_shown))
            painter.fillRect(QRect(left, top + line + 32, step, 30), QColor(*grey.learnt_shown))
            painter.drawText(
                QRect(left, top + line + 64, step, line), centre, grey_words(grey.learnt)
            )
        wide = self.width() - 2 * SPACE
        for number, colour in enumerate(self._colours):
            left = SPACE + wide * number // len(self._colours)
            right = SPACE + wide * (number + 1) // len(self._colours)
            painter.fillRect(QRect(left, self.height() - 34, right - left, 24), QColor(*colour))
