"""``dyeshade demo`` prints the demo library, and opens the window where there is a display."""

from pathlib import Path

import pytest

from dyeshade import window
from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.work import demo_library
from dyeshade.work.demo_library import DemoMade
from dyeshade.work.measure_photos import PhotoOutcome
from tests.commands.conftest import Run


@pytest.fixture
def made(workshop: Library, monkeypatch: pytest.MonkeyPatch) -> Path:
    workshop.close()
    made = DemoMade(workshop.folder, (), 8)
    monkeypatch.setattr(demo_library, "make_demo_library", lambda *_: made)
    return made.folder


def test_without_a_display_it_names_the_commands_that_work(
    run: Run, made: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(window, "has_display", lambda: False)
    assert run("demo") == 0
    captured = capsys.readouterr()
    assert "invented" in captured.out
    assert "W-008" in captured.out
    assert f"dyeshade shades --library {made} " in captured.err
    assert run("demo", "--no-window") == 0
    assert "no display" not in capsys.readouterr().err


def test_with_a_display_the_window_opens_on_it(
    run: Run, made: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[Path] = []
    monkeypatch.setattr(window, "has_display", lambda: True)
    monkeypatch.setattr(window, "main", lambda library: opened.append(library) or 0)
    assert run("demo") == 0
    assert opened == [made]


def test_a_photo_that_is_refused_is_told(
    run: Run, made: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    outcome = PhotoOutcome("weld.jpg", DyeshadeError("reader_crashed"))
    partly = DemoMade(made, (outcome,), 0)
    monkeypatch.setattr(demo_library, "make_demo_library", lambda *_: partly)
    assert run("demo", "--no-window") == 1
    assert "weld.jpg: Reading this photo crashed the reader" in capsys.readouterr().err


def test_what_stands_in_the_way_is_told(
    run: Run, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def refuse(*_: object) -> DemoMade:
        raise DyeshadeError("no_examples")

    monkeypatch.setattr(demo_library, "make_demo_library", refuse)
    assert run("demo") == 1
    assert "without the example photos" in capsys.readouterr().err
