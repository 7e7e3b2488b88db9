"""The samples of the photo that is looked at."""

from __future__ import annotations

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)

from dyeshade.measure.result import Sample
from dyeshade.window.photo_page import Entry, PhotoPage
from dyeshade.window.wording import caution_words
from dyeshade.words.dye_words import STATES as STATE_WORDS
from dyeshade.words.shades import hex_colour, lab_words, sure_to

Index = QModelIndex | QPersistentModelIndex
ENTRY = Qt.ItemDataRole.UserRole


def values_of(sample: Sample) -> str:
    """L*a*b* in words."""
    lightness, a, b = (float(value) for value in sample.shade.lab)
    return lab_words((lightness, a, b))


class SamplesModel(QAbstractListModel):
    """List of samples; a drawn one's name can be edited.

    Signals
    -------
    rename_wanted(str, str)
        The old name and the new one.
    """

    rename_wanted = Signal(str, str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.entries: list[Entry] = []
        self._page: PhotoPage | None = None
        self._busy = False

    def show(self, page: PhotoPage | None) -> None:
        """List the samples of a photo."""
        self.beginResetModel()
        self.entries = [] if page is None else page.entries()
        self._page = page
        self._busy = page is not None and page.busy
        self.endResetModel()

    def said_changed(self) -> None:
        """Tell the views that other things are said of the samples."""
        if self.entries:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self.entries) - 1, 0))

    def row_of(self, name: str) -> int:
        """Line of a sample, -1 where there is none."""
        names = [entry.name for entry in self.entries]
        return names.index(name) if name in names else -1

    def cautions(self, entry: Entry) -> list[str]:
        """What the reader of a number must know, a sentence each."""
        if entry.sample is None:
            return []
        told = [caution_words(notice) for notice in entry.sample.notices]
        if not entry.sample.in_gamut:
            told.append(self.tr("A screen cannot show this shade; this is the nearest it can."))
        return told

    def lines(self, entry: Entry) -> list[str]:
        """What stands beside the swatch: name, values, how sure."""
        if entry.sample is None:
            state = self.tr("measuring…") if self._busy else self.tr("not measured")
            return [entry.name, state]
        sure = self.tr("Sure to {}").format(sure_to(entry.sample.shade.u95))
        return [entry.name, values_of(entry.sample), sure, self._said(entry.name)]

    def _said(self, name: str) -> str:
        """Which piece it is, and whether that is kept."""
        said = None if self._page is None else self._page.said.get(name)
        if self._page is None or said is None:
            return self.tr("no piece yet")
        piece = said.piece or self.tr("no piece yet")
        parts = (piece, said.name, said.fibre, said.mordant, said.bath, STATE_WORDS[said.state])
        words = ", ".join(part for part in parts if part)
        if any(one.name == name and one.tag == said.piece for one in self._measured()):
            words = self.tr("{} (by its tag)").format(words)
        saved = name in self._page.kept and name not in self._page.unsaved
        return self.tr("{} (saved)").format(words) if saved else words

    def _measured(self) -> list[Sample]:
        return [entry.sample for entry in self.entries if entry.sample is not None]

    def as_text(self) -> str:
        """All samples as lines of tab-separated values, for a spreadsheet."""
        rows = ["\t".join(("sample", "L*", "a*", "b*", "u95 CIEDE2000", "sRGB"))]
        for entry in self.entries:
            if entry.sample is not None:
                shade = entry.sample.shade
                numbers = [f"{value:.2f}" for value in (*shade.lab, shade.u95)]
                rows.append("\t".join((entry.name, *numbers, hex_colour(entry.sample.srgb))))
        return "\n".join(rows)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: N802, B008
        """How many samples there are."""
        return 0 if parent.isValid() else len(self.entries)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Drawn samples can be renamed."""
        flags = super().flags(index)
        if index.isValid() and self.entries[index.row()].drawn:
            flags |= Qt.ItemFlag.ItemIsEditable
        return flags

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """A line in words, and the entry itself for whoever paints it."""
        entry = self.entries[index.row()]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return ". ".join([*self.lines(entry), *self.cautions(entry)])
        if role == Qt.ItemDataRole.EditRole:
            return entry.name
        return entry if role == ENTRY else None

    def setData(  # noqa: N802
        self, index: Index, value: object, role: int = Qt.ItemDataRole.EditRole
    ) -> bool:
        """Ask for another name."""
        name = str(value).strip()
        old = self.entries[index.row()].name
        taken = [entry.name for entry in self.entries]
        if role != Qt.ItemDataRole.EditRole or not name.isprintable() or name in ("", *taken):
            return False
        self.rename_wanted.emit(old, name)
        return True
