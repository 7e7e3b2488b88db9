"""The command line: what it prints where, and how it ends."""

import json
import subprocess
import sys

import jsonschema
import numpy as np
import pytest
from PIL import Image

from dyeshade import __version__, cli
from dyeshade.resources import resource_path

VALID = jsonschema.Draft202012Validator(
    json.loads(resource_path("schemas/measure.schema.json").read_text(encoding="utf-8"))
)


def run(*arguments):
    return cli.main([str(argument) for argument in arguments])


def lines(capsys):
    """The JSON lines printed, each by the schema, and nothing else on stdout."""
    told = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    for line in told:
        VALID.validate(line)
    return told


@pytest.fixture
def wall(tmp_path):
    """A sharp photo of a plain thing without a sheet."""
    path = tmp_path / "wall.png"
    pixels = np.full((900, 1200, 3), 120, np.uint8)
    pixels[300:600, 400:800] = (180, 90, 60)
    Image.fromarray(pixels).save(path)
    return path


@pytest.fixture
def drawn(tmp_path):
    """A photo of five greys and a weld yellow, and what was drawn on it."""
    pixels = np.full((600, 900, 3), 70, np.uint8)
    greys = []
    for k, level in enumerate((40, 90, 130, 180, 230)):
        pixels[50:200, 50 + 160 * k : 200 + 160 * k] = level
        left, right = 60 + 160 * k, 190 + 160 * k
        corners = [[left, 60], [right, 60], [right, 190], [left, 190]]
        linear = ((level / 255 + 0.055) / 1.055) ** 2.4
        greys.append({"corners": corners, "reflectance": linear})
    pixels[300:500, 300:600] = (200, 180, 60)
    noise = np.random.default_rng(5).normal(0, 1.5, pixels.shape)
    photo = tmp_path / "drawn.png"
    Image.fromarray(np.clip(pixels + noise, 0, 255).round().astype(np.uint8)).save(photo)
    piece = {"name": "weld", "corners": [[310, 310], [590, 310], [590, 490], [310, 490]]}
    regions = tmp_path / "regions.json"
    regions.write_text(json.dumps({"greys": greys, "samples": [piece]}), encoding="utf-8")
    return photo, regions


def test_a_photo_measured_by_hand_drawn_greys(drawn, capsys):
    photo, regions = drawn
    assert run("measure", photo, "--regions", regions, "--light", "window", "--json") == 0
    (line,) = lines(capsys)
    (sample,) = line["samples"]
    # CIELAB of sRGB 200, 180, 60 by IEC 61966-2-1 and CIE 15, worked out with colour-science. What
    # cameras get wrong on the whole is put right as well, which moves it by less than 2.
    assert sample["lab"] == pytest.approx([73.05, -6.20, 60.83], abs=2.0)
    assert line["photo"] == str(photo)
    assert line["sheet"] is None


def test_refused_photos_have_their_reasons_in_the_order_given(wall, tmp_path, capsys):
    text = tmp_path / "notes.jpg"
    text.write_text("alum 12 % wof", encoding="utf-8")
    gone = tmp_path / "gone.jpg"
    assert run("measure", gone, wall, text, "--json") == 1
    told = lines(capsys)
    assert [line["photo"] for line in told] == [str(gone), str(wall), str(text)]
    codes = [line["error"]["code"] for line in told]
    assert codes == ["photo_missing", "no_sheet", "photo_kind_unknown"]


def test_one_photo_that_is_refused_leaves_the_others_measured(drawn, tmp_path, capsys):
    photo, regions = drawn
    assert run("measure", tmp_path / "gone.jpg", photo, "--regions", regions) == 1
    captured = capsys.readouterr()
    assert "Not measured. There is no such file." in captured.out
    assert "White D65, 2 degree observer" in captured.out
    assert captured.err == ""


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["measure"],
        ["measure", "x.jpg", "--light", "candle"],
        ["measure", "x.jpg", "--js"],
        ["sheet", "--paper", "A3", "--out", "x.pdf"],
        ["sheet", "--paper", "A4"],
        ["sheet", "--paper", "A4", "--out", "same", "--layout", "same"],
    ],
)
def test_wrong_usage_ends_with_2_and_says_how(arguments, capsys):
    with pytest.raises(SystemExit) as ended:
        run(*arguments)
    assert ended.value.code == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.startswith("usage: dyeshade")


def test_a_regions_file_that_is_wrong_is_wrong_usage(tmp_path, capsys):
    assert run("measure", "x.jpg", "--json", "--regions", tmp_path / "none.json") == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    told = f"There is no regions file {tmp_path / 'none.json'}. Look at its name and its folder."
    assert captured.err == f"{told}\n"


def test_a_sheet_is_made(tmp_path, capsys):
    page, layout = tmp_path / "sheet.pdf", tmp_path / "sheet.json"
    assert run("sheet", "--paper", "Letter", "--out", page, "--layout", layout) == 0
    captured = capsys.readouterr()
    assert captured.out == ""
    assert json.loads(layout.read_text(encoding="utf-8"))["serial"] in captured.err
    assert run("sheet", "--paper", "A4", "--out", tmp_path / "none" / "sheet.pdf") == 1
    assert "could not be written" in capsys.readouterr().err


def test_the_version_is_told(capsys):
    with pytest.raises(SystemExit) as ended:
        run("--version")
    assert ended.value.code == 0
    assert capsys.readouterr().out == f"dyeshade {__version__}\n"


def test_the_module_does_what_the_command_does(tmp_path):
    command = [sys.executable, "-m", "dyeshade", "measure", "none.jpg", "--json"]
    done = subprocess.run(command, capture_output=True, text=True, cwd=tmp_path, check=False)
    assert done.returncode == 1
    assert json.loads(done.stdout)["error"]["code"] == "photo_missing"
    assert done.stderr == ""


def test_a_reader_that_goes_away_early_is_no_mistake(tmp_path):
    command = [sys.executable, "-m", "dyeshade", "measure", *["none.jpg"] * 3]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=tmp_path
    ) as process:
        assert process.stdout is not None
        process.stdout.close()
        assert process.wait(60) == 1
        assert process.stderr is not None
        assert process.stderr.read() == ""


def test_help_answers_without_what_is_slow_to_import():
    slow = ["cv2", "numpy", "scipy", "colour", "PIL", "PySide6", "reportlab"]
    ask = (
        "import sys, dyeshade.cli\n"
        "try: dyeshade.cli.main(['measure', '--help'])\n"
        "except SystemExit: pass\n"
        f"sys.exit(str([name for name in {slow} if name in sys.modules]))"
    )
    done = subprocess.run([sys.executable, "-c", ask], capture_output=True, text=True, check=False)
    assert done.stderr.strip() == "[]"
    assert "outdoors-shade" in done.stdout


class Screen:
    """A terminal that remembers what was written on it."""

    def __init__(self):
        self.written = ""

    def isatty(self):
        return True

    def write(self, text):
        self.written += text

    def flush(self):
        pass


def test_a_terminal_shows_progress_and_wipes_it(tmp_path, capsys, monkeypatch):
    screen = Screen()
    monkeypatch.setattr(sys, "stderr", screen)
    assert run("measure", tmp_path / "a.jpg", tmp_path / "b.jpg", "--json") == 1
    assert len(lines(capsys)) == 2
    assert "0 of 2 photos" in screen.written
    assert "1 of 2 photos" in screen.written
    assert screen.written.endswith("\r")
    assert "\n" not in screen.written
