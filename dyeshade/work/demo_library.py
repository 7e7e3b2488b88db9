"""The demo library: the example photos of an invented workshop, measured and kept.

What is said of the pieces stands in ``resources/demo/hollow_weir.json``, and is invented; what is
kept as their shades is what the program measures in the photos.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import Piece
from dyeshade.library.library import Library, open_or_create
from dyeshade.library.photos import hash_of, known_photo
from dyeshade.library.readings import readings_in
from dyeshade.measure.method import METHOD_VERSION
from dyeshade.resources import example_photos, resource_path
from dyeshade.work.home_tests import SaidTest, set_up_test
from dyeshade.work.keep_pieces import keep_piece
from dyeshade.work.keep_readings import said_before
from dyeshade.work.known import said_of_bath
from dyeshade.work.library_place import documents_folder
from dyeshade.work.measure_photos import PhotoOutcome, measure_photos
from dyeshade.work.pieces_file import read_pieces
from dyeshade.work.pieces_said import PiecesSaid, SampleSaid, keep_outcomes
from dyeshade.work.said import Said

FOLDER = "dyeshade demo library"

TAGGED = (
    ("W-019", "weld skein"),
    ("W-020", "chamomile skein"),
    ("W-021", "cochineal skein"),
    ("W-022", "madder exhaust skein"),
    ("W-023", "walnut skein"),
    ("W-024", "madder skein"),
)
"""Pieces whose tags lie in ``example_images/tagged/six_tagged_skeins.jpg``, not read yet."""

TESTED = SaidTest(
    "W-030",
    "light",
    datetime(2025, 10, 1, 9, 0),
    blue_wools=(3, 4),
    photo_days=(8, 16, 32, 64),
    note="on the sill of the dye room's south window",
)
"""The home test whose photo of day 8 is ``example_images/home_test/half_covered_day_8.jpg``."""

_LIGHT = "window"
"""The photos are rendered in daylight through a window."""


@dataclass(frozen=True)
class DemoMade:
    """What became of the demo library.

    Attributes
    ----------
    folder : Path
    outcomes : tuple of PhotoOutcome
        Photos that were measured now; those kept before are not measured again.
    readings : int
        How many were kept now.
    """

    folder: Path
    outcomes: tuple[PhotoOutcome, ...]
    readings: int


def demo_folder() -> Path:
    """Where the demo library lies: beside a person's own, never in it."""
    documents = documents_folder()
    return (documents if documents.is_dir() else Path.home()) / FOLDER


def make_demo_library(
    folder: str | Path | None = None,
    progress: Callable[[int, int], None] | None = None,
    photos: Sequence[Path] | None = None,
) -> DemoMade:
    """Measure the example photos and keep them; a photo that is kept already is passed over.

    Parameters
    ----------
    folder : str or Path, optional
        `demo_folder` unless told.
    progress : callable, optional
        Called with how many photos are done and how many there are to be measured.
    photos : sequence of Path, optional
        Some of the example photos; all unless told.

    Returns
    -------
    DemoMade

    Raises
    ------
    DyeshadeError
        ``no_examples`` where this installation came without them; else as
        `dyeshade.library.library.open_or_create` and `dyeshade.work.keep_readings.keep_readings`.
    """
    photos = example_photos() if photos is None else photos
    if not photos:
        raise DyeshadeError("no_examples")
    described = read_pieces(resource_path("demo/hollow_weir.json"))
    with open_or_create(demo_folder() if folder is None else folder) as library:
        wanted = [photo for photo in photos if not _is_kept(library, photo)]
        if not wanted:
            return DemoMade(library.folder, (), 0)
        paths = [str(photo) for photo in wanted]
        outcomes = tuple(measure_photos(paths, light=_LIGHT, progress=progress))
        said = _said_of(library, wanted, described)
        done = keep_outcomes(library, outcomes, said)
        _keep_tagged(library)
        _set_up_tested(library)
        return DemoMade(library.folder, outcomes, len(done.kept.reading_ids))


def _keep_tagged(library: Library) -> None:
    """The pieces of the photo with tags, as they were before it was taken; kept once."""
    with library.edit("make_pieces", undoable=False) as edit:
        for code, name in TAGGED:
            if not edit.where(Piece, "code = ?", (code,)):
                keep_piece(edit, code, Said(name=name, fibre="wool", fibre_make="2-ply yarn"))


def _set_up_tested(library: Library) -> None:
    """The piece that waits for the photo of its home test; kept once, with its test."""
    if library.where(Piece, "code = ?", (TESTED.piece,)):
        return
    with library.edit("make_pieces", undoable=False) as edit:
        keep_piece(edit, TESTED.piece, Said(name="madder skein", fibre="wool", mordant="alum"))
    set_up_test(library, TESTED)
    library.forget_undo()


def _is_kept(library: Library, photo: Path) -> bool:
    """Whether a photo was kept, and no newer way of measuring has come since.

    Readings that someone has removed are not brought back.
    """
    known = known_photo(library, hash_of(photo))
    if known is None:
        return False
    readings = readings_in(library, known.id)
    return all(one.method_version >= METHOD_VERSION for one in readings)


def _said_of(library: Library, photos: Sequence[Path], described: PiecesSaid) -> PiecesSaid:
    samples: list[SampleSaid] = []
    for photo in photos:
        # Whoever has changed a piece meanwhile is not contradicted.
        before = said_before(library, photo)
        samples += (SampleSaid(name, said, photo.name) for name, said in before.items())
        if not before:
            samples += (one for one in described.samples if one.photo == photo.name)
    named = {one.said.bath for one in samples}
    baths = tuple(
        bath
        for bath in described.baths
        if bath.code in named and said_of_bath(library, bath.code) is None
    )
    return PiecesSaid(tuple(samples), baths)
