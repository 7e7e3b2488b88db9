"""A photo in which a spot is pointed at, by the mouse or with the keyboard."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPixmap
from PySide6.QtWidgets import QGraphicsItem, QGraphicsRectItem, QWidget

from dyeshade.measure.result import Measurement
from dyeshade.window.outlines import add_named, add_quiet, pen_of
from dyeshade.window.photo_view import PhotoView
from dyeshade.work.look_at_photos import PhotoLook
from dyeshade.work.pick_shade import Array

_STILL_PX, _STEP_PX, _CROSS_PX = 4.0, 6.0, 12.0
_ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, -1.0),
    Qt.Key.Key_Down: (0.0, 1.0),
}


class PickView(PhotoView):
    """Shows what was found in a photo; what is clicked is told.

    Signals
    -------
    spotted(float, float)
        A place was clicked, or Enter was pressed with the cross on it: x and y, pixels of the
        upright photo.
    """

    spotted = Signal(float, float)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown: list[QGraphicsItem] = []
        self._spot: QGraphicsItem | None = None
        self._pressed: QPointF | None = None
        self._cross: QGraphicsItem | None = None
        self._at = QPointF()

    def show_look(self, look: PhotoLook | None) -> None:
        """Show another photo with its samples, or none."""
        for item in self._shown:
            self.scene().removeItem(item)
        self._shown = []
        self.show_spot(None)
        self._hide_cross()
        picture = QPixmap()
        if look is not None:
            picture.loadFromData(look.corrected or look.taken)
        self.show_picture(picture, (0, 0) if look is None else look.size_px)
        found = None if look is None else look.found
        if isinstance(found, Measurement):
            if found.sheet is not None:
                self._shown.append(add_quiet(self.scene(), found.sheet.outline_px))
            for sample in found.samples:
                if len(sample.outline_px):
                    self._shown.append(add_named(self.scene(), sample.outline_px, sample.name))
        self._at = self.sceneRect().center()
        self.viewport().setCursor(Qt.CursorShape.CrossCursor)

    def show_spot(self, outline: Array | None) -> None:
        """Draw the spot that is measured, or none."""
        if self._spot is not None:
            self.scene().removeItem(self._spot)
        self._spot = None if outline is None else add_named(self.scene(), np.asarray(outline), "")

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """A click points, a drag moves the photo."""
        self._pressed = event.position()
        super().mousePressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Tell what was clicked."""
        super().mouseReleaseEvent(event)
        self.viewport().setCursor(Qt.CursorShape.CrossCursor)
        still = self._pressed is not None and _near(event.position(), self._pressed)
        if still and event.button() == Qt.MouseButton.LeftButton:
            self._hide_cross()
            self._at = self.mapToScene(event.position().toPoint())
            self._tell()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Arrows move a cross over the photo, with Shift farther; Enter picks what is under it."""
        key = Qt.Key(event.key())
        if key in _ARROWS:
            far = 5.0 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1.0
            step = far * _STEP_PX / self.transform().m11()
            right, down = _ARROWS[key]
            area = self.sceneRect()
            self._at = QPointF(
                min(max(self._at.x() + step * right, area.left()), area.right()),
                min(max(self._at.y() + step * down, area.top()), area.bottom()),
            )
            self._show_cross()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._tell()
        else:
            super().keyPressEvent(event)

    def _tell(self) -> None:
        if self.sceneRect().contains(self._at):
            self.spotted.emit(self._at.x(), self._at.y())

    def _show_cross(self) -> None:
        self._hide_cross()
        half = _CROSS_PX
        cross = QGraphicsRectItem(QRectF(-1.5, -half, 3, 2 * half))
        bar = QGraphicsRectItem(QRectF(-half, -1.5, 2 * half, 3), cross)
        for item in (cross, bar):
            item.setPen(pen_of(QColor(0, 0, 0), 1))
            item.setBrush(QColor("#ffffff"))
        self.scene().addItem(cross)
        cross.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)
        cross.setPos(self._at)
        cross.setZValue(5)
        self._cross = cross
        self.ensureVisible(cross, 20, 20)

    def _hide_cross(self) -> None:
        if self._cross is not None:
            self.scene().removeItem(self._cross)
            self._cross = None


def _near(one: QPointF, other: QPointF) -> bool:
    return (one - other).manhattanLength() <= _STILL_PX
