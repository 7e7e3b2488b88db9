"""The photos of this sitting, in the order they came."""

from __future__ import annotations

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from dyeshade.window.photo_page import SHEET_CHANGED, PhotoPage
from dyeshade.window.wording import refusal_words

Index = QModelIndex | QPersistentModelIndex


class PhotosModel(QAbstractListModel):
    """List of photos with what became of each in a few words."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.pages: list[PhotoPage] = []

    def add(self, pages: list[PhotoPage]) -> None:
        """Append photos."""
        first = len(self.pages)
        self.beginInsertRows(QModelIndex(), first, first + len(pages) - 1)
        self.pages.extend(pages)
        self.endInsertRows()

    def remove(self, row: int) -> None:
        """Take a photo off the list."""
        self.beginRemoveRows(QModelIndex(), row, row)
        del self.pages[row]
        self.endRemoveRows()

    def changed(self, page: PhotoPage) -> None:
        """Tell the views that a photo's state is another."""
        if page in self.pages:
            index = self.index(self.pages.index(page), 0)
            self.dataChanged.emit(index, index)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: N802, B008
        """How many photos there are."""
        return 0 if parent.isValid() else len(self.pages)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Name and state of a photo."""
        page = self.pages[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return f"{page.name}: {self._state(page)}"
        if role == Qt.ItemDataRole.ToolTipRole:
            return page.asked.path if page.refusal is None else refusal_words(page.refusal)
        return None

    def _state(self, page: PhotoPage) -> str:
        if page.busy:
            return self.tr("measuring…")
        if page.refusal is not None:
            return self.tr("not measured")
        if page.look is None:
            return self.tr("stopped")
        count = len(page.entries())
        words = self.tr("1 sample") if count == 1 else self.tr("{} samples").format(count)
        notices = () if page.measurement is None else page.measurement.notices
        if any(one.code in SHEET_CHANGED for one in notices):
            words = self.tr("{}, look at its sheet").format(words)
        return words
