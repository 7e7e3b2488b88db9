"""What is said of samples finds its photo, and what no photo showed is told."""

from pathlib import Path

from dyeshade.errors import DyeshadeError
from dyeshade.library.find import find_shades
from dyeshade.library.library import Library
from dyeshade.work.known import known_to
from dyeshade.work.measure_photos import PhotoOutcome
from dyeshade.work.pieces_said import PiecesSaid, SampleSaid, keep_outcomes
from dyeshade.work.said import Said, SaidBath
from tests.work.saving import measured, photo_file


def outcome(folder: Path, name: str, *samples: str) -> PhotoOutcome:
    return PhotoOutcome(str(photo_file(folder, name)), measured(*samples))


def test_what_names_its_photo_goes_before_what_names_none(library: Library, tmp_path: Path) -> None:
    said = PiecesSaid(
        (
            SampleSaid("A", Said("W-2"), "two.jpg"),
            SampleSaid("A", Said("W-1")),
            SampleSaid("B", Said("W-3"), "three.jpg"),
        )
    )
    outcomes = [outcome(tmp_path, "one.jpg", "A", "B"), outcome(tmp_path, "two.jpg", "A", "B")]
    done = keep_outcomes(library, outcomes, said)
    assert done.kept.pieces == ("W-1", "W-2")
    assert [(Path(path).name, sample) for path, sample in done.places] == [
        ("one.jpg", "A"),
        ("two.jpg", "A"),
    ]
    assert [one.photo for one in done.not_found] == ["three.jpg"]


def test_where_no_photo_was_measured_nothing_is_kept(library: Library) -> None:
    said = PiecesSaid((SampleSaid("A", Said("W-1", bath="bath-1")),), (SaidBath("bath-1"),))
    done = keep_outcomes(library, [PhotoOutcome("x.jpg", DyeshadeError("no_sheet"))], said)
    assert not done.kept.changes
    assert done.not_found == said.samples
    assert not known_to(library).baths
    assert not find_shades(library)
