"""The list of a card's shades: a swatch and three lines each, moved by dragging or by keys."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import (
    QItemSelection,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QPoint,
    QRect,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import (
    QColor,
    QDropEvent,
    QFont,
    QFontMetrics,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPalette,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from dyeshade.window.card_choice import moved, stepped
from dyeshade.window.card_model import ENTRY, CardModel, code_beside
from dyeshade.window.look import GROUND

Index = QModelIndex | QPersistentModelIndex
_PLATE, _INSET, _GAP, _BAR = 62, 9, 10, 4


class CardList(QListView):
    """Lists the shades of a card.

    Signals
    -------
    arranged(tuple of int)
        All readings, in the order in which they were put.
    taken_off(tuple of int)
        Readings that are to leave the card.
    """

    arranged = Signal(object)
    taken_off = Signal(object)

    def __init__(self, model: CardModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shades = model
        self.setModel(model)
        self.setItemDelegate(CardDelegate(self))
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setDragDropMode(QAbstractItemView.DragDropMode.InternalMove)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setUniformItemSizes(True)
        self.setMinimumHeight(150)
        self.setAccessibleName(self.tr("Shades on the card"))

    @property
    def chosen(self) -> tuple[int, ...]:
        """Readings that are chosen, in their order on the card."""
        rows = sorted(index.row() for index in self.selectionModel().selectedIndexes())
        return tuple(self._shades.entries[row].reading_id for row in rows)

    def choose(self, ids: Sequence[int]) -> None:
        """Choose shades, and come to the first of them."""
        wanted = set(ids)
        rows = [row for row, one in enumerate(self._shades.ids) if one in wanted]
        picked = QItemSelection()
        for row in rows:
            index = self._shades.index(row)
            picked.select(index, index)
        flag = QItemSelectionModel.SelectionFlag
        self.selectionModel().select(picked, flag.ClearAndSelect)
        if rows:
            first = self._shades.index(rows[0])
            self.selectionModel().setCurrentIndex(first, flag.NoUpdate)
            self.scrollTo(first)

    def step(self, up: bool) -> None:
        """Move what is chosen by one place."""
        if self.chosen:
            self.arranged.emit(stepped(self._shades.ids, self.chosen, up))
            self.scrollTo(self.currentIndex())

    def take_off(self) -> None:
        """Take off what is chosen."""
        if self.chosen:
            self.taken_off.emit(self.chosen)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Alt+Up and Alt+Down move, Del takes off; all else as in any list."""
        keys = (Qt.Key.Key_Up, Qt.Key.Key_Down)
        if event.modifiers() & Qt.KeyboardModifier.AltModifier and event.key() in keys:
            self.step(event.key() == Qt.Key.Key_Up)
        elif event.matches(QKeySequence.StandardKey.Delete):
            self.take_off()
        else:
            super().keyPressEvent(event)

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802
        """Put what was dragged between the shades where it was dropped."""
        before = self._gap_at(event.position().toPoint())
        self.arranged.emit(moved(self._shades.ids, self.chosen, before))
        event.accept()
        # Ends the dragging and takes the mark between the lines away.
        self.setState(QAbstractItemView.State.NoState)
        self.viewport().update()

    def _gap_at(self, point: QPoint) -> int:
        index = self.indexAt(point)
        if not index.isValid():
            return 0 if point.y() < 0 else len(self._shades.entries)
        return index.row() + (point.y() > self.visualRect(index).center().y())


class CardDelegate(QStyledItemDelegate):
    """Paints a line of the list: a swatch on mid grey, and three lines of words."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: N802
        """High enough for three lines."""
        words = sum(QFontMetrics(font).height() for font in _fonts(option.font))
        return QSize(200, max(words + 16, _PLATE))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one line."""
        model, entry = index.model(), index.data(ENTRY)
        assert isinstance(model, CardModel)
        painter.save()
        rect, palette = option.rect, option.palette
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(rect, palette.color(QPalette.ColorRole.AlternateBase))
            bar = QRect(rect.left(), rect.top(), _BAR, rect.height())
            painter.fillRect(bar, palette.color(QPalette.ColorRole.Highlight))
        plate = QRect(rect.left() + _BAR, rect.top(), _PLATE, rect.height())
        painter.fillRect(plate, GROUND)
        painter.fillRect(
            plate.adjusted(_INSET, _INSET, -_INSET, -_INSET), QColor(*entry.shade.srgb)
        )
        left = plate.right() + 1 + _GAP
        width = rect.right() - _GAP - left
        fonts = _fonts(option.font)
        top = rect.top() + (rect.height() - sum(QFontMetrics(font).height() for font in fonts)) // 2
        role = QPalette.ColorRole
        code = code_beside(entry.shade)
        for words, font in zip(model.lines(entry), fonts, strict=True):
            metrics = QFontMetrics(font)
            room = QRect(left, top, width, metrics.height())
            if code:
                painter.setFont(fonts[1])
                painter.setPen(palette.color(role.PlaceholderText))
                painter.drawText(room, Qt.AlignmentFlag.AlignRight, code)
                room.setWidth(width - QFontMetrics(fonts[1]).horizontalAdvance(code) - _GAP)
                code = ""
            painter.setFont(font)
            painter.setPen(palette.color(role.Text))
            told = metrics.elidedText(words, Qt.TextElideMode.ElideRight, room.width())
            painter.drawText(room, Qt.AlignmentFlag.AlignLeft, told)
            top += metrics.height()
        painter.setPen(palette.color(QPalette.ColorRole.Mid))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(palette.color(QPalette.ColorRole.Highlight))
            painter.drawRect(rect.adjusted(0, 0, -1, -1))
        painter.restore()


def _fonts(font: QFont) -> tuple[QFont, QFont, QFont]:
    strong = QFont(font)
    strong.setBold(True)
    return strong, QFont(font), QFont(font)
