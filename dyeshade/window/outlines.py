"""Outlines over a photo: those that are only looked at, and those that hands reshape."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF
from PySide6.QtWidgets import (
    QGraphicsItem,
    QGraphicsPolygonItem,
    QGraphicsRectItem,
    QGraphicsScene,
    QGraphicsSceneMouseEvent,
    QGraphicsSimpleTextItem,
    QStyleOptionGraphicsItem,
    QWidget,
)

Array = NDArray[np.float64]

# Over a photo of any colour a light line with a dark rim is seen; what is chosen is thicker.
_LINE, _RIM, _QUIET = QColor("#ffffff"), QColor(0, 0, 0, 170), QColor(255, 255, 255, 150)
_CHOSEN = QColor("#9cc8f5")
_HANDLE = 11.0
_LONGEST = 160.0


def polygon_of(points: Array) -> QPolygonF:
    """Points, shape (k, 2), as a polygon."""
    return QPolygonF([QPointF(float(x), float(y)) for x, y in points])


def pen_of(colour: QColor, width: float) -> QPen:
    """A pen that is as wide on the screen at any zoom."""
    pen = QPen(colour, width)
    pen.setCosmetic(True)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return pen


def add_quiet(scene: QGraphicsScene, points: Array) -> QGraphicsItem:
    """An outline that is only looked at: the sheet, its greys."""
    # Made here rather than by the scene: what the scene makes must not hold what is made here.
    rim = QGraphicsPolygonItem(polygon_of(points))
    rim.setPen(pen_of(_RIM, 2.5))
    line = QGraphicsPolygonItem(polygon_of(points), rim)
    line.setPen(pen_of(_QUIET, 1.0))
    scene.addItem(rim)
    return rim


def add_named(scene: QGraphicsScene, points: Array, words: str) -> QGraphicsItem:
    """An outline with its name that is only looked at: a sample that can be picked."""
    rim = QGraphicsPolygonItem(polygon_of(points))
    rim.setPen(pen_of(_RIM, 4.5))
    line = QGraphicsPolygonItem(polygon_of(points), rim)
    line.setPen(pen_of(_LINE, 1.5))
    if words:
        label = _Label(words, rim)
        label.setPos(*(float(value) for value in points[np.argmin(points.sum(axis=1))]))
    scene.addItem(rim)
    return rim


class Outline(QGraphicsPolygonItem):
    """An outline that can be moved as a whole and reshaped at its corners.

    Parameters
    ----------
    key : tuple
        What it stands for: ("sample", name) or ("grey", number).
    points : ndarray, shape (k, 2)
        Pixels of the upright photo.
    label : str
        Written at its upper left.
    changed : callable
        Called with the key and the new points when a hand lets go.
    """

    def __init__(
        self,
        key: tuple[str, object],
        points: Array,
        label: str,
        changed: Callable[[tuple[str, object], Array], None],
    ) -> None:
        super().__init__(polygon_of(points))
        self.key = key
        self._changed = changed
        self._start: QPointF | None = None
        self._before = points
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIsSelectable)
        self.setCursor(Qt.CursorShape.SizeAllCursor)
        self.setZValue(2)
        self.setPen(pen_of(_RIM, 4.0))
        self._label = _Label(label, self)
        self._handles: list[_Handle] = []
        self._chosen = False
        self.corner: int | None = None
        """The corner that the keyboard holds; None where it holds the whole."""
        self._place_label()

    def points(self) -> Array:
        """Corners in pixels of the photo, shape (k, 2)."""
        return np.array([[point.x(), point.y()] for point in self.polygon()])

    def set_points(self, points: Array) -> None:
        """Show it elsewhere, without telling anybody."""
        self.setPolygon(polygon_of(points))
        for handle, (x, y) in zip(self._handles, points, strict=False):
            handle.setPos(float(x), float(y))
        self._place_label()

    def set_chosen(self, chosen: bool) -> None:
        """Show the handles, or hide them."""
        if chosen and not self._handles:
            points = self.points()
            self._handles = [_Handle(self, k, points[k]) for k in range(len(points))]
        # Hidden rather than removed: one of them may be what the mouse holds.
        for handle in self._handles:
            handle.setVisible(chosen)
        self._chosen = chosen
        self.setZValue(3 if chosen else 2)
        self.update()

    def hold_corner(self, number: int | None) -> None:
        """The keyboard takes hold of a corner, or of the whole; its handle shows it."""
        self.corner = None if number is None or number >= len(self.points()) else number
        for handle in self._handles:
            handle.setBrush(QBrush(_LINE if handle.number == self.corner else _CHOSEN))

    def hold_next_corner(self) -> None:
        """From the whole to its corners in turn, and back to the whole."""
        self.hold_corner(0 if self.corner is None else self.corner + 1)

    def move_by(self, way: Array) -> None:
        """Move what the keyboard holds."""
        points = self.points()
        if self.corner is None:
            points = points + way
        else:
            points[self.corner] = points[self.corner] + way
        self.set_points(points)
        self.tell()

    def add_corner(self) -> None:
        """A corner more, halfway from the one that the keyboard holds to the next."""
        points = self.points()
        held = self.corner or 0
        middle = (points[held] + points[(held + 1) % len(points)]) / 2
        self.setPolygon(polygon_of(np.insert(points, held + 1, middle, axis=0)))
        self.tell()

    def tell(self) -> None:
        """Tell that a hand has let go."""
        self._changed(self.key, self.points())

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """A rim and a line in it."""
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(pen_of(_RIM, 4.5))
        painter.drawPolygon(self.polygon())
        painter.setPen(pen_of(_CHOSEN, 2.5) if self._chosen else pen_of(_LINE, 1.5))
        painter.drawPolygon(self.polygon())

    def shape(self) -> QPainterPath:
        """All of its inside can be taken hold of."""
        path = QPainterPath()
        path.addPolygon(self.polygon())
        path.closeSubpath()
        return path

    def mousePressEvent(self, event: QGraphicsSceneMouseEvent) -> None:  # noqa: N802
        """Take hold."""
        super().mousePressEvent(event)
        if event.button() == Qt.MouseButton.LeftButton:
            self._start, self._before = event.scenePos(), self.points()

    def mouseMoveEvent(self, event: QGraphicsSceneMouseEvent) -> None:  # noqa: N802
        """Move it whole."""
        if self._start is not None:
            gone = event.scenePos() - self._start
            self.set_points(self._before + np.array([gone.x(), gone.y()]))

    def mouseReleaseEvent(self, event: QGraphicsSceneMouseEvent) -> None:  # noqa: N802
        """Let go."""
        super().mouseReleaseEvent(event)
        moved = self._start is not None and not np.array_equal(self._before, self.points())
        self._start = None
        if moved:
            self.tell()

    def mouseDoubleClickEvent(self, event: QGraphicsSceneMouseEvent) -> None:  # noqa: N802
        """A corner more, on the side that is nearest."""
        at = np.array([event.scenePos().x(), event.scenePos().y()])
        points = self.points()
        middles = (points + np.roll(points, -1, axis=0)) / 2
        nearest = int(np.argmin(np.hypot(*(middles - at).T)))
        self.setPolygon(polygon_of(np.insert(points, nearest + 1, at, axis=0)))
        self.tell()

    def drop_corner(self, number: int) -> None:
        """A corner less, while three are left."""
        points = self.points()
        if len(points) > 3:
            self.setPolygon(polygon_of(np.delete(points, number, axis=0)))
            self.tell()

    def move_corner(self, number: int, to: QPointF) -> None:
        """Follow a handle."""
        points = self.points()
        points[number] = (to.x(), to.y())
        self.setPolygon(polygon_of(points))
        self._place_label()

    def _place_label(self) -> None:
        points = self.points()
        self._label.setPos(*(float(value) for value in points[np.argmin(points.sum(axis=1))]))


class _Handle(QGraphicsRectItem):
    """A corner to take hold of; as large on the screen at any zoom."""

    def __init__(self, outline: Outline, number: int, at: Array) -> None:
        half = _HANDLE / 2
        super().__init__(QRectF(-half, -half, _HANDLE, _HANDLE), outline)
        self.number = number
        self._outline, self._moved = outline, False
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)
        self.setBrush(QBrush(_CHOSEN))
        self.setPen(QPen(_RIM, 1.5))
        self.setCursor(Qt.CursorShape.CrossCursor)
        self.setPos(float(at[0]), float(at[1]))

    def mousePressEvent(self, event: QGraphicsSceneMouseEvent) -> None:  # noqa: N802
        """Take hold."""
        self._moved = False
        event.accept()

    def mouseMoveEvent(self, event: QGraphicsSceneMouseEvent) -> None:  # noqa: N802
        """Move the corner."""
        self._moved = True
        self.setPos(event.scenePos())
        self._outline.move_corner(self.number, event.scenePos())

    def mouseReleaseEvent(self, event: QGraphicsSceneMouseEvent) -> None:  # noqa: N802
        """Let go."""
        if self._moved:
            self._outline.tell()

    def mouseDoubleClickEvent(self, event: QGraphicsSceneMouseEvent) -> None:  # noqa: N802
        """Take the corner away."""
        self._outline.drop_corner(self.number)


class _Label(QGraphicsSimpleTextItem):
    """A name on a dark plate."""

    def __init__(self, words: str, parent: QGraphicsItem) -> None:
        super().__init__(parent)
        # A long name would lie over all that is beside the piece; the list has it whole.
        metrics = QFontMetricsF(self.font())
        self.setText(metrics.elidedText(words, Qt.TextElideMode.ElideRight, _LONGEST))
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)
        self.setAcceptedMouseButtons(Qt.MouseButton.NoButton)
        self.setBrush(QBrush(_LINE))

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """The plate, then the name."""
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(_RIM)
        painter.drawRoundedRect(self.boundingRect().adjusted(-4, -1, 4, 1), 3, 3)
        super().paint(painter, option, widget)
