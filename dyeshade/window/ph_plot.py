"""The way of a bath to a pH, painted: readings, what is believed, what would come, the bounds."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPalette, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from dyeshade.bath.reach.plot import ReachPlot
from dyeshade.words.ph_plot_shapes import PlotShapes, plot_shapes

_LEFT, _RIGHT, _TOP, _BOTTOM = 34.0, 88.0, 10.0, 34.0


class PhPlot(QWidget):
    """Paints shapes that are given as shares of its width and height."""

    def __init__(self) -> None:
        super().__init__()
        self._shapes: PlotShapes | None = None
        self.setMinimumHeight(230)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:  # noqa: N802
        """Wide rather than high."""
        return QSize(480, 260)

    def show_plot(self, plot: ReachPlot | None, unit: str = "") -> None:
        """Show a plot, None for an empty one; `unit` is that of what would be added."""
        self._shapes = None if plot is None else plot_shapes(plot, unit)
        said = "" if self._shapes is None else self._shapes.in_words
        self.setAccessibleName(self.tr("pH after each addition"))
        self.setAccessibleDescription(said)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802
        """Paint it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        area = QRectF(self.rect()).adjusted(_LEFT, _TOP, -_RIGHT, -_BOTTOM)
        palette = self.palette()
        ink = palette.color(QPalette.ColorRole.WindowText)
        accent = palette.color(QPalette.ColorRole.Highlight)
        faint = QColor(ink)
        faint.setAlphaF(0.35)
        painter.fillRect(area, palette.color(QPalette.ColorRole.Base))
        shapes = self._shapes
        if shapes is None:
            painter.setPen(faint)
            painter.drawRect(area)
            faint.setAlphaF(0.7)
            painter.setPen(faint)
            flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
            said = self.tr("Readings, and what would come next, are drawn here.")
            painter.drawText(area.adjusted(_TOP, _TOP, -_TOP, -_TOP), flags, said)
            return

        def at(point: tuple[float, float]) -> QPointF:
            x, y = point
            return QPointF(area.x() + x * area.width(), area.bottom() - y * area.height())

        painter.save()
        painter.setClipRect(area)
        for y0, y1 in shapes.beyond:
            shade = QColor(ink)
            shade.setAlphaF(0.10)
            painter.fillRect(QRectF(at((0.0, y1)), at((1.0, y0))), shade)
        for band in shapes.bands:
            colour = QColor(accent)
            colour.setAlphaF(0.22)
            painter.setBrush(colour)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.drawPolygon(QPolygonF([at(point) for point in band]))
        for line in shapes.lines:
            painter.setPen(QPen(accent, 2))
            painter.drawPolyline(QPolygonF([at(point) for point in line]))
        painter.restore()
        small = painter.font()
        small.setPointSizeF(small.pointSizeF() * 0.9)
        painter.setFont(small)
        for y, words in shapes.ph_marks:
            painter.setPen(QPen(faint, 1))
            painter.drawLine(at((0.0, y)), at((1.0, y)))
            painter.setPen(ink)
            point = at((0.0, y))
            painter.drawText(
                QRectF(point.x() - _LEFT, point.y() - 9, _LEFT - 6, 18),
                Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter,
                words,
            )
        for x, words in shapes.step_marks:
            painter.setPen(ink)
            point = at((x, 0.0))
            painter.drawText(
                QRectF(point.x() - 70, point.y() + 4, 140, 28),
                Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop,
                words,
            )
        for bound in shapes.bounds:
            style = Qt.PenStyle.DashLine if bound.kind == "target" else Qt.PenStyle.SolidLine
            painter.setPen(QPen(accent if bound.kind == "target" else ink, 1.6, style))
            painter.drawLine(at((0.0, bound.y)), at((1.0, bound.y)))
            painter.setPen(ink)
            point = at((1.0, bound.label_y))
            painter.drawText(
                QRectF(point.x() + 6, point.y() - 9, _RIGHT - 6, 18),
                Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter,
                bound.words,
            )
        for read in shapes.readings:
            painter.setPen(QPen(ink, 1.4))
            painter.drawLine(at((read.x, read.low)), at((read.x, read.high)))
            painter.setBrush(ink)
            painter.drawEllipse(at((read.x, read.y)), 3.6, 3.6)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(faint)
        painter.drawRect(area)
