"""Samples are kept with the pieces that their tags name, and no tag is guessed at."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import Piece
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Reading
from dyeshade.measure.result import Measurement
from dyeshade.work.assign_by_tag import (
    ByTags,
    Tagged,
    keep_by_tag,
    pieces_by_tag,
    said_with_tags,
    tagged_samples,
)
from dyeshade.work.make_pieces import make_pieces
from dyeshade.work.measure_photos import PhotoOutcome
from dyeshade.work.said import Said, SaidBath
from tests.work.saving import measured, photo_file


def tagged(tags: Mapping[str, str]) -> Measurement:
    plain = measured(*tags)
    samples = tuple(replace(one, tag=tags[one.name]) for one in plain.samples)
    return replace(plain, samples=samples)


def outcome(folder: Path, name: str, tags: Mapping[str, str]) -> PhotoOutcome:
    (folder / name).parent.mkdir(exist_ok=True)
    return PhotoOutcome(str(photo_file(folder, name)), tagged(tags))


def pieces_of(library: Library) -> dict[str, str]:
    codes = {one.id: one.code for one in library.where(Piece)}
    return {one.sample: codes[one.piece_id] for one in library.where(Reading)}


def test_known_pieces_get_their_readings_and_unknown_ones_are_offered(
    library: Library, tmp_path: Path
) -> None:
    make_pieces(library, 2, Said(fibre="wool"))
    photo = outcome(tmp_path, "a.jpg", {"A": "W-001", "B": "W-777", "C": "", "D": "W-002"})
    done = keep_by_tag(library, [photo])
    assert pieces_of(library) == {"A": "W-001", "D": "W-002"}
    assert done.outcomes.kept.pieces == ("W-001", "W-002")
    assert done.outcomes.kept.new_pieces == ()
    assert done.unknown == ((photo.path, Tagged("B", "W-777", False)),)
    assert done.untagged == ((photo.path, "C"),)
    library.undo()
    assert pieces_of(library) == {}


def test_new_pieces_are_made_where_that_is_asked_for_with_what_is_said(
    library: Library, tmp_path: Path
) -> None:
    photo = outcome(tmp_path, "a.jpg", {"A": "HW-31"})
    said = ByTags(Said(fibre="silk", bath="bath-001"), (SaidBath("bath-001"),), new_pieces=True)
    done = keep_by_tag(library, [photo], said)
    assert done.outcomes.kept.new_pieces == ("HW-31",)
    assert done.outcomes.kept.new_baths == ("bath-001",)
    assert done.unknown == ()


def test_two_photos_of_one_name_are_not_mixed_up(library: Library, tmp_path: Path) -> None:
    make_pieces(library, 2, Said(fibre="wool"))
    one = outcome(tmp_path, "one/IMG_1.jpg", {"A": "W-001"})
    two = outcome(tmp_path, "two/IMG_1.jpg", {"A": "W-002"})
    refused = PhotoOutcome("gone.jpg", DyeshadeError("photo_missing"))
    (tmp_path / "two/IMG_1.jpg").write_bytes(b"another photo")
    done = keep_by_tag(library, [one, refused, two])
    assert done.outcomes.kept.pieces == ("W-001", "W-002")
    assert done.outcomes.places == ((one.path, "A"), (two.path, "A"))


def test_what_a_person_says_goes_before_the_tag() -> None:
    seen = tagged({"A": "W-001", "B": "W-002", "C": ""})
    said = said_with_tags(seen, {"A": Said(piece="W-009", fibre="wool"), "C": Said(fibre="silk")})
    assert said == {
        "A": Said(piece="W-009", fibre="wool"),
        "B": Said(piece="W-002"),
        "C": Said(fibre="silk"),
    }
    assert pieces_by_tag(seen) == {"A": "W-001", "B": "W-002"}


def test_a_tag_finds_its_piece_whatever_letters_it_was_written_in(library: Library) -> None:
    make_pieces(library, 1, Said(fibre="wool"))
    assert tagged_samples(library, tagged({"A": "w-001", "B": "X-1"})) == (
        Tagged("A", "W-001", True),
        Tagged("B", "X-1", False),
    )
