"""What one place of the window asks of another."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dyeshade.window.bath_place import BathPlace
from dyeshade.window.card_place import CardPlace
from dyeshade.window.compare_place import ComparePlace
from dyeshade.window.papers_place import PapersPlace
from dyeshade.window.start_place import StartPlace
from dyeshade.work.bath_again import bath_again
from dyeshade.work.bath_typed import TypedBath

if TYPE_CHECKING:
    from dyeshade.window.main_window import MainWindow


class JoinedPlaces:
    """Joins the places of a window, and goes where something was asked for.

    Parameters
    ----------
    window : MainWindow
        Its places are there already.
    """

    def __init__(self, window: MainWindow) -> None:
        self._window = window
        self._card = window.place(CardPlace)
        self._compare = window.place(ComparePlace)
        self._bath = window.place(BathPlace)
        self._papers = window.place(PapersPlace)
        self._join_start(window.place(StartPlace))
        self._join_compare()
        self._join_library()
        window.sheet_place.know_wanted.connect(window.knowing.know_sheet)
        window.sheet_place.list_wanted.connect(window.knowing.show_list)
        window.measuring_place.assign.library_wanted.connect(self._in_library)
        self._bath.pot_card_wanted.connect(lambda code: self._make_papers("bath", (code,)))
        self._card.library_wanted.connect(lambda: window.go("library"))

    def see_home_tests(self) -> None:
        """Show the home tests, and which photos are due."""
        self._compare.look_at(self._compare.fastness)
        self._window.go("compare")

    def _join_start(self, start: StartPlace) -> None:
        window = self._window
        start.sheet_wanted.connect(lambda: window.go("sheet"))
        start.photos_wanted.connect(window.choose_photos)
        start.examples_wanted.connect(window.open_examples)
        start.demo_wanted.connect(window.open_demo)
        start.library_wanted.connect(lambda: window.go("library"))
        start.tests_wanted.connect(self.see_home_tests)

    def _join_compare(self) -> None:
        compare = self._compare
        compare.reading_wanted.connect(lambda reading_id: self._in_library((reading_id,)))
        compare.bath_wanted.connect(self._make_again)
        compare.bath_made.connect(self._begin_bath)
        compare.fastness.photos_wanted.connect(self._window.choose_photos)
        compare.ph.card_wanted.connect(self._on_card)

    def _join_library(self) -> None:
        library, window = self._window.library_place, self._window
        library.compare_wanted.connect(self._ask_of)
        library.card_wanted.connect(self._on_card)
        library.papers_wanted.connect(self._make_papers)
        library.photo_wanted.connect(lambda path: window.measure([str(path)]))

    def _on_card(self, reading_ids: tuple[int, ...]) -> None:
        self._card.take(reading_ids)
        self._window.go("card")

    def _in_library(self, reading_ids: tuple[int, ...]) -> None:
        self._window.go("library")
        self._window.library_place.choose(reading_ids)

    def _begin_bath(self, typed: TypedBath) -> None:
        self._window.go("bath")
        self._bath.begin(typed)

    def _make_again(self, reading_id: int, grams: float) -> None:
        self._window.desk.ask(
            lambda library: bath_again(library, reading_id, grams), self._begin_bath
        )

    def _ask_of(self, which: str, piece: str) -> None:
        self._window.go("compare")
        self._compare.show_asked(which, piece)

    def _make_papers(self, which: str, codes: tuple[str, ...]) -> None:
        self._papers.make(which, codes)
        self._window.go("papers")
