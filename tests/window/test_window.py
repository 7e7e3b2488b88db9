"""The window measures what the command line measures, and says the same."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, Qt, QUrl
from PySide6.QtGui import QColor, QGuiApplication, QImage
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from dyeshade import window as window_room
from dyeshade.cli import main
from dyeshade.window import look
from dyeshade.window.main_window import MainWindow
from dyeshade.window.presenter import FaultReport
from tests.window.conftest import DRY, EXAMPLES, VINEGAR
from tests.window.drive import names, opened, settled


def shown(window: MainWindow, row: int) -> str:
    samples = window.measuring_place.samples
    return str(samples.data(samples.index(row, 0), Qt.ItemDataRole.DisplayRole))


def test_numbers_and_cautions_are_those_of_the_command_line(
    measured: MainWindow, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["measure", VINEGAR, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    entries = measured.measuring_place.samples.entries
    assert len(entries) == len(told["samples"])
    for row, sample in enumerate(told["samples"]):
        found = entries[row].sample
        assert found is not None
        assert [round(float(value), 4) for value in found.shade.lab] == sample["lab"]
        assert round(found.shade.u95, 4) == sample["u95"]
        values = "L* {:.1f}, a* {:.1f}, b* {:.1f}".format(*sample["lab"])
        assert shown(measured, row).startswith(f"{sample['name']}. {values}. Sure to about ")
    assert "daylight from a window" in measured.measuring_place.panel.notes.text()


def test_two_photos_and_one_that_is_refused(window: MainWindow, qtbot: QtBot) -> None:
    opened(window, qtbot, [DRY, str(EXAMPLES / "refused" / "too_blurred.jpg"), DRY])
    photos = window.measuring.photos
    states = [str(photos.data(photos.index(row, 0))) for row in range(photos.rowCount())]
    assert states == ["hw27_1_dry.jpg: 2 samples", "too_blurred.jpg: not measured"]
    place = window.measuring_place
    place.photo_list.setCurrentIndex(photos.index(1, 0))
    assert place.panel.notes.text().startswith("Not measured. The photo is too blurred")
    assert names(window) == []
    assert not place.panel.corrected.isEnabled()
    assert place.panel.taken.isEnabled()


def test_stopping_leaves_what_is_done_and_says_what_is_not(
    window: MainWindow, qtbot: QtBot
) -> None:
    window.measure([DRY, str(EXAMPLES / "none.jpg"), VINEGAR])
    assert not window.measuring_place.stop.isHidden()
    window.measuring_place.stop.click()
    settled(window, qtbot)
    assert window.measuring_place.stop.isHidden()
    photos = window.measuring.photos
    assert photos.data(photos.index(2, 0)) == "hw27_2_vinegar.jpg: stopped"
    window.measuring_place.photo_list.setCurrentIndex(photos.index(1, 0))
    window.measuring_place.measure_again()
    settled(window, qtbot)
    assert photos.data(photos.index(1, 0)) == "none.jpg: not measured"


def test_pasted_files_and_pictures_are_measured(window: MainWindow, qtbot: QtBot) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(EXAMPLES / "none.jpg"))])
    QGuiApplication.clipboard().setMimeData(data)
    window.paste()
    picture = QImage(1200, 900, QImage.Format.Format_RGB32)
    picture.fill(QColor("#888888"))
    QGuiApplication.clipboard().setImage(picture)
    window.paste()
    settled(window, qtbot)
    gone, pasted = window.measuring.photos.pages
    assert gone.name == "none.jpg"
    assert pasted.name.startswith("pasted 2")
    refusals = [page.refusal for page in window.measuring.photos.pages]
    codes = [None if refusal is None else refusal.code for refusal in refusals]
    assert codes[0] == "photo_missing"
    assert codes[1] is not None


def test_the_photo_as_corrected_is_another_picture(measured: MainWindow) -> None:
    panel = measured.measuring_place.panel
    picture = panel.view._picture
    taken = picture.pixmap().toImage()
    panel.corrected.click()
    corrected = picture.pixmap().toImage()
    assert corrected.size() == taken.size()
    assert corrected != taken
    panel.taken.click()
    assert picture.pixmap().toImage() == taken


def test_swatches_lie_on_the_same_grey_in_light_and_dark(
    measured: MainWindow, qapp: QApplication
) -> None:
    place = measured.measuring_place
    sample = place.samples.entries[0].sample
    assert sample is not None
    for name in ("light", "dark"):
        look.put_on(qapp, name)
        qapp.processEvents()
        picture = place.sample_list.viewport().grab().toImage()
        assert picture.pixelColor(10, 6) == look.GROUND
        assert picture.pixelColor(46, 40).getRgb()[:3] == sample.srgb
    look.put_on(qapp, "light")


def test_a_fault_of_ours_comes_with_a_report_to_copy(window: MainWindow, qtbot: QtBot) -> None:
    window.measuring.errands.failed.emit(ValueError("a mistake of ours"))
    qtbot.waitUntil(lambda: bool(window.findChildren(FaultReport)))
    (report,) = window.findChildren(FaultReport)
    report.copy()
    assert "ValueError: a mistake of ours" in QGuiApplication.clipboard().text()
    report.close()


def test_copied_values_are_a_table(measured: MainWindow) -> None:
    measured.measuring_place.copy_values()
    head, *rows = QGuiApplication.clipboard().text().splitlines()
    assert head.split("\t") == ["sample", "L*", "a*", "b*", "u95 CIEDE2000", "sRGB"]
    assert [row.split("\t")[0] for row in rows] == names(measured)


def test_without_a_display_it_names_the_commands_that_work(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for variable in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(variable, raising=False)
    monkeypatch.setattr("sys.platform", "linux")
    assert window_room.main() == 1
    assert "dyeshade measure" in capsys.readouterr().err


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere there is always a display")
def test_the_command_alone_opens_the_window_or_says_that_it_cannot() -> None:
    root = str(Path(window_room.__file__).parents[2])
    done = subprocess.run(
        [sys.executable, "-m", "dyeshade"],
        env={"PATH": "/usr/bin:/bin", "PYTHONPATH": root},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 1
    assert done.stderr.startswith("There is no display")
