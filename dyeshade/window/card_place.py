"""The place where shades are put on a card, looked at, and saved for printing."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QShowEvent, QUndoStack
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from dyeshade.library.changes import Changes
from dyeshade.paper.card_layout import LaidCard
from dyeshade.paper.shade_card import ORDERS
from dyeshade.window.card_add import AddShades
from dyeshade.window.card_choice import kept_choice
from dyeshade.window.card_list import CardList
from dyeshade.window.card_making import CardMaking
from dyeshade.window.card_model import CardModel
from dyeshade.window.card_preview import CardPreview
from dyeshade.window.card_saving import CardSaving
from dyeshade.window.card_settings import CardSettings
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.look import GROUND, ON_GROUND, SPACE
from dyeshade.window.presenter import Presenter
from dyeshade.window.printing import letter_country


class CardPlace(QWidget):
    """Shades to choose and to put in order, a preview, the file to print.

    Parameters
    ----------
    desk : LibraryDesk
    presenter : Presenter
    undo : QUndoStack
        Takes what is changed here as steps.

    Attributes
    ----------
    making : CardMaking
        What is chosen now.
    saving : CardSaving

    Signals
    -------
    library_wanted()
        Shades are to be chosen in the library.
    """

    library_wanted = Signal()

    def __init__(
        self,
        desk: LibraryDesk,
        presenter: Presenter,
        undo: QUndoStack,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.making = CardMaking(kept_choice(letter_country()), desk, undo, self)
        self._stale = True
        self.shades = CardModel(self)
        self.list = CardList(self.shades)
        self.add = AddShades(desk)
        self.order = QComboBox()
        self.settings = CardSettings(self.making.choice.card)
        self.preview = CardPreview()
        self.empty = QLabel()
        self.library = QPushButton(self.tr("&Choose in the library"))
        self.count, self.gone = QLabel(), QLabel()
        self.remove = QPushButton(self.tr("Take off"))
        self.saving = CardSaving(self.making, presenter)
        self._build()
        making = self.making
        making.changed.connect(self._show)
        making.laid_out.connect(self._show_pages)
        self.list.arranged.connect(making.arrange)
        self.list.taken_off.connect(making.take_off)
        self.list.selectionModel().selectionChanged.connect(self._choose)
        self.remove.clicked.connect(self.list.take_off)
        self.add.wanted.connect(self.take)
        self.add.answered.connect(self._tell)
        self.order.activated.connect(lambda: making.put_in_order(self.order.currentData()))
        self.settings.wished.connect(making.make_up)
        self.preview.picked.connect(lambda place: self.list.choose([self.shades.ids[place]]))
        self.library.clicked.connect(self.library_wanted)
        desk.opened.connect(lambda _library: self._changed(None))
        desk.changed.connect(self._changed)
        self._show()
        self._show_pages(None)

    def _build(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE, SPACE, SPACE, SPACE)
        row.setSpacing(SPACE + SPACE // 2)
        row.addWidget(self._build_shades())
        row.addWidget(self._build_preview(), 1)
        row.addWidget(self._build_settings())

    def _build_shades(self) -> QWidget:
        words = {
            "given": self.tr("as put by hand"),
            "ph": self.tr("by pH"),
            "hue": self.tr("by hue"),
            "lightness": self.tr("from light to dark"),
        }
        for name in ORDERS:
            self.order.addItem(words[name], name)
        label = QLabel(self.tr("&Order"))
        label.setBuddy(self.order)
        self.order.setAccessibleName(self.tr("Order of the shades"))
        self.count.setProperty("head", True)
        self.remove.setToolTip(self.tr("Del"))
        head = QHBoxLayout()
        head.addWidget(self.count, 1)
        head.addWidget(label)
        head.addWidget(self.order)
        keys = QLabel(self.tr("Drag a shade, or move it with Alt+↑ and Alt+↓."))
        keys.setProperty("faint", True)
        keys.setWordWrap(True)
        foot = QHBoxLayout()
        foot.addWidget(keys, 1)
        foot.addWidget(self.remove)
        self.gone.setWordWrap(True)
        side = QWidget()
        side.setFixedWidth(370)
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        column.addWidget(self.add)
        column.addSpacing(SPACE // 2)
        column.addLayout(head)
        column.addWidget(self.list, 1)
        column.addWidget(self.gone)
        column.addLayout(foot)
        return side

    def _build_preview(self) -> QWidget:
        nothing = QWidget()
        nothing.setObjectName("nothing")
        nothing.setStyleSheet(
            f"#nothing {{ background: {GROUND.name()}; }}"
            f"#nothing > QLabel {{ color: {ON_GROUND.name()}; }}"
        )
        self.empty.setWordWrap(True)
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        column = QVBoxLayout(nothing)
        column.setContentsMargins(3 * SPACE, 3 * SPACE, 3 * SPACE, 3 * SPACE)
        column.setSpacing(SPACE)
        column.addStretch(1)
        column.addWidget(self.empty)
        column.addWidget(self.library, 0, Qt.AlignmentFlag.AlignCenter)
        column.addStretch(1)
        self._pages = QStackedWidget()
        self._pages.addWidget(nothing)
        self._pages.addWidget(self.preview)
        return self._pages

    def _build_settings(self) -> QWidget:
        inner = QWidget()
        column = QVBoxLayout(inner)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        column.addWidget(self.settings)
        column.addSpacing(SPACE)
        column.addWidget(self.saving)
        column.addStretch(1)
        area = QScrollArea()
        area.setWidget(inner)
        area.setWidgetResizable(True)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFixedWidth(250)
        return area

    def take(self, ids: Iterable[int]) -> None:
        """Put shades onto the card, behind those that are on it.

        Parameters
        ----------
        ids : iterable of int
            Readings.
        """
        self.making.take(ids)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Ask for what has changed while the place was not in view."""
        super().showEvent(event)
        if self._stale:
            self._refresh()

    @Slot(object)
    def _changed(self, changes: Changes | None) -> None:
        if changes is not None and changes.kinds <= {"draft"}:
            return
        if self.isVisible():
            self._refresh()
        else:
            self._stale = True

    def _refresh(self) -> None:
        self._stale = False
        self.add.refresh()
        self.making.refresh()

    def _show(self) -> None:
        before, chosen = set(self.shades.ids), self.list.chosen
        row = self.list.currentIndex().row()
        self.shades.show(self.making.entries)
        if before != set(self.shades.ids):
            self._choose_again(before, chosen, row)
        self.settings.show_card(self.making.choice.card)
        self.order.setCurrentIndex(self.order.findData(self.making.choice.order))
        self._choose()
        self._tell()

    def _show_pages(self, laid: LaidCard | None) -> None:
        self._pages.setCurrentIndex(0 if laid is None else 1)
        self.preview.show_card(laid)

    def _choose_again(self, before: set[int], chosen: Sequence[int], row: int) -> None:
        """After others came or went: what was chosen, else what took its place."""
        ids = self.shades.ids
        new = [one for one in ids if one not in before]
        left = [one for one in chosen if one in ids]
        if not left and chosen and ids:
            left = [ids[min(row, len(ids) - 1)]]
        self.list.choose(left)
        if before and new:
            self.list.scrollTo(self.shades.index(ids.index(new[-1])))

    def _choose(self) -> None:
        chosen = set(self.list.chosen)
        self.preview.show_chosen(
            [place for place, one in enumerate(self.shades.ids) if one in chosen]
        )
        self.remove.setEnabled(bool(chosen))

    def _tell(self) -> None:
        count = len(self.shades.ids)
        told = self.making.counted(count) if count else self.tr("No shades")
        self.count.setText(self.tr("{} on the card").format(told))
        gone = self.making.gone
        self.gone.setVisible(gone > 0)
        if gone:
            self.gone.setText(
                self.tr("{} left out: no longer in the library.").format(self.making.counted(gone))
            )
        self.add.show_on_card(self.shades.ids)
        self.library.setVisible(self.add.held != 0 and not self.making.waiting)
        if self.add.held == 0:
            self.empty.setText(
                self.tr(
                    "The library holds no shades yet.\n\nMeasure some pieces and save them: then "
                    "they can be put on a card."
                )
            )
        elif self.making.waiting:
            self.empty.setText(self.tr("The library is being asked…"))
        else:
            self.empty.setText(
                self.tr(
                    "No shades on the card yet.\n\nAdd them on the left by dyestuff, fibre, "
                    "mordant or pH, or choose them one by one in the library."
                )
            )
