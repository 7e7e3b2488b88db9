"""The photo from which a camera or a print is learnt: where its sheet and its chart are."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray
from PySide6.QtGui import QBrush, QColor, QPixmap, QTransform
from PySide6.QtWidgets import QGraphicsItem, QWidget

from dyeshade.window.outlines import Outline, add_quiet
from dyeshade.window.photo_view import PhotoView
from dyeshade.work.learn_from_photo import LearnLook

Array = NDArray[np.float64]
KEY = ("chart", 0)


class ChartOutline(Outline):
    """A chart by the middles of its four corner patches; each corner shows what belongs there.

    Parameters
    ----------
    points : ndarray, shape (4, 2)
    label : str
        Written at the first patch.
    colours : sequence of QColor
        Published colours of the four patches.
    changed : callable
        As for `Outline`.
    """

    def __init__(
        self,
        points: Array,
        label: str,
        colours: Sequence[QColor],
        changed: Callable[[tuple[str, object], Array], None],
    ) -> None:
        self._colours = list(colours)
        super().__init__(KEY, points, label, changed)

    def set_chosen(self, chosen: bool) -> None:
        """Show the handles."""
        super().set_chosen(chosen)
        self.hold_corner(self.corner)

    def hold_corner(self, number: int | None) -> None:
        """The keyboard takes hold of a corner: it is painted without its colour."""
        super().hold_corner(number)
        for handle, colour in zip(self._handles, self._colours, strict=False):
            if handle.number != self.corner:
                handle.setBrush(QBrush(colour))

    def add_corner(self) -> None:
        """A chart has four corners."""

    def drop_corner(self, number: int) -> None:
        """A chart has four corners."""

    def mouseDoubleClickEvent(self, event: object) -> None:  # noqa: N802
        """A chart has four corners."""

    def _place_label(self) -> None:
        self._label.setPos(self.polygon().at(0))
        # In pixels of the screen: above the corner, so that it hides no patch.
        self._label.setTransform(QTransform.fromTranslate(10, -28))


class LearnView(PhotoView):
    """A photo, the sheet in it, and a chart whose corners hands may move.

    Parameters
    ----------
    hint : str
        Said where there is no photo yet.
    """

    def __init__(self, hint: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.hint = hint
        self._quiet: list[QGraphicsItem] = []
        self.setMinimumSize(380, 320)

    def show_look(self, look: LearnLook | None) -> None:
        """Show the picture of a photo and its sheet; the chart is shown by `show_chart`."""
        picture = QPixmap()
        if look is not None and look.taken:
            picture.loadFromData(look.taken, "JPEG")
        self.show_picture(picture, (0, 0) if look is None else look.size_px)
        self.forget_marks()
        if look is not None and len(look.sheet_px):
            self._quiet.append(add_quiet(self.scene(), look.sheet_px))
        self.viewport().update()

    def forget_marks(self) -> None:
        """Show the photo alone."""
        for item in [*self._quiet, *self.outlines.values()]:
            self.scene().removeItem(item)
        self._quiet, self.outlines = [], {}

    def show_chart(
        self, corners_px: Array, patches_px: Array, label: str, colours: Sequence[QColor]
    ) -> None:
        """Show where a chart is, or where it may be.

        Parameters
        ----------
        corners_px : ndarray, shape (4, 2)
        patches_px : ndarray, shape (n, 4, 2)
            What is read of each patch; n may be 0.
        label, colours
            As for `ChartOutline`.
        """
        for quad in patches_px:
            self._quiet.append(add_quiet(self.scene(), quad))
        outline = ChartOutline(corners_px, label, colours, self._moved)
        self.scene().addItem(outline)
        self.outlines[KEY] = outline
        outline.setSelected(True)
        self.choose(KEY)

    @property
    def holds(self) -> bool:
        """Whether the mouse holds something that must not be taken away."""
        return self.scene().mouseGrabberItem() is not None

    def _moved(self, key: tuple[str, object], points: Array) -> None:
        self.reshaped.emit(key, points)
