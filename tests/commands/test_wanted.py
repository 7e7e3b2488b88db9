"""A wanted colour from a photo, in place of one that is typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.work import pick_shade
from dyeshade.work.pick_shade import PickedShade, PickFrom, picked
from tests.commands.conftest import Run
from tests.work.test_pick_shade import measured_photo


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[PickFrom]:
    """What was asked for; the photo seems to show the shade of W-001 in A."""
    told: list[PickFrom] = []

    def seem(wanted: PickFrom) -> PickedShade:
        told.append(wanted)
        return picked(measured_photo(), wanted.sample or "A", wanted.path)

    monkeypatch.setattr(pick_shade, "pick", seem)
    return told


@pytest.fixture
def folder(workshop: Library) -> Path:
    workshop.close()
    return workshop.folder


def test_the_nearest_shade_to_a_sample_is_told_with_how_sure_that_is(
    run: Run, folder: Path, asked: list[PickFrom], capsys: pytest.CaptureFixture[str]
) -> None:
    place = ("--library", folder)
    assert run("nearest", "--photo", "x.jpg", "--sample", "a", "--light", "led", *place) == 0
    first, second, *_ = capsys.readouterr().out.splitlines()
    assert first == "Wanted: L* 78.0, a* -6.0, b* 61.0, of A in x.jpg, sure to about 7"
    assert "0.0 (0 to" in second
    assert (asked[0].sample, asked[0].at, asked[0].light) == ("a", None, "led")
    assert run("nearest", "--photo", "x.jpg", "--at", "1200,840.5", "--across", "5", *place) == 0
    assert (asked[1].at, asked[1].across_mm) == ((1200.0, 840.5), 5.0)


def test_a_commission_of_a_photo_says_where_its_shade_is_from(
    run: Run, folder: Path, asked: list[PickFrom], capsys: pytest.CaptureFixture[str]
) -> None:
    place = ("--library", folder, "--json")
    assert run("commission", "agree", "--photo", "x.jpg", "--sample", "A", *place) == 0
    made = json.loads(capsys.readouterr().out)
    assert (made["lab"], made["note"]) == ([78.0, -6.0, 61.0], "The shade is that of A in x.jpg.")
    assert run("commission", "change", made["commission"], "--tolerance", "4", *place) == 0
    assert json.loads(capsys.readouterr().out)["tolerance"] == 4.0
    assert run("commission", "remove", made["commission"], *place) == 0
    capsys.readouterr()
    assert run("commission", "list", *place) == 0
    assert capsys.readouterr().out == ""


@pytest.mark.parametrize(
    "words",
    [
        (),
        ("60,20,30", "--photo", "x.jpg"),
        ("60,20,30", "--sample", "A"),
        ("--photo", "x.jpg", "--sample", "A", "--at", "1,2"),
        ("--photo", "x.jpg", "--across", "5"),
        ("--photo", "x.jpg", "--at", "here"),
    ],
)
def test_a_colour_is_given_in_one_way(run: Run, folder: Path, words: tuple[str, ...]) -> None:
    with pytest.raises(SystemExit) as ended:
        run("nearest", *words, "--library", folder)
    assert ended.value.code == 2


def test_what_the_photo_does_not_show_is_told(
    run: Run, folder: Path, asked: list[PickFrom], capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("nearest", "--photo", "x.jpg", "--sample", "F", "--library", folder) == 1
    assert "There is no sample F in x.jpg. It has A and B." in capsys.readouterr().err
    with pytest.raises(DyeshadeError) as caught:
        pick_shade.picked(measured_photo(), "F", "x.jpg")
    assert caught.value.facts["samples"] == ["A", "B"]
