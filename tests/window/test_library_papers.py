"""From the library, pieces go to their tags and sheets, a piece or a bath to its pot card."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from dyeshade.window.library_place import BATHS, PIECES
from dyeshade.window.tables import choose_rows
from tests.library.workshop import fill
from tests.window.shelf import Shelf, shelf_with


@pytest.fixture
def shelf(qtbot: QtBot, qapp: QApplication, tmp_path: Path) -> Iterator[Shelf]:
    yield from shelf_with(qtbot, qapp, tmp_path, fill)


def test_what_is_shown_or_chosen_goes_to_the_papers(shelf: Shelf) -> None:
    place, wanted = shelf.place, []
    place.papers_wanted.connect(lambda which, codes: wanted.append((which, codes)))
    tags, _, sheets = place.papers.of_pieces
    choose_rows(place.shades.selection, [0], 0)
    tags.trigger()
    which, codes = wanted[-1]
    assert (which, len(codes), len(set(codes))) == ("tags", 8, 8)
    choose_rows(place.shades.selection, [1, 3], 1)
    sheets.trigger()
    assert wanted[-1] == (
        "sheets",
        tuple(place.shades.model.shades[row].history.piece.code for row in (1, 3)),
    )
    place.papers.of_one.trigger()
    assert wanted[-1][0] == "piece"


def test_pieces_and_baths_have_their_papers_too(shelf: Shelf) -> None:
    place, wanted = shelf.place, []
    place.papers_wanted.connect(lambda which, codes: wanted.append((which, codes)))
    place.look_at(PIECES)
    shelf.settle()
    choose_rows(place.pieces.table.selectionModel(), [0, 2], 0)
    place.papers.of_pieces[0].trigger()
    assert wanted[-1] == (
        "tags",
        tuple(place.pieces.model.records[row].history.piece.code for row in (0, 2)),
    )
    place.look_at(BATHS)
    shelf.settle()
    choose_rows(place.baths.table.selectionModel(), [1], 1)
    place.papers.menu().aboutToShow.emit()
    assert not any(action.isEnabled() for action in place.papers.of_pieces)
    place.papers.of_one.trigger()
    assert wanted[-1] == ("bath", (place.baths.model.records[1].whole.bath.code,))
