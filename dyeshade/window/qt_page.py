"""A page drawn on the screen by the very instructions that draw its PDF."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import Literal

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontDatabase,
    QFontMetricsF,
    QImage,
    QPainter,
    QPainterPath,
    QPen,
)

from dyeshade.paper.faces import SHAPED, Face, font_file
from dyeshade.paper.page import POINT_MM, Rect

_EM_PX = 200
"""Letters are laid out this large and scaled down, since a screen would round small ones."""


@cache
def _font(face: Face) -> QFont:
    number = QFontDatabase.addApplicationFont(str(font_file(face)))
    families = QFontDatabase.applicationFontFamilies(number)
    # A condensed font has two family names; under the shorter one the computer may know another.
    font = QFont(max(families, key=len, default=""))
    font.setPixelSize(_EM_PX)
    font.setBold(face == "bold")
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    if face in SHAPED:
        return font
    # The PDF sets letter by letter: no pairs drawn closer, none drawn as one.
    font.setKerning(False)
    for feature in ("liga", "clig", "calt"):
        font.setFeature(QFont.Tag(feature), 0)
    return font


class QtPage:
    """A page on a painter whose unit is the millimetre, y down; see `dyeshade.paper.page.Drawn`.

    Parameters
    ----------
    painter : QPainter
    ink : QColor, optional
        What words are written in; black unless told.
    """

    def __init__(self, painter: QPainter, ink: QColor | None = None) -> None:
        self._painter = painter
        self._ink = _grey(0.0) if ink is None else ink

    def fill(self, rects: Iterable[Rect], grey: float) -> None:
        """Fill rectangles as one shape."""
        path = QPainterPath()
        for x, y, w, h in rects:
            path.addRect(QRectF(x, y, w, h))
        self._painter.fillPath(path.simplified(), _grey(grey))

    def fill_rgb(self, rect: Rect, rgb: tuple[int, int, int]) -> None:
        """Fill a rectangle with a colour, 0..255 each."""
        self._painter.fillRect(QRectF(*rect), QColor(*rgb))

    def picture(self, rect: Rect, jpeg: bytes) -> None:
        """Draw a photo, from the bytes of its JPEG, so that it fills a rectangle."""
        self._painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        self._painter.drawImage(QRectF(*rect), QImage.fromData(jpeg))

    def line(self, x0: float, y0: float, x1: float, y1: float, width_mm: float) -> None:
        """Draw a black line."""
        self._painter.setPen(QPen(_grey(0.0), width_mm))
        self._painter.drawLine(QLineF(x0, y0, x1, y1))

    def outline(self, rect: Rect, grey: float, width_mm: float) -> None:
        """Draw a line around a rectangle, all of it outside."""
        half = width_mm / 2
        self._painter.setPen(QPen(_grey(grey), width_mm))
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        self._painter.drawRect(QRectF(*rect).adjusted(-half, -half, half, half))

    def text(
        self,
        x: float,
        baseline: float,
        words: str,
        points: float,
        face: Face = "plain",
        anchor: Literal["left", "middle", "right"] = "left",
    ) -> float:
        """Write one line, and tell its width in mm."""
        font = _font(face)
        scale = points * POINT_MM / _EM_PX
        width = QFontMetricsF(font).horizontalAdvance(words) * scale
        painter = self._painter
        painter.save()
        painter.translate(x - width * {"left": 0.0, "middle": 0.5, "right": 1.0}[anchor], baseline)
        painter.scale(scale, scale)
        painter.setFont(font)
        painter.setPen(self._ink)
        painter.drawText(QPointF(0, 0), words)
        painter.restore()
        return width


def _grey(value: float) -> QColor:
    level = round(255 * value)
    return QColor(level, level, level)
