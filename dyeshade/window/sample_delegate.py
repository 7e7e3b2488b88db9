"""Paints a sample's line: its swatch on mid grey, and what there is to say beside it."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPalette
from PySide6.QtWidgets import (
    QLineEdit,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from dyeshade.window.look import GROUND
from dyeshade.window.samples_model import ENTRY, SamplesModel

Index = QModelIndex | QPersistentModelIndex
_PLATE, _INSET, _GAP, _BAR = 84, 14, 10, 4
_LEAST_HEIGHT = 84
_WRAP = Qt.TextFlag.TextWordWrap


class SampleDelegate(QStyledItemDelegate):
    """A line as high as its words need, at the width of the list."""

    def __init__(self, view: QListView) -> None:
        super().__init__(view)
        self._view = view

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: N802
        """Width of the list, height of the words."""
        width = self._view.viewport().width()
        height = sum(rect.height() + 3 for rect, _, _ in self._words(option.font, index, width))
        return QSize(width, max(_LEAST_HEIGHT, height + 2 * _GAP))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one line."""
        painter.save()
        palette = option.palette
        rect = option.rect
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        if chosen:
            painter.fillRect(rect, palette.color(QPalette.ColorRole.AlternateBase))
            bar = QRect(rect.left(), rect.top(), _BAR, rect.height())
            painter.fillRect(bar, palette.color(QPalette.ColorRole.Highlight))
        self._paint_swatch(painter, rect, index)
        top = rect.top() + _GAP
        for place, words, (font, faint) in self._words(option.font, index, rect.width()):
            role = QPalette.ColorRole.PlaceholderText if faint else QPalette.ColorRole.Text
            painter.setPen(palette.color(role))
            painter.setFont(font)
            painter.drawText(
                QRect(rect.left() + place.left(), top, place.width(), place.height()), _WRAP, words
            )
            top += place.height() + 3
        painter.setPen(palette.color(QPalette.ColorRole.Mid))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        painter.restore()

    def createEditor(  # noqa: N802
        self, parent: QWidget, option: QStyleOptionViewItem, index: Index
    ) -> QWidget:
        """A field for the name."""
        field = QLineEdit(parent)
        field.setAccessibleName(self.tr("Name of the sample"))
        return field

    def updateEditorGeometry(  # noqa: N802
        self, editor: QWidget, option: QStyleOptionViewItem, index: Index
    ) -> None:
        """The field stands where the name stood."""
        rect = option.rect
        left = _BAR + _PLATE + _GAP
        editor.setGeometry(rect.left() + left, rect.top() + 4, rect.width() - left - _GAP, 28)

    def _paint_swatch(self, painter: QPainter, rect: QRect, index: Index) -> None:
        plate = QRect(rect.left() + _BAR, rect.top(), _PLATE, rect.height())
        painter.fillRect(plate, GROUND)
        entry = index.data(ENTRY)
        height = _LEAST_HEIGHT - 2 * _INSET
        swatch = QRect(plate.left() + _INSET, rect.top() + _INSET, _PLATE - 2 * _INSET, height)
        if entry.sample is not None:
            painter.fillRect(swatch, QColor(*entry.sample.srgb))
        else:
            painter.setPen(QColor("#bbbbbb"))
            painter.drawRect(swatch)

    def _words(
        self, font: QFont, index: Index, width: int
    ) -> list[tuple[QRect, str, tuple[QFont, bool]]]:
        """Place (left, width and height count), words, and font with whether it is faint."""
        model = index.model()
        assert isinstance(model, SamplesModel)
        entry = index.data(ENTRY)
        strong, small = QFont(font), QFont(font)
        strong.setBold(True)
        small.setPointSizeF(font.pointSizeF() * 0.92)
        lines = model.lines(entry)
        looks = [(strong, False)] + [(font, False)] * (len(lines) - 1)
        cautions = model.cautions(entry)
        lines += cautions
        looks += [(small, True)] * len(cautions)
        left = _BAR + _PLATE + _GAP
        wide = max(width - left - _GAP, 60)
        placed = []
        for words, look in zip(lines, looks, strict=True):
            room = QRect(left, 0, wide, 10_000)
            height = QFontMetrics(look[0]).boundingRect(room, _WRAP, words).height()
            placed.append((QRect(left, 0, wide, height), words, look))
        return placed
