"""The measured samples as a table: swatch, name, values, how sure, and what to mind."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QColor

from dyeshade.errors import DyeshadeError
from dyeshade.measure.result import Sample
from dyeshade.words.cautions import caution_text
from dyeshade.words.refusals import refusal_text
from dyeshade.words.shades import lab_words, sure_to
from dyeshade.work.measure_photos import PhotoOutcome

Index = QModelIndex | QPersistentModelIndex
SWATCH, PHOTO, SAMPLE, SHADE, SURE, MIND = range(6)


@dataclass(frozen=True)
class Row:
    """One line: a sample, or a photo that was not measured."""

    photo: str
    sample: Sample | None
    mind: str


def rows_of(outcome: PhotoOutcome) -> list[Row]:
    """The lines of one photo."""
    name = Path(outcome.path).name
    if isinstance(outcome.found, DyeshadeError):
        return [Row(name, None, refusal_text(outcome.found))]
    # What concerns the whole photo is said once, beside its first sample.
    whole = [caution_text(notice) for notice in outcome.found.notices]
    rows = []
    for sample in outcome.found.samples:
        own = [caution_text(notice, sample.name) for notice in sample.notices]
        rows.append(Row(name, sample, "\n".join(own + whole)))
        whole = []
    return rows


class ReadingsTable(QAbstractTableModel):
    """Model of the measured samples, in the order they were measured."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: list[Row] = []

    def add(self, outcome: PhotoOutcome) -> None:
        """Append what became of a photo."""
        rows = rows_of(outcome)
        first = len(self._rows)
        self.beginInsertRows(QModelIndex(), first, first + len(rows) - 1)
        self._rows.extend(rows)
        self.endInsertRows()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: N802, B008
        """Lines of the table."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: N802, B008
        """Columns of the table."""
        return 0 if parent.isValid() else 6

    def headerData(  # noqa: N802
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Names of the columns."""
        if role != Qt.ItemDataRole.DisplayRole or orientation != Qt.Orientation.Horizontal:
            return None
        return (
            self.tr("Swatch"),
            self.tr("Photo"),
            self.tr("Sample"),
            self.tr("Shade (D65, 2 degrees)"),
            self.tr("Sure to"),
            self.tr("To mind"),
        )[section]

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """What stands in a field, and its swatch."""
        row = self._rows[index.row()]
        sample = row.sample
        if index.column() == SWATCH:
            if role == Qt.ItemDataRole.BackgroundRole and sample is not None:
                return QColor(*sample.srgb)
            if role == Qt.ItemDataRole.ToolTipRole and sample is not None and not sample.in_gamut:
                return self.tr("A screen cannot show this shade; this is the nearest it can.")
            return None
        if role == Qt.ItemDataRole.ToolTipRole and index.column() == MIND:
            return row.mind
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        if index.column() == PHOTO:
            return row.photo
        if index.column() == MIND:
            return row.mind
        if sample is None:
            return None
        lightness, a, b = (float(value) for value in sample.shade.lab)
        return {
            SAMPLE: sample.name,
            SHADE: lab_words((lightness, a, b)),
            SURE: sure_to(sample.shade.u95),
        }[index.column()]
