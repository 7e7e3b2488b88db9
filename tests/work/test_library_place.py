"""Where the shade library lies."""

import sys
from pathlib import Path

import pytest

from dyeshade.work.library_place import FOLDER, VARIABLE, library_folder


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.delenv(VARIABLE, raising=False)
    monkeypatch.delenv("XDG_CONFIG_HOME", raising=False)
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    return tmp_path


def test_the_environment_names_it(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(VARIABLE, str(home / "elsewhere"))
    assert library_folder() == home / "elsewhere"


def test_it_lies_among_the_documents_where_there_are_any(home: Path) -> None:
    assert library_folder() == home / FOLDER
    (home / "Documents").mkdir()
    assert library_folder() == home / "Documents" / FOLDER


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="a file of Linux desktops")
def test_documents_may_be_called_otherwise(home: Path) -> None:
    (home / "Dokumente").mkdir()
    (home / ".config").mkdir()
    text = '# written by the desktop\nXDG_DOCUMENTS_DIR="$HOME/Dokumente"\n'
    (home / ".config" / "user-dirs.dirs").write_text(text, encoding="utf-8")
    assert library_folder() == home / "Dokumente" / FOLDER
