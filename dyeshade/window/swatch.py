"""A shade as a small picture on the grey that all swatches lie on."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize
from PySide6.QtGui import QColor, QIcon, QPainter, QPixmap

from dyeshade.window.look import GROUND

_RIM = 0.12


def swatch_icon(colour: str | tuple[int, int, int], size: QSize) -> QIcon:
    """A swatch.

    Parameters
    ----------
    colour : str or tuple of 3 ints
        sRGB as "#d6c84a", or as levels 0..255.
    size : QSize
        In pixels, its grey rim within it.
    """
    picture = QPixmap(size)
    picture.fill(GROUND)
    painter = QPainter(picture)
    rim = max(2, round(_RIM * size.width()))
    inner = QRect(0, 0, size.width(), size.height()).adjusted(rim, rim, -rim, -rim)
    painter.fillRect(inner, QColor(colour) if isinstance(colour, str) else QColor(*colour))
    painter.end()
    icon = QIcon(picture)
    # What is chosen or switched off keeps its colour.
    for mode in (QIcon.Mode.Selected, QIcon.Mode.Disabled):
        icon.addPixmap(picture, mode)
    return icon
