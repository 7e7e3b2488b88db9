"""A photo that is not there yet: its place says what to do, and then says no more."""

from __future__ import annotations

from PySide6.QtGui import QColor, QPixmap
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from dyeshade.window.photo_view import PhotoView


def test_an_empty_place_says_what_to_do_until_there_is_a_photo(
    qtbot: QtBot, qapp: QApplication
) -> None:
    views = [PhotoView(), PhotoView()]
    for view in views:
        qtbot.addWidget(view)
        view.resize(500, 400)
        view.show()
    silent, telling = views
    telling.hint = "Choose a photo."
    assert telling.grab().toImage() != silent.grab().toImage()
    picture = QPixmap(40, 30)
    picture.fill(QColor("olive"))
    for view in views:
        view.show_picture(picture, (40, 30))
    assert telling.grab().toImage() == silent.grab().toImage()
