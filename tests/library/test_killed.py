"""A library stands being killed while it saves (the study does it 50 times)."""

from pathlib import Path

from dyeshade.library.library import create_library
from tests.studies.kill_while_saving import study, troubles


def test_what_was_confirmed_is_kept_when_the_program_is_killed():
    outcomes = study(3, seed=5)
    assert [outcome.troubles for outcome in outcomes] == [(), (), ()]
    assert all(outcome.confirmed >= 1 for outcome in outcomes)


def test_the_study_would_see_what_is_lost(tmp_path: Path):
    create_library(tmp_path / "shades").close()
    assert troubles(tmp_path / "shades", [7]) == ["lost: 7"]
