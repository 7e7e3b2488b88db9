"""A figure on the screen: what it shows can be pointed at, walked through by keys, and opened."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QFocusEvent,
    QHelpEvent,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QFrame, QToolTip, QWidget

from dyeshade.paper.plot import Figure
from dyeshade.paper.plot_page import FILE_MM, LaidFigure, draw_figure, lay_out
from dyeshade.paper.plot_place import Spot
from dyeshade.window.look import ON_GROUND
from dyeshade.window.qt_page import QtPage

PX_PER_MM = 4.2
_POINTS, _MARGIN_MM, _REACH_PX = 8.0, 2.0, 5.0
_LEAST_PX, _LEAST_ROW_PX = 200, 88
_FILE_PX_PER_MM = 200 / 25.4
_HINTS = QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing
_STEPS = {
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_Down: 1,
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Up: -1,
}


class PlotView(QFrame):
    """Shows a figure.

    Attributes
    ----------
    figure : Figure or None
    spots : tuple of Spot
        What can be pointed at, in mm.
    current : int
        Which of them the keyboard is at; -1 for none.

    Signals
    -------
    reading_wanted(int)
        A reading is to be opened, by its id.
    pointed(str)
        What is told of what is pointed at; "" for nothing.
    """

    reading_wanted = Signal(int)
    pointed = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(QSize(420, _LEAST_PX))
        self.setAccessibleName(self.tr("Plot"))
        self.figure: Figure | None = None
        self.current = -1
        self._laid: LaidFigure | None = None

    @property
    def spots(self) -> tuple[Spot, ...]:
        """What can be pointed at."""
        return () if self._laid is None else self._laid.spots

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for two plots side by side."""
        return QSize(860, 420)

    def show_figure(self, figure: Figure | None) -> None:
        """Show another figure, or nothing."""
        if figure == self.figure:
            return
        self.figure, self.current = figure, -1
        self.setAccessibleName(self.tr("Plot") if figure is None else figure.title)
        self._tell("")
        rows = 1 if figure is None else len(figure.rows)
        self.setMinimumHeight(_LEAST_PX + _LEAST_ROW_PX * (rows - 1))
        self._lay_out()

    def place_of(self, spot: int) -> QPointF:
        """Where the middle of a spot is, in pixels of the widget."""
        return _pixels(self.spots[spot].rect).center()

    def spot_at(self, place: QPointF) -> int:
        """The nearest spot under a place, -1 where there is none; swatches before lines."""
        best, nearest = -1, (False, 0.0)
        reach = _REACH_PX
        for number, spot in enumerate(self.spots):
            rect = _pixels(spot.rect).adjusted(-reach, -reach, reach, reach)
            if rect.contains(place):
                away = rect.center() - place
                found = (spot.reading_id is None, away.manhattanLength())
                if best < 0 or found < nearest:
                    best, nearest = number, found
        return best

    def go_to(self, spot: int) -> None:
        """Point at a spot by the keyboard."""
        self.current = spot
        self._tell(self.spots[spot].words if spot >= 0 else "")
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Lay the figure out for the new size."""
        super().resizeEvent(event)
        self._lay_out()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Tell what is pointed at."""
        number = self.spot_at(event.position())
        opens = number >= 0 and self.spots[number].reading_id is not None
        self.setCursor(Qt.CursorShape.PointingHandCursor if opens else Qt.CursorShape.ArrowCursor)
        if number != self.current:
            self.go_to(number)

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802
        """Tell nothing more."""
        super().leaveEvent(event)
        if not self.hasFocus():
            self.go_to(-1)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Open the reading that was clicked."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._open(self.spot_at(event.position()))

    def event(self, event: QEvent) -> bool:
        """Show what is pointed at beside the pointer."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            number = self.spot_at(QPointF(event.pos()))
            if number < 0:
                QToolTip.hideText()
            else:
                rect = _pixels(self.spots[number].rect).toAlignedRect()
                QToolTip.showText(event.globalPos(), self.spots[number].words, self, rect)
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Walk from mark to mark, and open one."""
        last, key = len(self.spots) - 1, Qt.Key(event.key())
        if last >= 0 and key in _STEPS:
            self.go_to(min(max(self.current + _STEPS[key], 0), last))
        elif last >= 0 and key in (Qt.Key.Key_Home, Qt.Key.Key_End):
            self.go_to(0 if key == Qt.Key.Key_Home else last)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self._open(self.current)
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802
        """Begin at the first mark."""
        super().focusInEvent(event)
        if event.reason() != Qt.FocusReason.MouseFocusReason and self.current < 0 and self.spots:
            self.go_to(0)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802
        """Show that keys go elsewhere."""
        super().focusOutEvent(event)
        self.go_to(-1)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Paint the figure, and a frame about what is pointed at."""
        painter = QPainter(self)
        painter.setRenderHints(_HINTS)
        palette = self.palette()
        painter.fillRect(self.rect(), palette.color(QPalette.ColorRole.Base))
        if self._laid is not None:
            painter.save()
            painter.scale(PX_PER_MM, PX_PER_MM)
            words = QtPage(painter, palette.color(QPalette.ColorRole.Text))
            draw_figure(QtPage(painter), self._laid, words)
            painter.restore()
            if 0 <= self.current < len(self.spots):
                self._frame(painter, _pixels(self.spots[self.current].rect))
        focus = self.hasFocus()
        role = QPalette.ColorRole.Highlight if focus else QPalette.ColorRole.Mid
        painter.setPen(QPen(palette.color(role), 2 if focus else 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))
        painter.end()

    def _frame(self, painter: QPainter, rect: QRectF) -> None:
        """Black within white, so that it shows on every ground."""
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for wider, colour in ((3.0, Qt.GlobalColor.black), (5.0, ON_GROUND)):
            painter.setPen(QPen(colour, 2.0))
            painter.drawRect(rect.adjusted(-wider, -wider, wider, wider))

    def _lay_out(self) -> None:
        size = (self.width() / PX_PER_MM, self.height() / PX_PER_MM)
        self._laid = (
            None
            if self.figure is None
            else lay_out(self.figure, size, _POINTS, alone=False, margin=_MARGIN_MM)
        )
        self.current = min(self.current, len(self.spots) - 1)
        self.update()

    def _open(self, spot: int) -> None:
        if spot >= 0 and self.spots[spot].reading_id is not None:
            self.reading_wanted.emit(self.spots[spot].reading_id)

    def _tell(self, words: str) -> None:
        self.setAccessibleDescription(words)
        if self.hasFocus():
            QAccessible.updateAccessibility(
                QAccessibleEvent(self, QAccessible.Event.DescriptionChanged)
            )
        self.pointed.emit(words)


def figure_picture(figure: Figure) -> QImage:
    """A figure as a picture of 200 dots an inch, the same page as its PDF."""
    wide, high = (round(_FILE_PX_PER_MM * side) for side in FILE_MM)
    picture = QImage(wide, high, QImage.Format.Format_RGB888)
    picture.fill(0xFFFFFF)
    dots = round(1000 * _FILE_PX_PER_MM)
    picture.setDotsPerMeterX(dots)
    picture.setDotsPerMeterY(dots)
    painter = QPainter(picture)
    painter.setRenderHints(_HINTS)
    painter.scale(_FILE_PX_PER_MM, _FILE_PX_PER_MM)
    draw_figure(QtPage(painter), lay_out(figure, FILE_MM))
    painter.end()
    return picture


def _pixels(rect: tuple[float, float, float, float]) -> QRectF:
    return QRectF(*(PX_PER_MM * value for value in rect))
