"""How shades are painted: a plate of mid grey in the table, and swatches side by side."""

from __future__ import annotations

from PySide6.QtCore import (
    QEvent,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QRect,
    QSize,
    Qt,
)
from PySide6.QtGui import QColor, QFont, QFontMetrics, QGuiApplication, QPainter, QPalette, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from dyeshade.library.find import FoundShade
from dyeshade.window.look import GROUND, ON_GROUND
from dyeshade.window.shades_model import FOUND
from dyeshade.words.dye_words import STATES, WHICH_PH_SHORT, ph_words
from dyeshade.words.shade_lines import dyestuff_names

Index = QModelIndex | QPersistentModelIndex
ROW_HEIGHT = 40
_PLATE, _INSET, _GAP, _BAR = 62, 7, 8, 4
_TILE = QSize(156, 148)
_FRAME = 3


class PieceDelegate(QStyledItemDelegate):
    """The first column of the table: the swatch on its plate, then the piece's code and name."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one cell."""
        found = index.data(FOUND)
        assert isinstance(found, FoundShade)
        rect = option.rect
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        role = QPalette.ColorRole
        if chosen:
            painter.fillRect(rect, option.palette.color(role.AlternateBase))
            bar = QRect(rect.left(), rect.top(), _BAR, rect.height())
            # The table's own colour of what is chosen is grey.
            painter.fillRect(bar, QGuiApplication.palette().color(role.Highlight))
        plate = QRect(rect.left() + _BAR, rect.top(), _PLATE, rect.height())
        painter.fillRect(plate, GROUND)
        inset = plate.adjusted(_INSET, _INSET - 1, -_INSET, -_INSET + 1)
        painter.fillRect(inset, QColor(found.reading.srgb))
        text = rect.adjusted(_BAR + _PLATE + _GAP, 0, -2, 0)
        piece = found.history.piece
        strong = QFont(option.font)
        strong.setBold(True)
        painter.setPen(option.palette.color(role.Text))
        lines = [(strong, piece.code)]
        if piece.name:
            small = QFont(option.font)
            small.setPointSizeF(option.font.pointSizeF() * 0.88)
            lines.append((small, piece.name))
        high = sum(QFontMetrics(font).height() for font, _ in lines)
        top = text.center().y() - high // 2
        for font, words in lines:
            metrics = QFontMetrics(font)
            room = QRect(text.left(), top, text.width(), metrics.height())
            painter.setFont(font)
            painter.drawText(
                room, 0, metrics.elidedText(words, Qt.TextElideMode.ElideRight, room.width())
            )
            top += metrics.height()
        painter.restore()


class TileDelegate(QStyledItemDelegate):
    """A swatch on mid grey with its piece, dyestuff and pH below it."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: N802
        """The same for all."""
        return _TILE

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one tile."""
        found = index.data(FOUND)
        assert isinstance(found, FoundShade)
        rect = option.rect
        painter.save()
        painter.fillRect(rect, GROUND)
        swatch = QRect(rect.left() + 14, rect.top() + 14, rect.width() - 28, 66)
        painter.fillRect(swatch, QColor(found.reading.srgb))
        if option.state & QStyle.StateFlag.State_Selected:
            painter.setPen(QPen(ON_GROUND, _FRAME))
            painter.drawRect(swatch.adjusted(-6, -6, 6, 6))
        painter.setPen(ON_GROUND)
        conditions = found.conditions
        ph, acted = conditions.ph(), conditions.acted
        last = STATES[found.reading.state]
        if ph is not None and acted is not None:
            last = f"pH {ph_words(ph)}, {WHICH_PH_SHORT[acted]}"
        strong = QFont(option.font)
        strong.setBold(True)
        lines = (
            (strong, found.history.piece.code),
            (option.font, dyestuff_names(conditions) or conditions.fibre),
            (option.font, last),
        )
        top = swatch.bottom() + 10
        for font, words in lines:
            metrics = QFontMetrics(font)
            room = QRect(swatch.left(), top, swatch.width(), metrics.height())
            painter.setFont(font)
            painter.drawText(
                room, 0, metrics.elidedText(words, Qt.TextElideMode.ElideRight, room.width())
            )
            top += metrics.height()
        painter.restore()


class Swatches(QListView):
    """Shades as swatches, in the order of the table, chosen by whole lines as there."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setViewMode(QListView.ViewMode.IconMode)
        self.setMovement(QListView.Movement.Static)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setUniformItemSizes(True)
        self.setSpacing(0)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setItemDelegate(TileDelegate(self))
        palette = self.palette()
        palette.setColor(QPalette.ColorRole.Base, GROUND)
        self.setPalette(palette)
        self.setStyleSheet(f"QListView {{ background: {GROUND.name()}; }}")

    def selectionCommand(  # noqa: N802
        self, index: Index, event: QEvent | None = None
    ) -> QItemSelectionModel.SelectionFlag:
        """Whole lines, since the table shows the same choice."""
        return super().selectionCommand(index, event) | QItemSelectionModel.SelectionFlag.Rows
