"""The photo that is looked at: it zooms and pans, and what was found is drawn over it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPixmap,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import (
    QFrame,
    QGraphicsPixmapItem,
    QGraphicsRectItem,
    QGraphicsScene,
    QGraphicsView,
    QWidget,
)

from dyeshade.window.look import GROUND, ON_GROUND
from dyeshade.window.outlines import Outline, add_quiet, pen_of
from dyeshade.window.photo_page import PhotoPage

Array = NDArray[np.float64]
Key = tuple[str, object]

_STEP = 1.25
_ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, -1.0),
    Qt.Key.Key_Down: (0.0, 1.0),
}

_CORNERS = (Qt.Key.Key_C, Qt.Key.Key_Insert, Qt.Key.Key_Backspace)


class PhotoView(QGraphicsView):
    """Coordinates of its scene are pixels of the upright photo.

    Signals
    -------
    reshaped(tuple, ndarray)
        Key of an outline and its new corners, shape (k, 2).
    drawn(str, ndarray)
        "sample" or "grey", and the corners of what was drawn.
    chosen(tuple)
        Key of the outline that was taken hold of.
    released()
        The mouse let go of whatever it held.
    given_up()
        Nothing is to be drawn after all.
    """

    reshaped = Signal(object, object)
    drawn = Signal(str, object)
    chosen = Signal(object)
    released = Signal()
    given_up = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setScene(QGraphicsScene(self))
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setBackgroundBrush(GROUND)
        self.setRenderHints(
            QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform
        )
        self.setDragMode(QGraphicsView.DragMode.ScrollHandDrag)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.AnchorUnderMouse)
        self.setMinimumSize(320, 240)
        self._picture = QGraphicsPixmapItem()
        self._picture.setTransformationMode(Qt.TransformationMode.SmoothTransformation)
        self.scene().addItem(self._picture)
        self._items: list[object] = []
        self.outlines: dict[Key, Outline] = {}
        self._fitted = True
        self._drawing: str | None = None
        self._rubber: QGraphicsRectItem | None = None
        self._from = QPointF()
        self._corner: int | None = None
        self.hint = ""
        """Said where there is no photo yet."""

    def show_picture(self, picture: QPixmap, size_px: tuple[int, int]) -> None:
        """Show a picture of a photo that has `size_px` pixels, and keep the zoom."""
        self._picture.setPixmap(picture)
        if not picture.isNull():
            self._picture.setScale(size_px[0] / picture.width())
        area = QRectF(0, 0, *size_px)
        if area != self.sceneRect():
            self.scene().setSceneRect(area)
            self.setSceneRect(area)
            self.fit()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Paint the photo, or say what is wanted."""
        super().paintEvent(event)
        if self.hint and self._picture.pixmap().isNull():
            painter = QPainter(self.viewport())
            painter.setPen(ON_GROUND)
            font = painter.font()
            font.setPointSizeF(1.25 * font.pointSizeF())
            painter.setFont(font)
            room = self.viewport().rect().adjusted(60, 30, -60, -30)
            flags = Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextWordWrap
            painter.drawText(room, int(flags), self.hint)
            painter.end()

    def show_outlines(self, page: PhotoPage | None) -> bool:
        """Draw the sheet, its greys, the drawn greys and the samples of a photo.

        Returns
        -------
        bool
            False while an outline is held by the mouse; nothing is then drawn anew.
        """
        if self.scene().mouseGrabberItem() is not None:
            return False
        for item in [*self._items, *self.outlines.values()]:
            self.scene().removeItem(item)
        self._items, self.outlines = [], {}
        if page is None:
            return True
        sheet = None if page.measurement is None else page.measurement.sheet
        if sheet is not None:
            self._items.append(add_quiet(self.scene(), sheet.outline_px))
            self._items += [add_quiet(self.scene(), grey) for grey in sheet.greys_px]
        for number, grey in enumerate(page.asked.greys):
            words = f"{100 * grey.reflectance:.3g} %"
            self._add(("grey", number), np.asarray(grey.corners), words)
        for entry in page.entries():
            if len(entry.outline_px):
                self._add(("sample", entry.name), entry.outline_px, entry.name)
        return True

    def choose(self, key: Key | None) -> None:
        """Show the handles of one outline."""
        for one, outline in self.outlines.items():
            outline.set_chosen(one == key)
            outline.hold_corner(self._corner if one == key else None)

    def begin_drawing(self, kind: str | None) -> None:
        """The next drag draws a "sample" or a "grey"; None ends that."""
        self._drawing = kind
        drag = QGraphicsView.DragMode
        self.setDragMode(drag.NoDrag if kind else drag.ScrollHandDrag)
        self.viewport().setCursor(
            Qt.CursorShape.CrossCursor if kind else Qt.CursorShape.OpenHandCursor
        )

    @property
    def drawing(self) -> str | None:
        """What the next drag draws."""
        return self._drawing

    def fit(self) -> None:
        """The whole photo in view."""
        self._fitted = True
        if not self.sceneRect().isEmpty():
            self.fitInView(self.sceneRect(), Qt.AspectRatioMode.KeepAspectRatio)

    def zoom(self, closer: bool) -> None:
        """One step closer, or away."""
        self._zoom_by(_STEP if closer else 1 / _STEP)

    def _zoom_by(self, factor: float) -> None:
        self._fitted = False
        now = self.transform().m11()
        factor = min(max(now * factor, 0.02), 20.0) / now
        self.scale(factor, factor)

    def _add(self, key: Key, points: Array, label: str) -> None:
        outline = Outline(key, points, label, self.reshaped.emit)
        self.scene().addItem(outline)
        self.outlines[key] = outline

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """A photo that was whole in view stays so."""
        super().resizeEvent(event)
        if self._fitted:
            self.fit()

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802
        """The wheel zooms about the pointer."""
        self._zoom_by(_STEP ** (event.angleDelta().y() / 120))
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Begin a drawing, or take hold of an outline."""
        at = self.mapToScene(event.position().toPoint())
        if self._drawing and event.button() == Qt.MouseButton.LeftButton:
            self._from = at
            self._rubber = self.scene().addRect(QRectF(at, at), pen_of(Qt.GlobalColor.white, 2))
            return
        item = self.itemAt(event.position().toPoint())
        while item is not None and not isinstance(item, Outline):
            item = item.parentItem()
        if isinstance(item, Outline):
            self.chosen.emit(item.key)
        super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Draw on."""
        if self._rubber is not None:
            at = self.mapToScene(event.position().toPoint())
            self._rubber.setRect(QRectF(self._from, at).normalized())
            return
        super().mouseMoveEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """End a drawing; a mere click draws nothing."""
        if self._rubber is None:
            super().mouseReleaseEvent(event)
            self.released.emit()
            return
        area = self._rubber.rect() & self.sceneRect()
        self.scene().removeItem(self._rubber)
        self._rubber = None
        if min(area.width(), area.height()) * self.transform().m11() > 5:
            self._tell_drawn(area)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """The keyboard's way to draw, to move and to reshape.

        Arrows move the chosen outline, or the corner that C has taken hold of; Insert adds a
        corner, Backspace takes it away. Enter draws in the middle of the view, Escape gives that
        up.
        """
        key = Qt.Key(event.key())
        held = next((one for one in self.outlines.values() if one.isSelected()), None)
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._drawing:
            middle = self.mapToScene(self.viewport().rect().center())
            side = 60 / self.transform().m11()
            self._tell_drawn(QRectF(middle.x() - side / 2, middle.y() - side / 2, side, side))
        elif key == Qt.Key.Key_Escape and self._drawing:
            self.given_up.emit()
        elif key in _ARROWS and held is not None:
            step = 10.0 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1.0
            move = np.array(_ARROWS[key]) * step / self.transform().m11()
            held.move_by(move)
        elif held is not None and key in _CORNERS:
            if key == Qt.Key.Key_C:
                held.hold_next_corner()
                self._corner = held.corner
            elif key == Qt.Key.Key_Insert:
                held.add_corner()
            elif held.corner is not None:
                held.drop_corner(held.corner)
        else:
            super().keyPressEvent(event)

    def _tell_drawn(self, area: QRectF) -> None:
        kind = self._drawing
        self.begin_drawing(None)
        left, top, right, bottom = area.left(), area.top(), area.right(), area.bottom()
        corners = np.array([[left, top], [right, top], [right, bottom], [left, bottom]])
        self.drawn.emit(kind, corners)
