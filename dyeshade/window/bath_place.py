"""The place of the dye bath: what goes into the pot, its pH, the day, and the store."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtGui import QHideEvent, QKeySequence, QShowEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from dyeshade.errors import DyeshadeError
from dyeshade.window.again_dialog import AgainDialog
from dyeshade.window.amounts_page import AmountsPage
from dyeshade.window.bath_list import BathList
from dyeshade.window.bathing import Bathing
from dyeshade.window.day_bell import DayBell
from dyeshade.window.day_page import DayPage
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import tell, told
from dyeshade.window.ph_page import PhPage
from dyeshade.window.presenter import Presenter
from dyeshade.window.store_page import StorePage
from dyeshade.window.wording import refusal_words
from dyeshade.work.bath_typed import TypedBath
from dyeshade.work.ph_typed import read_ph_typed

_LIST = 150


class BathPlace(QWidget):
    """A list of baths, and four pages about the one in hand.

    Parameters
    ----------
    desk : LibraryDesk
    presenter : Presenter

    Attributes
    ----------
    bathing : Bathing
        The bath in hand.

    Signals
    -------
    pot_card_wanted(str)
        A pot card of the kept bath with this code is to be made.
    """

    pot_card_wanted = Signal(str)

    def __init__(
        self, desk: LibraryDesk, presenter: Presenter, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._presenter = presenter
        self._told_of = 0
        self.bathing = Bathing(desk, self)
        self.list = BathList(self.bathing)
        self.bell = DayBell(self.bathing, self)
        self.amounts = AmountsPage(self.bathing)
        self.ph = PhPage(self.bathing)
        self.day = DayPage(self.bathing)
        self.store = StorePage(self.bathing)
        self.new = QPushButton(self.tr("&New bath"))
        self.exhaust = QPushButton(self.tr("E&xhaust bath of it"))
        self.again = QPushButton(self.tr("&Make it again…"))
        self.card = QPushButton(self.tr("Pot card"))
        self.card.setToolTip(self.tr("A page of it to hang by the pot, once the bath is kept"))
        self.keep = QPushButton(self.tr("&Keep this bath"))
        self.keep.setProperty("main", True)
        self.title, self.told, self.trouble = QLabel(), told(faint=True), told(wrong=True)
        self.rung = told()
        """What is over; it stays until another page is turned to."""
        self._build()
        self.new.clicked.connect(self.bathing.new)
        self.exhaust.clicked.connect(self.bathing.exhaust)
        self.again.clicked.connect(self._again)
        self.card.clicked.connect(lambda: self.pot_card_wanted.emit(self.bathing.typed.code))
        self.keep.clicked.connect(self._keep)
        self.list.wanted.connect(self.bathing.take_up)
        self.bathing.planned.connect(self._show)
        self.bathing.listed.connect(self._show)
        self.bathing.shown.connect(self._forget)
        self.bathing.told.connect(self._tell)
        self.bell.rang.connect(lambda words: tell(self.rung, [words]))
        self.bathing.check = self._check
        self.ph.log.strips.failed.connect(presenter.fault)

    def _build(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE, SPACE, SPACE, SPACE)
        row.setSpacing(SPACE + SPACE // 2)
        side = QWidget()
        side.setFixedWidth(_LIST)
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        column.addWidget(self.new)
        column.addWidget(self.list, 1)
        column.addWidget(self.exhaust)
        column.addWidget(self.again)
        row.addWidget(side)
        main = QVBoxLayout()
        main.setSpacing(SPACE)
        top = QHBoxLayout()
        top.setSpacing(SPACE // 2)
        font = self.title.font()
        font.setPointSizeF(font.pointSizeF() * 1.3)
        self.title.setFont(font)
        top.addWidget(self.title)
        top.addSpacing(SPACE)
        self.pages = QStackedWidget()
        self.ways = QButtonGroup(self)
        for number, (words, page) in enumerate(
            (
                (self.tr("Into the pot"), self.amounts),
                (self.tr("Reaching a pH"), self.ph),
                (self.tr("The dye day"), self.day),
                (self.tr("The store"), self.store),
            )
        ):
            way = QPushButton(words)
            way.setCheckable(True)
            way.setProperty("place", True)
            way.setShortcut(QKeySequence(f"Alt+{number + 1}"))
            way.setToolTip(f"{words} (Alt+{number + 1})")
            way.clicked.connect(lambda _on, page=page: self._turn_to(page))
            self.ways.addButton(way, number)
            top.addWidget(way)
            self.pages.addWidget(page)
        self.ways.button(0).setChecked(True)
        top.addStretch(1)
        top.addWidget(self.card)
        top.addWidget(self.keep)
        main.addLayout(top)
        main.addWidget(self.rung)
        main.addWidget(self.trouble)
        main.addWidget(self.told)
        main.addWidget(self.pages, 1)
        row.addLayout(main, 1)

    def go(self, number: int) -> None:
        """Show a page, from 0."""
        self.ways.button(number).click()

    def _turn_to(self, page: QWidget) -> None:
        self.pages.setCurrentWidget(page)
        tell(self.told, [])
        tell(self.rung, [])

    def let_go(self) -> None:
        """Before the window closes: write what is left; the work comes back with the next start."""
        self.bathing.drafts.let_go()
        self.ph.log.strips.close()
        self.bell.let_go()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Ask for what has changed while the place was not in view."""
        super().showEvent(event)
        self.bathing.watch(True)

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802
        """Write down what is unkept: the window may be about to close."""
        super().hideEvent(event)
        self.bathing.watch(False)
        self.bathing.drafts.flush()

    @Slot()
    def _show(self) -> None:
        bathing = self.bathing
        self.title.setText(bathing.typed.code or self.tr("A new bath"))
        self.keep.setEnabled(bathing.dirty or bathing.key < 0)
        kept = bathing.key > 0
        self.exhaust.setEnabled(kept)
        # A card is of what is kept: what was typed since would not stand on it.
        self.card.setEnabled(kept and not bathing.dirty)
        self.again.setEnabled(bathing.plan.worked is not None)
        if bathing.dirty or not kept:
            # What was said of its keeping is no longer so.
            tell(self.told, [])

    @Slot()
    def _forget(self) -> None:
        tell(self.trouble, [])
        if self.bathing.key != self._told_of:
            tell(self.told, [])
        self._show()

    @Slot(str)
    def _tell(self, words: str) -> None:
        self._told_of = self.bathing.key
        tell(self.told, [words])

    def _check(self) -> bool:
        """Whether all that is typed can be read; where not, it is answered beside the field."""
        bathing = self.bathing
        of_ph = read_ph_typed(bathing.typed, bathing.own.at_hand).wrong
        # What stands in the way of the pots does not stand in the way of keeping.
        of_plan = [one for one in bathing.plan.wrong if one.error.code not in _SOFT]
        wrong = [*of_plan, *of_ph]
        if not wrong:
            return True
        in_steps = wrong[0].field.startswith("steps.")
        number = 2 if in_steps else 0 if of_plan else 1
        self.go(number)
        (self.amounts, self.ph, self.day)[number].answers.insist()
        return False

    @Slot()
    def _keep(self) -> None:
        bathing = self.bathing
        if not self._check():
            return

        def refused(error: DyeshadeError) -> None:
            tell(self.trouble, [refusal_words(error)])

        def kept(_bath_id: int) -> None:
            tell(self.trouble, [])
            undo = QKeySequence(QKeySequence.StandardKey.Undo).toString(
                QKeySequence.SequenceFormat.NativeText
            )
            self._tell(self.tr("{0} is kept. {1} takes that back.").format(
                bathing.typed.code, undo))  # fmt: skip

        bathing.keep(kept, refused)

    def begin(self, typed: TypedBath) -> None:
        """Begin a bath that another place has made up."""
        self.bathing.again(typed)
        self.go(0)

    @Slot()
    def _again(self) -> None:
        dialog = AgainDialog(self.bathing.typed, self.bathing.own, self)
        dialog.accepted.connect(lambda: self.bathing.again(dialog.made()))
        dialog.open()


_SOFT = ("piece_too_large_for_pot", "too_many_pots")
