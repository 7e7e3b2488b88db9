"""The photo of a strip: scale and pad are marked on it, and shown with what they stand for."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import Qt
from PySide6.QtGui import QTransform
from PySide6.QtWidgets import QGraphicsItem, QGraphicsSimpleTextItem

from dyeshade.window.outlines import add_quiet
from dyeshade.window.photo_view import PhotoView

Array = NDArray[np.float64]
Block = tuple[str, Array]

SCALE, PAD = "scale", "pad"


class StripView(PhotoView):
    """Draws with `begin_drawing(SCALE)` or `begin_drawing(PAD)`; both are four corners.

    Signals
    -------
    drawn(str, ndarray), reshaped(tuple, ndarray)
        As `PhotoView`; of the key its first part counts.
    """

    def show_marks(self, scale: Array | None, pad: Array | None, blocks: Sequence[Block]) -> None:
        """Show what is marked.

        Parameters
        ----------
        scale, pad : ndarray, shape (4, 2), or None
        blocks : sequence of (str, ndarray of shape (4, 2))
            What is written at each block, and where it is read.
        """
        if self.scene().mouseGrabberItem() is not None:
            return
        held = next((key for key, one in self.outlines.items() if one.isSelected()), None)
        for item in [*self._items, *self.outlines.values()]:
            self.scene().removeItem(item)
        self._items, self.outlines = [], {}
        for said, corners in blocks:
            block = add_quiet(self.scene(), corners)
            self._items.append(block)
            _write(said, corners, block)
        for kind, corners in ((SCALE, scale), (PAD, pad)):
            if corners is not None:
                self._add((kind, 0), corners, "")
                # A name on a plate would hide what is marked: both are small.
                for item in self.outlines[kind, 0].childItems():
                    item.setVisible(False)
        if held in self.outlines:
            self.outlines[held].setSelected(True)
            self.choose(held)


def _write(said: str, corners: Array, parent: QGraphicsItem) -> None:
    """Words in the middle of a block, as large at any zoom; read on any colour."""
    label = QGraphicsSimpleTextItem(said, parent)
    label.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)
    label.setBrush(Qt.GlobalColor.white)
    under = QGraphicsSimpleTextItem(said, label)
    under.setFlag(QGraphicsItem.GraphicsItemFlag.ItemStacksBehindParent)
    under.setBrush(Qt.GlobalColor.black)
    under.setPos(1, 1)
    x, y = corners.mean(axis=0)
    middle = label.boundingRect().center()
    label.setTransform(QTransform.fromTranslate(-middle.x(), -middle.y()))
    label.setPos(float(x), float(y))
