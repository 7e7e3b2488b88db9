"""The readings of home fastness tests that were set up, photo by photo."""

from __future__ import annotations

from collections.abc import Sequence

from dyeshade.insight.difference import Measured, measured
from dyeshade.insight.fastness import Pair, StepPairs
from dyeshade.library.edit import Reader
from dyeshade.library.readings import NEWEST
from dyeshade.library.shade_records import Reading
from dyeshade.library.trial_records import HomeTestPair, HomeTestRecord


def steps_of_test(reader: Reader, test: HomeTestRecord) -> tuple[StepPairs, ...]:
    """A test's pairs of readings, those of one photo together, in the order of time.

    Each reading is taken as the newest way of measuring has read it. A pair of the piece counts as
    long as both its readings are said to be of the piece.

    Parameters
    ----------
    reader : Reader
    test : HomeTestRecord
        With its id.
    """
    return steps_of_tests(reader, [test])[test.id]


def steps_of_tests(
    reader: Reader, tests: Sequence[HomeTestRecord]
) -> dict[int, tuple[StepPairs, ...]]:
    """The same of many tests, by their ids."""
    pairs = reader.among(HomeTestPair, "home_test_id", sorted(test.id for test in tests))
    ids = sorted({one for pair in pairs for one in (pair.untreated_id, pair.treated_id)})
    newest = _newest(reader, reader.among(Reading, "id", ids))
    taken = {one.reading.id: one for one in measured(reader, newest.values())}
    found: dict[int, tuple[StepPairs, ...]] = {}
    for test in tests:
        by_photo: dict[object, list[tuple[HomeTestPair, Pair]]] = {}
        for one in pairs:
            if one.home_test_id != test.id:
                continue
            untreated, treated = (
                taken[newest[reading].id] for reading in (one.untreated_id, one.treated_id)
            )
            if one.what == "piece" and not _both_of(test.piece_id, untreated, treated):
                continue
            by_photo.setdefault(_photo(treated), []).append((one, Pair(untreated, treated)))
        steps = [_step(kept) for kept in by_photo.values()]
        found[test.id] = tuple(sorted(steps, key=lambda step: step.read))
    return found


def _both_of(piece_id: int, *readings: Measured) -> bool:
    return all(one.reading.piece_id == piece_id for one in readings)


def _photo(one: Measured) -> object:
    photo = one.reading.photo_id
    return ("photo", photo) if photo is not None else ("moment", one.reading.read)


def _step(kept: Sequence[tuple[HomeTestPair, Pair]]) -> StepPairs:
    piece = [pair for one, pair in kept if one.what == "piece"]
    return StepPairs(
        piece[-1] if piece else None,
        tuple(pair for one, pair in kept if one.what == "white"),
        {one.blue_wool: pair for one, pair in kept if one.blue_wool is not None},
    )


def _newest(reader: Reader, readings: Sequence[Reading]) -> dict[int, Reading]:
    """What each reading is by the newest way of measuring, by its own id."""
    photos = sorted({one.photo_id for one in readings if one.photo_id is not None})
    listed = "[" + ",".join(map(str, photos)) + "]"
    condition = f"photo_id IN (SELECT value FROM json_each(?)) AND {NEWEST}"
    shown = {
        (one.photo_id, one.sample): one
        for one in (reader.where(Reading, condition, (listed,)) if photos else [])
    }
    return {
        one.id: one if one.photo_id is None else shown[one.photo_id, one.sample] for one in readings
    }
