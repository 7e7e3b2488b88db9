"""``dyeshade calibrate`` as it is typed."""

import numpy as np
import pytest

from dyeshade.cli import main
from dyeshade.photo.vision import cv2
from tests.measure.chart_photos import SERIAL


def test_typed_greys_are_kept_listed_and_removed(tmp_path, capsys):
    where = ["--library", str(tmp_path / "shades")]
    typed = ["--serial", SERIAL, "--grey", "paper=0.9", "--grey", "8=0.03"]
    assert main(["calibrate", "sheet", *typed, *where]) == 0
    assert "reflects 90.0 %" in capsys.readouterr().out
    assert main(["calibrate", "list", *where]) == 0
    assert f"sheet {SERIAL}, from measured values" in capsys.readouterr().out
    assert main(["calibrate", "leave-out", "1", *where]) == 0
    assert capsys.readouterr().out.endswith("; not used\n")
    assert main(["calibrate", "use", "1", *where]) == 0
    assert capsys.readouterr().out.endswith("from measured values\n")
    assert main(["calibrate", "remove", "1", *where]) == 0
    assert main(["calibrate", "remove", "1", *where]) == 1
    assert "no calibration 1" in capsys.readouterr().err


def test_a_photo_without_a_chart_calibrates_nothing(tmp_path, capsys):
    photo = tmp_path / "grey.png"
    cv2.imwrite(str(photo), np.full((700, 900, 3), 128, np.uint8))
    where = ["--library", str(tmp_path / "shades")]
    assert main(["calibrate", "camera", str(photo), "--chart", "24", *where]) == 1
    assert "which camera took it" in capsys.readouterr().err
    assert not (tmp_path / "shades").exists()


@pytest.mark.parametrize(
    "typed",
    [
        ["sheet"],
        ["sheet", "photo.jpg", "--serial", SERIAL],
        ["sheet", "photo.jpg", "--chart", "24", "--card", "A=0.18"],
        ["sheet", "--grey", "paper=0.9"],
        ["sheet", "--serial", SERIAL, "--grey", "9=0.9"],
        ["sheet", "photo.jpg", "--card", "A=18"],
        ["camera", "photo.jpg"],
        ["camera", "photo.jpg", "--chart", "24", "--corners", "1,2,3"],
        ["camera", "photo.jpg", "--chart", "24", "--grid", "4"],
    ],
)
def test_what_does_not_go_together_is_told(typed, capsys):
    with pytest.raises(SystemExit) as ended:
        main(["calibrate", *typed])
    assert ended.value.code == 2
    capsys.readouterr()
