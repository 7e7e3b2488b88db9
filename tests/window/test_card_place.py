"""A shade card is put together, put in order, looked at and saved; all of it can be undone."""

from __future__ import annotations

import shutil
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from pypdf import PdfReader
from PySide6.QtCore import (
    QMimeData,
    QPoint,
    QPointF,
    QRectF,
    QSettings,
    Qt,
    QTimer,
    qInstallMessageHandler,
)
from PySide6.QtGui import QDropEvent, QImage, QPainter, QUndoStack
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QApplication, QLabel, QMainWindow, QMessageBox
from pytestqt.qtbot import QtBot

from dyeshade.library.dye_records import Piece
from dyeshade.library.library import Library, create_library
from dyeshade.library.pieces import add_piece
from dyeshade.library.shade_records import Reading
from dyeshade.paper.card_layout import LaidCard, card_pdf, lay_out_card
from dyeshade.paper.card_page import draw_card_page
from dyeshade.paper.page import Page
from dyeshade.paper.shade_card import Card, CardShade
from dyeshade.paper.typeset import set_line, wrapped
from dyeshade.window import look
from dyeshade.window.card_choice import CardChoice, moved, stepped
from dyeshade.window.card_place import CardPlace
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.presenter import Presenter
from dyeshade.window.qt_page import QtPage
from dyeshade.words.shade_card import CARD_WORDS
from tests.library.workshop import a_reading, fill

ALT, PLAIN = Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.NoModifier
PX_PER_MM = 4


@dataclass
class Room:
    """The place in a window of its own, with a library of the Hollow Weir Dye Room."""

    bot: QtBot
    window: QMainWindow
    place: CardPlace
    desk: LibraryDesk
    undo: QUndoStack
    folder: Path

    @property
    def codes(self) -> list[str]:
        """Pieces on the card, in their order."""
        return [entry.shade.piece for entry in self.place.shades.entries]

    def ask(self, question: Callable[[Library], object]) -> object:
        told: list[object] = []
        self.desk.ask(question, told.append)
        self.bot.waitUntil(lambda: bool(told))
        return told[0]

    def does(self, do: Callable[[], object]) -> None:
        """Do something, and wait until its preview is there."""
        with self.bot.waitSignal(self.place.making.previewed, timeout=60_000):
            do()

    def take(self, *codes: str) -> None:
        ids = [self.reading(code) for code in codes]
        self.does(lambda: self.place.take(ids))

    def reading(self, code: str) -> int:
        sql = "SELECT reading.id FROM reading JOIN piece ON piece_id = piece.id WHERE code = ?"
        found = self.ask(lambda library: library.value(sql, (code,)))
        assert isinstance(found, int)
        return found

    def press(self, key: Qt.Key, modifier: Qt.KeyboardModifier = PLAIN) -> None:
        self.bot.keyClick(self.place.list, key, modifier)


@pytest.fixture(scope="module")
def shades(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("workshop") / "shades"
    with create_library(folder) as library:
        fill(library)
    return folder


@pytest.fixture
def room(qtbot: QtBot, qapp: QApplication, tmp_path: Path, shades: Path) -> Iterator[Room]:
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(tmp_path))
    qapp.setOrganizationName("dyeshade tests")
    complaints: list[str] = []
    qInstallMessageHandler(lambda kind, where, text: complaints.append(text))
    before = set(threading.enumerate())
    look.put_on(qapp, "light")
    shutil.copytree(shades, tmp_path / "shades")
    window = QMainWindow()
    undo = QUndoStack(window)
    desk, presenter = LibraryDesk(undo, window), Presenter(window)
    faults: list[object] = []
    desk.failed.connect(faults.append)
    desk.refused.connect(presenter.refuse)
    place = CardPlace(desk, presenter, undo)
    QAbstractItemModelTester(
        place.shades, QAbstractItemModelTester.FailureReportingMode.Fatal, window
    )
    window.setCentralWidget(place)
    window.resize(1180, 720)
    window.show()
    desk.open(tmp_path / "shades")
    with qtbot.waitSignal(place.add.answered, timeout=60_000):
        pass
    yield Room(qtbot, window, place, desk, undo, tmp_path)
    window.close()
    desk.close()
    qapp.processEvents()
    running = [timer for timer in window.findChildren(QTimer) if timer.isActive()]
    qInstallMessageHandler(None)
    window.deleteLater()
    assert not running
    assert not faults
    assert set(threading.enumerate()) <= before
    assert not [text for text in complaints if "propagateSizeHints" not in text]


def test_an_empty_card_says_what_to_do(room: Room) -> None:
    place = room.place
    assert "Add them on the left" in place.empty.text()
    assert place.empty.isVisible()
    assert not place.preview.isVisible()
    with room.bot.waitSignal(place.library_wanted):
        place.library.click()
    assert not place.saving.save.isEnabled()


def test_an_empty_library_says_to_measure_first(room: Room) -> None:
    with create_library(room.folder / "new"):
        pass
    with room.bot.waitSignal(room.place.add.answered, timeout=60_000):
        room.desk.open(room.folder / "new")
    assert "Measure some pieces" in room.place.empty.text()
    assert not room.place.library.isVisible()


def test_a_card_on_its_way_does_not_say_what_to_do_first(room: Room) -> None:
    place, ids = room.place, [room.reading("W-003")]
    with room.bot.waitSignal(place.making.previewed, timeout=60_000):
        place.take(ids)
        assert place.empty.text() == "The library is being asked…"
        assert not place.library.isVisible()
    assert not place.empty.isVisible()


def test_shades_come_from_the_library_each_once(room: Room) -> None:
    room.take("W-003", "W-001")
    room.take("S-002", "W-001")
    assert room.codes == ["W-003", "W-001", "S-002"]
    assert room.place.count.text() == "3 shades on the card"
    assert room.place.preview.isVisible()
    assert room.place.preview.told.text() == "Page 1 of 1"


def test_shades_are_asked_for_by_their_conditions(room: Room) -> None:
    add = room.place.add
    assert add.add.text() == "&Add 8 shades"
    with room.bot.waitSignal(add.answered):
        add.dyestuff.setCurrentText("weld")
    with room.bot.waitSignal(add.answered):
        add.fibre.setCurrentText("silk")
    assert add.add.text() == "&Add 3 shades"
    room.does(add.add.click)
    assert room.codes == ["S-002", "S-004", "S-006"]
    assert not add.add.isEnabled()
    assert add.add.text() == "All on the card"
    with room.bot.waitSignal(add.answered):
        add.fibre.setCurrentText("any")
    assert add.add.text() == "&Add 3 shades"
    with room.bot.waitSignal(add.answered):
        add.mordant.setCurrentText("none written down")
    assert add.add.text() == "No shade fits"


def test_a_ph_is_typed_with_a_point_or_a_comma_or_answered(room: Room) -> None:
    add = room.place.add
    with room.bot.waitSignal(add.answered):
        room.bot.keyClicks(add.ph_least, "7,1")
    with room.bot.waitSignal(add.answered):
        room.bot.keyClicks(add.ph_most, "7.3")
    # The rinse acted last, and its pH was 7.2 for all of them.
    assert len(add.fitting) == 8
    room.bot.keyClicks(add.ph_most, "x")
    assert add.trouble.isVisible()
    assert "is a number" in add.trouble.text()
    assert not add.add.isEnabled()


def test_del_takes_shades_off_and_chooses_what_follows(room: Room) -> None:
    room.take("W-001", "W-003", "W-005")
    room.place.list.choose([room.reading("W-003")])
    room.does(lambda: room.press(Qt.Key.Key_Delete))
    assert room.codes == ["W-001", "W-005"]
    assert room.place.list.chosen == (room.reading("W-005"),)
    room.does(room.undo.undo)
    assert room.codes == ["W-001", "W-003", "W-005"]


def test_shades_are_moved_by_keys_and_stay_chosen(room: Room) -> None:
    room.take("W-001", "W-003", "W-005")
    last = room.reading("W-005")
    room.place.list.choose([last])
    room.does(lambda: room.press(Qt.Key.Key_Up, ALT))
    assert room.codes == ["W-001", "W-005", "W-003"]
    assert room.place.list.chosen == (last,)
    room.does(lambda: room.press(Qt.Key.Key_Up, ALT))
    room.press(Qt.Key.Key_Up, ALT)
    assert room.codes == ["W-005", "W-001", "W-003"]
    room.does(lambda: room.press(Qt.Key.Key_Down, ALT))
    assert room.codes == ["W-001", "W-005", "W-003"]


def test_shades_are_dragged_between_others(room: Room) -> None:
    room.take("W-001", "W-003", "W-005", "W-007")
    shown = room.place.list
    shown.choose([room.reading("W-001"), room.reading("W-003")])
    third = shown.visualRect(room.place.shades.index(2))
    data = room.place.shades.mimeData(shown.selectedIndexes())
    room.does(lambda: shown.dropEvent(a_drop(QPointF(20, third.bottom() - 4), data)))
    assert room.codes == ["W-005", "W-001", "W-003", "W-007"]
    below = QPointF(20, shown.viewport().height() - 2)
    room.does(lambda: shown.dropEvent(a_drop(below, data)))
    assert room.codes == ["W-005", "W-007", "W-001", "W-003"]


def a_drop(where: QPointF, data: QMimeData) -> QDropEvent:
    return QDropEvent(where, Qt.DropAction.MoveAction, data, Qt.MouseButton.LeftButton, PLAIN)


def test_moving_by_hand_begins_from_the_order_that_is_shown(room: Room) -> None:
    for code, lightness in (("W-001", 30.0), ("W-003", 60.0), ("W-005", 90.0)):
        relight(room, code, lightness)
    room.take("W-001", "W-003", "W-005")
    order = room.place.order

    def from_light() -> None:
        order.setCurrentIndex(order.findData("lightness"))
        order.activated.emit(order.currentIndex())

    room.does(from_light)
    assert room.codes == ["W-005", "W-003", "W-001"]
    room.place.list.choose([room.reading("W-001")])
    room.does(lambda: room.press(Qt.Key.Key_Up, ALT))
    assert room.codes == ["W-005", "W-001", "W-003"]
    assert order.currentData() == "given"
    room.does(room.undo.undo)
    assert order.currentData() == "lightness"
    room.does(room.undo.undo)
    assert room.codes == ["W-001", "W-003", "W-005"]


def relight(room: Room, code: str, lightness: float) -> None:
    """Give a kept reading another lightness."""
    number = room.reading(code)

    def job(library: Library) -> None:
        with library.edit("relight", undoable=False) as edit:
            edit.change(replace(edit.the(Reading, number), lab_l=lightness))

    room.desk.change("relight", job)
    room.ask(lambda library: None)


def test_values_that_change_in_the_library_change_on_the_card(room: Room) -> None:
    room.take("W-001")
    room.does(lambda: relight(room, "W-001", 33.0))
    assert room.place.shades.entries[0].shade.lab[0] == 33.0


def test_shades_that_are_gone_drop_out_and_come_back(room: Room) -> None:
    room.take("W-001", "W-003")
    gone = room.reading("W-001")

    def job(library: Library) -> None:
        with library.edit("remove") as edit:
            edit.remove(Reading, gone)

    room.does(lambda: room.desk.change("remove a reading", job))
    assert room.codes == ["W-003"]
    assert room.place.gone.isVisible()
    assert room.place.gone.text().startswith("1 shade left out")
    room.does(room.undo.undo)
    assert room.codes == ["W-001", "W-003"]
    assert not room.place.gone.isVisible()


def test_another_library_begins_an_empty_card(room: Room) -> None:
    room.take("W-001")
    shutil.copytree(room.folder / "shades", room.folder / "other")
    room.does(lambda: room.desk.open(room.folder / "other"))
    assert room.codes == []
    # What was chosen from the first library cannot come back into this one.
    room.undo.undo()
    assert room.codes == []


def test_a_title_is_typed_in_one_step_of_undo(room: Room) -> None:
    room.take("W-001")
    title = room.place.settings.title
    steps = room.undo.count()
    room.bot.keyClicks(title, "Weld in spring")
    assert room.place.making.choice.card.title == "Weld in spring"
    assert room.undo.count() == steps + 1
    room.does(room.undo.undo)
    assert title.text() == ""
    room.does(room.undo.redo)
    assert title.text() == "Weld in spring"


def test_how_a_card_is_made_up_is_kept_for_the_next_one(room: Room) -> None:
    settings = room.place.settings
    settings.papers["Letter"].click()
    settings.swatches["small"].click()
    settings.two_sided.click()
    room.bot.keyClicks(settings.maker, "Hollow Weir Dye Room")
    room.bot.keyClicks(settings.title, "Weld in spring")
    card = CardPlace(room.desk, Presenter(room.window), room.undo, room.window).making.choice.card
    assert card == Card("", "Hollow Weir Dye Room", "Letter", "small", False, True)


def test_pages_are_turned_over_by_keys(room: Room) -> None:
    place = room.place
    place.settings.swatches["large"].click()
    place.settings.two_sided.click()
    room.does(lambda: place.take(place.add.fitting))
    preview = place.preview
    count = preview.count
    assert count >= 4
    assert preview.told.text() == f"Page 1 of {count}"
    room.bot.keyClick(preview.view, Qt.Key.Key_PageDown)
    assert preview.told.text() == f"Page 2 of {count}, the back of page 1"
    room.bot.keyClick(preview.view, Qt.Key.Key_End)
    assert preview.number == count - 1
    room.bot.keyClick(preview.view, Qt.Key.Key_PageDown)
    assert preview.number == count - 1
    room.bot.keyClick(preview.view, Qt.Key.Key_PageUp)
    assert preview.number == count - 2
    # Choosing a shade turns to its page; what is clicked at in the preview is chosen.
    place.list.choose([place.shades.ids[0]])
    assert preview.number == 0
    where = QPoint(round(0.7 * preview.view.width()), round(0.25 * preview.view.height()))
    QTest.mouseClick(preview.view, Qt.MouseButton.LeftButton, PLAIN, where)
    assert place.list.chosen == (place.shades.ids[1],)
    # Going on with something else does not turn the page back.
    room.bot.keyClick(preview.view, Qt.Key.Key_PageDown)
    room.does(lambda: room.bot.keyClick(place.settings.title, Qt.Key.Key_W))
    assert preview.number == 1


def test_a_page_can_be_looked_at_closely(room: Room) -> None:
    room.take("W-001")
    preview = room.place.preview
    before = preview.view.width()
    preview.closer.click()
    room.bot.waitUntil(lambda: preview.view.width() >= 1000 > before)
    preview.closer.click()
    room.bot.waitUntil(lambda: preview.view.width() == before)


def test_the_saved_pdf_has_the_listed_pieces_in_the_order_shown(room: Room) -> None:
    room.take("W-005", "S-002", "W-001", "W-007")
    room.bot.keyClicks(room.place.settings.title, "Weld in spring")
    saving = room.place.saving
    assert not saving.open.isVisible()
    saving.save_to(room.folder / "card")
    room.bot.waitUntil(lambda: saving.saved is not None)
    assert saving.saved == room.folder / "card.pdf"
    assert saving.open.isVisible()
    assert saving.told.text().startswith("4 shades on 1 page")
    text = "\n".join(page.extract_text() for page in PdfReader(saving.saved).pages)
    assert "Weld in spring" in text
    places = [text.index(code) for code in room.codes]
    assert places == sorted(places)
    room.does(lambda: room.place.settings.fibre_place.click())
    assert saving.saved is None
    assert not saving.open.isVisible()


def test_a_card_that_cannot_be_saved_says_why(room: Room) -> None:
    room.take("W-001")
    room.place.saving.save_to(room.folder / "none" / "card.pdf")
    room.bot.waitUntil(lambda: bool(room.window.findChildren(QMessageBox)))
    (box,) = room.window.findChildren(QMessageBox)
    assert "could not be written" in box.text()
    box.close()
    assert room.place.saving.saved is None
    assert room.place.saving.save.isEnabled()


def test_characters_that_no_font_has_are_told(room: Room) -> None:
    room.take("W-001")
    missing = room.place.saving.missing
    assert not missing.isVisible()
    # A cuneiform sign.
    room.place.settings.title.setText("\U00012000")
    room.does(lambda: room.place.settings.title.textEdited.emit(""))
    assert missing.isVisible()
    assert "\U00012000" in missing.text()


def test_what_is_typed_while_pages_are_laid_out_is_laid_out_once(room: Room) -> None:
    room.take("W-001", "W-003")
    laid: list[LaidCard] = []
    room.place.making.laid_out.connect(laid.append)
    busy = threading.Event()
    room.desk.ask(lambda library: busy.wait(10), lambda _told: None)
    room.bot.keyClicks(room.place.settings.title, "Everything we ever dyed")
    assert laid == []
    room.does(busy.set)
    (only,) = laid
    assert only.card.title == "Everything we ever dyed"


def test_hundreds_of_shades_come_onto_a_card_beside_the_window(room: Room) -> None:
    def job(library: Library) -> None:
        with library.edit("many", undoable=False) as edit:
            for number in range(292):
                edit.add(a_reading(add_piece(edit, Piece(f"M-{number:03d}"))))

    room.desk.change("many", job)
    rows = room.ask(lambda library: [row[0] for row in library.rows("SELECT id FROM reading")])
    assert isinstance(rows, list)
    room.does(lambda: room.place.take(rows))
    assert room.place.count.text() == "300 shades on the card"
    # The window itself never waits for what the library or the pages take.
    room.place.making.make_up(Card("Everything"), "title the card")
    assert room.place.making.number > room.place.making.laid_number


def test_every_field_and_list_has_a_name_for_screen_readers(room: Room) -> None:
    place = room.place
    fields = [place.list, place.order, place.preview.view, place.settings.title]
    fields += [place.settings.maker, place.add.dyestuff, place.add.fibre, place.add.mordant]
    fields += [place.add.state, place.add.ph_least, place.add.ph_most]
    assert all(field.accessibleName() for field in fields)
    room.take("W-001")
    told = place.shades.data(place.shades.index(0), Qt.ItemDataRole.AccessibleTextRole)
    assert isinstance(told, str)
    for words in ("W-001", "weld 100 % wof", "wool, alum", "pH 7.2", "L* 78.0", "Sure to about 2"):
        assert words in told


def test_no_words_are_cut_off(room: Room) -> None:
    room.take("W-001")
    for label in room.place.findChildren(QLabel):
        if label.isVisible() and not label.wordWrap():
            assert label.width() >= label.sizeHint().width(), label.text()


def test_arranging_keeps_what_is_not_shown() -> None:
    choice = CardChoice((1, 2, 3, 4), "hue")
    assert choice.arranged((4, 1, 2)) == CardChoice((4, 1, 2, 3), "given")
    assert moved((1, 2, 3, 4), [1, 3], 4) == (2, 4, 1, 3)
    assert moved((1, 2, 3, 4), [4], 0) == (4, 1, 2, 3)
    assert stepped((1, 2, 3, 4), [2, 4], True) == (2, 4, 1, 3)
    assert stepped((1, 2, 3, 4), [4], False) == (1, 2, 3, 4)
    assert stepped((1, 2), [], True) == (1, 2)


def test_the_preview_is_the_page_that_is_printed(qapp: QApplication) -> None:
    names = ("weld", "Rauwolle", "шерсть", "לנה", "صوف", "ขนแกะ", "양모", "羊毛")
    shades = [
        CardShade(name, f"W-{place:03d}", (70.0, 5.0, 30.0), 2.0, (200, 170, 20 * place), True)
        for place, name in enumerate(names)
    ]
    laid = lay_out_card(Card("Fifi affine, the office", "Hollow Weir"), shades, CARD_WORDS)
    (page,) = laid.pages
    assert laid.missing == ""
    wide, high = (round(PX_PER_MM * side) for side in page.paper_mm)
    picture = QImage(wide, high, QImage.Format.Format_RGB888)
    picture.fill(0xFFFFFF)
    painter = QPainter(picture)
    painter.scale(PX_PER_MM, PX_PER_MM)
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
    draw_card_page(QtPage(painter), page)
    painter.end()
    data = np.frombuffer(picture.constBits(), np.uint8).reshape(high, -1)[:, : 3 * wide]
    seen = data.reshape(high, wide, 3).astype(float)
    with pypdfium2.PdfDocument(card_pdf(laid)) as pdf:
        printed = pdf[0].render(scale=PX_PER_MM * 25.4 / 72).to_numpy()[:high, :wide, ::-1]
    seen = seen[: printed.shape[0], : printed.shape[1]]
    for swatch in page.swatches:
        box = QRectF(*swatch.rect).center()
        x, y = round(PX_PER_MM * box.x()), round(PX_PER_MM * box.y())
        assert tuple(seen[y, x]) == swatch.shade.srgb == tuple(printed[y, x])
    for text in page.words:
        x, y = (round(PX_PER_MM * value) for value in (text.x_mm, text.baseline_mm))
        size = max(round(PX_PER_MM * text.points * 25.4 / 72), 4)
        part = np.s_[y - size : y + size // 3, x : x + 12 * size]
        ours, theirs = 255.0 - seen[part], 255.0 - printed[part]
        # Two programs round letters to pixels: as much ink, and in the same place.
        assert theirs.sum() > 0, text.words
        assert ours.sum() == pytest.approx(theirs.sum(), rel=0.25), text.words
        columns = np.arange(ours.shape[1])
        middles = [float(columns @ ink.sum((0, 2)) / ink.sum()) for ink in (ours, theirs)]
        assert middles[0] == pytest.approx(middles[1], abs=1.0), text.words


@pytest.mark.parametrize("name", ["Fifi AVAT", "шерсть", "לנה", "صوف", "ขนแกะ", "양모", "羊毛"])
def test_words_are_as_wide_on_the_screen_as_on_paper(qapp: QApplication, name: str) -> None:
    picture = QImage(8, 8, QImage.Format.Format_RGB888)
    painter = QPainter(picture)
    for text in set_line(*wrapped(name, "serif", 12.0, 100.0), "serif", 12.0, 0.0, 5.0):
        told = [
            page.text(0.0, 5.0, text.words, text.points, text.face)
            for page in (QtPage(painter), Page((100.0, 100.0), "", "sans"))
        ]
        assert told[0] == pytest.approx(told[1], abs=0.01)
    painter.end()
