"""What is told of the chosen shade: its photo, its bath, its repeats, how its piece has moved."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from dyeshade.errors import Notice
from dyeshade.library.dye_records import Treatment
from dyeshade.library.library import Library
from dyeshade.library.photos import keep_file, keep_photo
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading
from dyeshade.library.shade_records import SheetReading
from dyeshade.library.treatments import add_treatment
from dyeshade.window.tables import choose_rows
from tests.library.workshop import DAY, a_reading, fill
from tests.window.shelf import PATIENCE_MS, Shelf, shelf_with

SQUARE = ((40.0, 30.0), (140.0, 30.0), (140.0, 130.0), (40.0, 130.0))


@pytest.fixture
def shelf(qtbot: QtBot, qapp: QApplication, tmp_path: Path) -> Iterator[Shelf]:
    """W-003 went into vinegar and into light; the first reading after that has a photo."""
    photo = tmp_path / "IMG_0001.png"
    pixels = np.zeros((700, 1000, 3), np.uint8)
    pixels[30:130, 40:140] = (200, 180, 60)
    Image.fromarray(pixels).save(photo)

    def filling(library: Library) -> None:
        fill(library)
        kept = keep_file(library, photo, "PNG", DAY, "a camera")
        with library.edit("more") as edit:
            piece = find_piece(edit, "W-003").id
            taken = keep_photo(edit, kept)
            sheet = edit.add(
                SheetReading(
                    taken.id, 1, "window", notices=(Notice("greys_hidden", {"hidden": 1, "of": 9}),)
                )
            )
            add_treatment(
                edit,
                Treatment(
                    piece, "afterbath", substance="white vinegar", started=DAY + timedelta(days=5)
                ),
                ph=4.5,
            )
            keep_reading(
                edit,
                a_reading(
                    piece,
                    read=DAY + timedelta(days=6),
                    state="after_rinse",
                    lab_b=50.0,
                    lab_l=70.0,
                    photo_id=taken.id,
                    sheet_reading_id=sheet,
                    method_version=1,
                    outline_px=SQUARE,
                    notices=(Notice("glare", {"share": 0.08}),),
                    note="read at noon",
                ),
            )
            keep_reading(
                edit,
                a_reading(
                    piece, sample="B1", read=DAY + timedelta(days=30), lab_b=50.2, lab_l=70.0
                ),
            )
            keep_reading(edit, a_reading(piece, read=DAY, sample="C1", state="wet", lab_l=50.0))

    yield from shelf_with(qtbot, qapp, tmp_path / "shades", filling)


def told(shelf: Shelf) -> str:
    return "\n".join(shelf.place.shades.details.words())


def choose_read(shelf: Shelf, sample: str, code: str = "W-003") -> None:
    shades = shelf.place.shades
    row = next(
        i
        for i, one in enumerate(shades.model.shades)
        if (one.history.piece.code, one.reading.sample) == (code, sample)
        and (one.reading.note != "" or code != "W-003" or sample != "A1")
    )
    choose_rows(shades.selection, [row], row)
    shelf.settle()


def test_the_story_of_a_shade_is_told_in_words(shelf: Shelf) -> None:
    choose_read(shelf, "A1")
    lines = shelf.place.shades.details.words()
    for words in (
        "W-003: wool, 4-ply yarn, with alum 12 %, 50 g",
        "L* 70.0, a* -6.0, b* 50.0",
        "Sure to about 2: just visible",
        "Read 7 March 2026, after a rinse, dry; sample A1 of IMG_0001.png",
        "read at noon",
        "bath-002, first bath, 1 March 2026",
        "weld, tops, dried, 100 % wof, from Hollow Weir garden",
        "+ 2 g washing soda, pH 7.0 after it",
        "pH of the bath at end: 6.8 (meter)",
        "The pH that acted last: 4.5 of the afterbath or dip",
        "No other reading yet.",
        "afterbath, white vinegar, pH 4.5, 6 March 2026",
    ):
        assert words in lines
    assert "Glare lies on 8 %" in told(shelf)
    assert "1 of 9 greys and papers were hidden" in told(shelf)


def test_drift_is_told_where_it_is_beyond_the_measuring(shelf: Shelf) -> None:
    choose_read(shelf, "A1")
    words = told(shelf)
    assert "Moved by ΔE00 " in words
    assert "since 3 March 2026; darker, less vivid and greener." in words
    assert "Wet, and so darker: not compared." in words
    compare = [
        button
        for button in shelf.place.shades.details.findChildren(QPushButton)
        if button.text() == "Compare later ones with this" and button.isVisible()
    ]
    assert len(compare) == 1
    compare[0].click()
    shelf.settle()
    words = told(shelf)
    assert "No move beyond the measuring since 7 March 2026: ΔE00 0.1" in words
    assert "since 3 March 2026" not in words


def test_repeats_are_listed_with_their_difference(shelf: Shelf) -> None:
    def job(library: Library) -> None:
        with library.edit("again") as edit:
            piece = find_piece(edit, "W-001").id
            keep_reading(edit, a_reading(piece, sample="B2", read=DAY + timedelta(days=3)))

    shelf.desk.change("again", job)
    shelf.settle()
    choose_read(shelf, "B2", "W-001")
    assert "W-001, 3 March 2026, dry: ΔE00 0.0 from this one" in told(shelf)


def test_the_sample_is_cut_out_of_its_photo(shelf: Shelf) -> None:
    photos: list[Path] = []
    shelf.place.photo_wanted.connect(photos.append)
    choose_read(shelf, "B1")
    plate = shelf.place.shades.details.plate
    assert plate._words == "No photo"
    assert not shelf.place.shades.details.photo.isVisible()
    choose_read(shelf, "A1")
    assert plate._words == "Reading the photo…"
    shelf.qtbot.waitUntil(lambda: not plate._picture.isNull(), timeout=PATIENCE_MS)
    picture = plate._picture.toImage()
    middle = picture.pixelColor(picture.width() // 2, picture.height() // 2).getRgb()[:3]
    assert np.allclose(middle, (200, 180, 60), atol=6)
    assert picture.width() < 150
    shelf.place.shades.details.photo.click()
    assert photos[0].suffix == ".png"
    assert photos[0].is_file()


def test_a_photo_that_somebody_removed_is_said_to_be_gone(shelf: Shelf) -> None:
    assert shelf.desk.library is not None
    for file in (shelf.desk.library.folder / "photos").rglob("*.png"):
        file.unlink()
    choose_read(shelf, "A1")
    assert shelf.place.shades.details.plate._words == "The photo is gone"
    assert "L* 70.0" in told(shelf)
