"""A shade card in the making: its shades' values, asked of the library, and its pages."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Reading
from dyeshade.paper.card_layout import LaidCard, lay_out_card
from dyeshade.paper.shade_card import Card, CardOrder
from dyeshade.window.card_choice import CardChoice, ChangeCard, keep_choice
from dyeshade.window.card_model import CardEntry, ordered_entries
from dyeshade.window.library_desk import LibraryDesk, OpenLibrary
from dyeshade.words.shade_card import CARD_WORDS
from dyeshade.work.make_card import MadeCard, card_shades, make_card


class CardMaking(QObject):
    """Holds what is chosen for a card; every change of it is a step of undo.

    Parameters
    ----------
    choice : CardChoice
        To begin with.
    desk : LibraryDesk
    undo : QUndoStack

    Attributes
    ----------
    choice : CardChoice
    entries : list of CardEntry
        The shades in their order on the card.
    number : int
        Counts what was shown: another number is another card.
    laid_number : int
        Of the card whose pages were laid out last.

    Signals
    -------
    changed()
        The choice is another, or the values of its shades.
    laid_out(LaidCard or None)
        Pages to show; None where the card has no shades.
    previewed()
        The pages are of what is chosen now.
    """

    changed = Signal()
    laid_out = Signal(object)
    previewed = Signal()

    def __init__(
        self,
        choice: CardChoice,
        desk: LibraryDesk,
        undo: QUndoStack,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.choice = choice
        self.entries: list[CardEntry] = []
        self.number = 0
        self.laid_number = 0
        self._desk, self._undo = desk, undo
        self._folder: Path | None = None
        self._age = self._asked = 0
        self._known: dict[int, CardEntry] = {}
        self._gone: frozenset[int] = frozenset()
        desk.opened.connect(self._opened)

    @property
    def ids(self) -> tuple[int, ...]:
        """Readings in their order on the card."""
        return tuple(entry.reading_id for entry in self.entries)

    @property
    def gone(self) -> int:
        """How many that were chosen are no longer in the library."""
        return len(self._gone.intersection(self.choice.ids))

    @property
    def waiting(self) -> bool:
        """Whether the library has not told yet of all that is chosen."""
        return not set(self.choice.ids) <= self._known.keys() | self._gone

    def counted(self, count: int) -> str:
        """A number of shades in words."""
        return self.tr("1 shade") if count == 1 else self.tr("{} shades").format(count)

    def take(self, ids: Iterable[int]) -> int:
        """Put readings onto the card, behind those that are on it; tells how many are new."""
        new = [one for one in dict.fromkeys(ids) if one not in self.choice.ids]
        words = self.tr("put {} on the card").format(self.counted(len(new)))
        self._step(self.choice.with_more(new), words)
        return len(new)

    def take_off(self, ids: Sequence[int]) -> None:
        """Take readings off the card."""
        words = self.tr("take {} off the card").format(self.counted(len(ids)))
        self._step(self.choice.without(ids), words)

    def arrange(self, ids: tuple[int, ...]) -> None:
        """Put the shades into an order by hand."""
        if ids != self.ids:
            self._step(self.choice.arranged(ids), self.tr("move shades on the card"))

    def put_in_order(self, order: CardOrder) -> None:
        """Put the shades into one of the orders of a card."""
        self._step(replace(self.choice, order=order), self.tr("put the card in order"))

    def make_up(self, card: Card, words: str, key: str = "") -> None:
        """Make the card up otherwise; words and key as `ChangeCard`."""
        self._step(replace(self.choice, card=card), words, key)

    def refresh(self) -> None:
        """Ask the library for the values of the shades."""
        self._asked += 1
        number, ids = self._asked, self.choice.ids

        def question(library: Library) -> list[CardEntry] | None:
            # What was asked since has overtaken this.
            return _entries(library, ids) if number == self._asked else None

        def take(entries: list[CardEntry] | None) -> None:
            if entries is None or number != self._asked:
                return
            known = {entry.reading_id: entry for entry in entries}
            gone = frozenset(ids) - known.keys()
            if (known, gone) != (self._known, self._gone):
                self._known, self._gone = known, gone
                self._show()

        self._desk.ask(question, take)

    def save(
        self,
        path: Path,
        done: Callable[[MadeCard], None],
        refused: Callable[[DyeshadeError], None],
    ) -> None:
        """Write the card as it is shown."""
        ids, card = self.ids, self.choice.card

        def job(library: Library) -> MadeCard:
            return make_card(library, ids, "given", card, path, CARD_WORDS)

        self._desk.ask(job, done, refused)

    def _opened(self, library: OpenLibrary) -> None:
        if self._folder is not None and library.folder != self._folder:
            # Ids of another library; what was done with them cannot be undone in this one.
            self._age += 1
            self._known = {}
            self._put(replace(self.choice, ids=()), self._age)
        self._folder = library.folder

    def _step(self, wish: CardChoice, words: str, key: str = "") -> None:
        age = self._age
        if wish != self.choice:
            self._undo.push(
                ChangeCard(self.choice, wish, words, key, lambda choice: self._put(choice, age))
            )

    def _put(self, choice: CardChoice, age: int) -> bool:
        if age != self._age:
            return False
        self.choice = choice
        keep_choice(choice)
        if self.waiting:
            self.refresh()
            if not self.entries:
                # What to do first would be wrong advice while the answer is on its way.
                self.changed.emit()
        else:
            self._show()
        return True

    def _show(self) -> None:
        there = [self._known[one] for one in self.choice.ids if one in self._known]
        self.entries = ordered_entries(there, self.choice.order)
        self.number += 1
        self.changed.emit()
        self._lay_out()

    def _lay_out(self) -> None:
        number, card = self.number, self.choice.card
        shades = [entry.shade for entry in self.entries]
        if not shades:
            self.laid_number = number
            self.laid_out.emit(None)
            self.previewed.emit()
            return

        def question(_library: Library) -> LaidCard | None:
            # Typing is faster than hundreds of shades are laid out: only the last wish counts.
            return lay_out_card(card, shades, CARD_WORDS) if number == self.number else None

        def take(laid: LaidCard | None) -> None:
            # One that is overtaken shows at least what was typed until a moment ago.
            if laid is not None and number > self.laid_number:
                self.laid_number = number
                self.laid_out.emit(laid)
                if number == self.number:
                    self.previewed.emit()

        self._desk.ask(question, take)


def _entries(library: Library, ids: Sequence[int]) -> list[CardEntry]:
    """Those of some readings that the library has, as a card shows them."""
    there = {reading.id for reading in library.among(Reading, "id", ids)}
    kept = [one for one in ids if one in there]
    shades = card_shades(library, kept)
    return [CardEntry(one, shade) for one, shade in zip(kept, shades, strict=True)]
