"""Home fastness tests as they stand: what was photographed, and which photos are due."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from dyeshade.errors import DyeshadeError
from dyeshade.insight.fastness_days import USUAL_DAYS, next_photo_due
from dyeshade.library.dye_records import Piece
from dyeshade.library.edit import Reader
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import readings_of
from dyeshade.library.shade_records import Reading
from dyeshade.library.trial_records import HomeTestPair, HomeTestRecord
from dyeshade.library.trials import home_tests_of, running_home_tests
from dyeshade.work.home_tests import Part


@dataclass(frozen=True)
class KeptTest:
    """A home test as it stands.

    Attributes
    ----------
    record : HomeTestRecord
    piece, name : str
        The piece's code and name.
    photos : tuple of datetime
        When the photos of it were taken, in order.
    due : datetime or None
        When the next one is due; None after the last, and for a test that was ended.
    spots : mapping of Part to str
        The samples that showed its parts in the latest photo.
    """

    record: HomeTestRecord
    piece: str
    name: str
    photos: tuple[datetime, ...] = ()
    due: datetime | None = None
    spots: Mapping[Part, str] = field(default_factory=dict)

    @property
    def running(self) -> bool:
        """Whether it goes on."""
        return self.record.ended is None


def usual_days(kind: str) -> tuple[int, ...]:
    """Days after its beginning on which a kind of test is photographed, unless told otherwise."""
    return USUAL_DAYS[kind]


def days_of(test: HomeTestRecord) -> tuple[int, ...]:
    """Days after its beginning on which a test is to be photographed."""
    return tuple(test.photo_days) or USUAL_DAYS[test.kind]


def kept_tests_of(library: Library, piece: str) -> tuple[KeptTest, ...]:
    """All home tests of a piece that were set up, the one begun first first.

    Raises
    ------
    DyeshadeError
        ``piece_unknown``
    """
    return as_they_stand(library, home_tests_of(library, find_piece(library, piece).id))


def all_tests(library: Library) -> tuple[KeptTest, ...]:
    """All home tests: those that go on, by when they are due, then those ended, the latest first.

    A test whose photos are all taken goes on until it is ended.
    """
    found = as_they_stand(library, library.where(HomeTestRecord, "1", (), "begun DESC, id DESC"))
    ended = tuple(one for one in found if not one.running)
    return (*running_tests(library), *ended)


def running_tests(library: Library) -> tuple[KeptTest, ...]:
    """Home tests that go on, the one whose photo is due first first; those all done last."""
    found = as_they_stand(library, running_home_tests(library))
    far = datetime.max
    return tuple(sorted(found, key=lambda one: (one.due or far, one.piece, one.record.id)))


def due_tests(library: Library, now: datetime, ahead_days: float = 0.0) -> tuple[KeptTest, ...]:
    """Home tests whose photo is due by the end of today, or some days later."""
    end = now.replace(hour=23, minute=59, second=59) + timedelta(days=ahead_days)
    return tuple(one for one in running_tests(library) if one.due is not None and one.due <= end)


def chosen_test(library: Library, piece: str, kind: str | None = None) -> HomeTestRecord:
    """The test of a piece that goes on, or of a kind the one set up last.

    Raises
    ------
    DyeshadeError
        ``piece_unknown``; ``home_test_unknown`` (piece) where there is none;
        ``home_tests_many`` (piece, tests) where a kind has to be named.
    """
    found = find_piece(library, piece)
    tests = [one for one in home_tests_of(library, found.id) if kind in (None, one.kind)]
    running = [one for one in tests if one.ended is None]
    if kind is None and len(running) > 1:
        raise DyeshadeError(
            "home_tests_many", piece=found.code, tests=[one.kind for one in running]
        )
    if not tests:
        raise DyeshadeError("home_test_unknown", piece=found.code)
    return (running or tests)[-1]


def readings_of_piece(library: Library, piece: str) -> tuple[Reading, ...]:
    """Readings of a piece in the order of time, to be named for a test.

    Raises
    ------
    DyeshadeError
        ``piece_unknown``
    """
    return tuple(readings_of(library, find_piece(library, piece).id))


def as_they_stand(library: Reader, tests: Sequence[HomeTestRecord]) -> tuple[KeptTest, ...]:
    """Tests as they stand, in the order that they are given in."""
    if not tests:
        return ()
    pieces = {p.id: p for p in library.among(Piece, "id", sorted({t.piece_id for t in tests}))}
    pairs = library.among(HomeTestPair, "home_test_id", sorted(test.id for test in tests))
    ids = sorted({one for pair in pairs for one in (pair.untreated_id, pair.treated_id)})
    readings = {one.id: one for one in library.among(Reading, "id", ids)}
    found = []
    for test in tests:
        own = [one for one in pairs if one.home_test_id == test.id]
        counted = [one for one in own if _counts(test, one, readings)]
        photos = sorted({readings[one.treated_id].read for one in counted})
        due = None
        if test.ended is None:
            due = next_photo_due(test.begun, photos[-1] if photos else None, days_of(test))
        piece = pieces[test.piece_id]
        latest = [one for one in counted if readings[one.treated_id].read == photos[-1]]
        spots = {
            Part(one.what, treated, one.blue_wool): readings[reading].sample
            for one in latest
            for treated, reading in ((False, one.untreated_id), (True, one.treated_id))
        }
        found.append(KeptTest(test, piece.code, piece.name, tuple(photos), due, spots))
    return tuple(found)


def _counts(test: HomeTestRecord, pair: HomeTestPair, readings: Mapping[int, Reading]) -> bool:
    both = (readings[pair.untreated_id], readings[pair.treated_id])
    return pair.what != "piece" or all(one.piece_id == test.piece_id for one in both)
