"""Cameras and sheets that are known: what was learnt, whether it is used; use it, forget it."""

from __future__ import annotations

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
    Slot,
)
from PySide6.QtGui import QKeySequence, QShowEvent, QUndoStack
from PySide6.QtWidgets import (
    QCheckBox,
    QDialogButtonBox,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from dyeshade.errors import DyeshadeError
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import tell, told
from dyeshade.window.return_key import Dialog
from dyeshade.window.wording import refusal_words
from dyeshade.words.learnt import use_words, what_words, worth_words
from dyeshade.work.calibrate import (
    KeptCalibration,
    kept_calibrations,
    remove_calibration,
    use_calibration,
)

Index = QModelIndex | QPersistentModelIndex


class KnownModel(QAbstractTableModel):
    """A line for each calibration; its last column says whether it is used."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.kept: list[KeptCalibration] = []
        self.heads = (
            self.tr("What"),
            self.tr("What it brings"),
            self.tr("Learnt on"),
            self.tr("Readings"),
            self.tr("Used"),
        )

    def show(self, kept: list[KeptCalibration]) -> None:
        """Show other calibrations."""
        self.beginResetModel()
        self.kept = kept
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: N802, B008
        """How many there are."""
        return 0 if parent.isValid() else len(self.kept)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: N802, B008
        """What is told of each."""
        return 0 if parent.isValid() else len(self.heads)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Words."""
        one = self.kept[index.row()]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            return (
                what_words(one),
                worth_words(one),
                f"{one.record.made:%Y-%m-%d}",
                str(one.readings),
                use_words(one),
            )[index.column()]
        return None

    def headerData(  # noqa: N802
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Words above the columns."""
        across = orientation == Qt.Orientation.Horizontal
        if across and role == Qt.ItemDataRole.DisplayRole:
            return self.heads[section]
        if across and role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        return None


class KnownList(Dialog):
    """The list, and what can be done with it.

    Parameters
    ----------
    desk : LibraryDesk
    undo : QUndoStack
        The window's: what is done here is undone there too.

    Signals
    -------
    camera_wanted(), sheet_wanted()
        A camera or a printed sheet is to be learnt.
    """

    camera_wanted = Signal()
    sheet_wanted = Signal()

    def __init__(self, desk: LibraryDesk, undo: QUndoStack, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.setWindowTitle(self.tr("Cameras and sheets that are known"))
        self.model = KnownModel(self)
        self.table = QTableView()
        self.table.setModel(self.model)
        self.table.setAccessibleName(self.tr("Cameras and sheets that are known"))
        self.none = QLabel(
            self.tr(
                "None yet. Photograph a colour chart once, and the colours of that camera come out "
                "surer in every photo from then on; get to know a printed sheet, and every photo "
                "of it is corrected by what it really reflects."
            )
        )
        self.none.setWordWrap(True)
        self.camera = QPushButton(self.tr("Get to know a &camera…"))
        self.sheet = QPushButton(self.tr("Get to know a printed &sheet…"))
        self.use = QCheckBox(self.tr("&Use it"))
        self.forget = QPushButton(self.tr("&Forget it"))
        self.back = QPushButton(self.tr("Un&do"))
        self.back.setShortcut(QKeySequence.StandardKey.Undo)
        self.back.clicked.connect(undo.undo)
        self.back.setEnabled(undo.canUndo())
        self.back.setToolTip(undo.undoText())
        undo.canUndoChanged.connect(self.back.setEnabled)
        undo.undoTextChanged.connect(self.back.setToolTip)
        self.told = told(wrong=True)
        self._build()
        desk.opened.connect(self._ask)
        desk.changed.connect(self._ask)

    def _build(self) -> None:
        table = self.table
        table.setSelectionBehavior(QTableView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QTableView.SelectionMode.SingleSelection)
        table.setShowGrid(False)
        table.verticalHeader().hide()
        header = table.horizontalHeader()
        header.setStretchLastSection(True)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        doing = QHBoxLayout()
        doing.setSpacing(SPACE // 2)
        for button in (self.use, self.forget, self.back):
            doing.addWidget(button)
        doing.addStretch(1)
        for button in (self.camera, self.sheet):
            doing.addWidget(button)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(SPACE, SPACE, SPACE, SPACE)
        column.setSpacing(SPACE)
        column.addWidget(self.none)
        column.addWidget(table, 1)
        column.addLayout(doing)
        column.addWidget(self.told)
        column.addWidget(buttons)
        self.resize(900, 420)
        for one in (self.forget, self.back, self.camera, self.sheet):
            one.setAutoDefault(False)
        buttons.button(QDialogButtonBox.StandardButton.Close).setAutoDefault(False)
        self.use.clicked.connect(self.switch)
        self.forget.clicked.connect(self.drop)
        self.camera.clicked.connect(self.camera_wanted)
        self.sheet.clicked.connect(self.sheet_wanted)
        table.selectionModel().selectionChanged.connect(self._show_chosen)

    @property
    def chosen(self) -> KeptCalibration | None:
        """The line that is looked at."""
        rows = self.table.selectionModel().selectedRows()
        return self.model.kept[rows[0].row()] if rows else None

    @Slot(bool)
    def switch(self, use: bool) -> None:
        """Have measuring use it from now on, or leave it out."""
        one = self.chosen
        if one is not None:
            words = self.tr("use {}") if use else self.tr("leave {} out")
            number = one.record.id
            self._change(words.format(one.record.name), number, use)

    @Slot()
    def drop(self) -> None:
        """Forget it; what readings were made with stays."""
        one = self.chosen
        if one is not None:
            self._change(self.tr("forget {}").format(one.record.name), one.record.id, None)

    def _change(self, words: str, number: int, use: bool | None) -> None:
        def refused(error: DyeshadeError) -> None:
            tell(self.told, [refusal_words(error)])

        tell(self.told, [])
        self._desk.change(
            words,
            lambda library: (
                remove_calibration(library, number)
                if use is None
                else use_calibration(library, number, use)
            ),
            otherwise=refused,
        )

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Ask what is known by now."""
        super().showEvent(event)
        tell(self.told, [])
        self._ask()

    @Slot()
    def _ask(self) -> None:
        if self.isVisible():
            self._desk.ask(kept_calibrations, self._show)

    def _show(self, kept: list[KeptCalibration]) -> None:
        chosen = None if self.chosen is None else self.chosen.record.id
        self.model.show(kept)
        self.none.setVisible(not kept)
        self.table.setVisible(bool(kept))
        rows = [row for row, one in enumerate(kept) if one.record.id == chosen]
        if kept:
            self.table.selectRow(rows[0] if rows else 0)
        self._show_chosen()

    @Slot()
    def _show_chosen(self) -> None:
        one = self.chosen
        for button in (self.use, self.forget):
            button.setVisible(bool(self.model.kept))
        self.use.setEnabled(one is not None and one.value is not None and self._desk.can_write)
        self.use.setChecked(one is not None and one.in_use)
        self.forget.setEnabled(one is not None and self._desk.can_write)
        for button in (self.camera, self.sheet):
            button.setEnabled(self._desk.can_write)
