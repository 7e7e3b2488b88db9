"""``dyeshade read-again`` tells each change, and goes on where it was stopped."""

import json
from collections.abc import Iterator
from pathlib import Path

import jsonschema
import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.measure.method import METHOD_VERSION
from dyeshade.resources import resource_path
from dyeshade.work import read_again as module
from dyeshade.work.keep_readings import keep_readings
from dyeshade.work.said import Said
from tests.commands.conftest import Run
from tests.work.saving import measured, to_keep

SCHEMA = json.loads(resource_path("schemas/read_again.schema.json").read_text(encoding="utf-8"))


@pytest.fixture
def folder(library: Library, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Three photos and a newer way of measuring: pieces are darker, one photo is beyond it."""
    for name in ("one.jpg", "two.jpg", "three.jpg"):
        keep_readings(library, [to_keep(tmp_path, name, A=Said("W-001"), B=Said("W-002"))])
    library.close()

    def seem(photos: list[module.PhotoToRead], *_: object) -> Iterator[object]:
        found = [
            measured("A", "B", l_star=58.0),
            DyeshadeError("too_few_greys", levels=2, needed=4),
            measured("B", l_star=61.0),
        ]
        yield from zip(photos, found, strict=True)

    monkeypatch.setattr(module, "measure_again", seem)
    monkeypatch.setattr(module.HowRead.__init__, "__defaults__", (METHOD_VERSION + 1, None))
    return library.folder


def test_every_change_is_told_and_what_could_not_be_read(
    run: Run, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("read-again", "--library", folder) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == (
        "W-001 in one.jpg, A: L* 62.0, a* -4.0, b* 55.0 is now L* 58.0, a* -4.0, b* 55.0, "
        "ΔE00 3.5 apart: more than the 2.1 that was stated"
    )
    assert lines[2].startswith("two.jpg: ")
    assert "no piece was found in A this time" in lines[4]
    assert lines[5] == (
        "3 samples were read anew; both values are kept. Further apart than was stated: 2."
    )


def test_programs_get_a_line_for_each(
    run: Run, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("read-again", "--library", folder, "--json") == 1
    told = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    for one in told:
        jsonschema.Draft202012Validator(SCHEMA).validate(one)
    assert [one.get("beyond_stated") for one in told] == [True, True, None, False, None]
    assert run("read-again", "--library", folder, "--list", "--json") == 0
    listed = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert listed == [one for one in told if "delta_e_2000" in one]


def test_a_library_that_is_up_to_date_says_so(
    run: Run, workshop: Library, capsys: pytest.CaptureFixture[str]
) -> None:
    workshop.close()
    assert run("read-again", "--library", workshop.folder) == 0
    assert "Every photo was read by the newest way" in capsys.readouterr().out
    assert run("read-again", "--library", workshop.folder, "--list") == 0
    assert "Nothing was read anew yet." in capsys.readouterr().out
