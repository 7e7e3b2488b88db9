"""A photo of a home fastness test is kept: which of its samples show which parts of the test."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from dyeshade.errors import DyeshadeError
from dyeshade.insight.fastness_days import is_before
from dyeshade.library.dye_records import Piece
from dyeshade.library.edit import Edit
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Reading
from dyeshade.library.trial_records import HomeTestPair, HomeTestRecord
from dyeshade.measure.result import Measurement
from dyeshade.work.home_tests import Part, parts_of
from dyeshade.work.home_tests_kept import KeptTest, as_they_stand
from dyeshade.work.keep_readings import Kept, ToKeep, keep_readings, said_before
from dyeshade.work.said import Said, SaidBath

if TYPE_CHECKING:
    from dyeshade.insight.fastness import HomeTest

TREATED_STATES: Mapping[str, str] = {
    "light": "after_light",
    "wash": "after_wash",
    "acid_dip": "after_rinse",
    "alkaline_dip": "after_rinse",
    "rubbing": "dry",
}
"""State of the treated half in each home test; what was dipped is rinsed and dry again."""

WHITE_CLOTH = "white cloth"
BLUE_WOOL = "blue wool {}"
"""Pieces that white cloth and blue wool references are kept as, where nothing else is said."""

Spot = TypeVar("Spot")
Spots = Mapping[Part, str]
"""The sample that shows each part."""


@dataclass(frozen=True, eq=False)
class PhotoKept:
    """What was kept of a test's photo.

    Attributes
    ----------
    kept : Kept
    test : KeptTest
        As it stands now.
    result : HomeTest
        What it has come to.
    """

    kept: Kept
    test: KeptTest
    result: HomeTest


def keep_test_photo(
    library: Library,
    test_id: int,
    photo_file: str | Path,
    measurement: Measurement,
    spots: Spots,
    told: Mapping[str, Said] | None = None,
    baths: Sequence[SaidBath] = (),
    read: datetime | None = None,
) -> PhotoKept:
    """Keep a photo of a test, with its readings, in one step of undo.

    The same photo kept again takes the place of itself.

    Parameters
    ----------
    library : Library
    test_id : int
    photo_file : str or Path
    measurement : Measurement
    spots : mapping of Part to str
        Both halves of the piece, or of white cloth alone where it rubbed; halves go in pairs.
    told : mapping of str to Said, optional
        What is said of samples besides, by their names; white cloth and blue wools are kept as the
        piece that it names, or else as `WHITE_CLOTH` and `BLUE_WOOL`.
    baths : sequence of SaidBath, optional
        Baths that are described.
    read : datetime, optional
        When it was taken; the photo's own time unless told.

    Returns
    -------
    PhotoKept

    Raises
    ------
    DyeshadeError
        ``record_gone``; ``home_test_sample_missing`` (sample, found): the photo has no such
        sample; ``home_test_one_sample`` (sample): one sample is said to be two parts; as
        `dyeshade.work.keep_readings.keep_readings`.
    """
    test = library.the(HomeTestRecord, test_id)
    pairs = _in_pairs(test, spots)
    said = _said(library, test, photo_file, measurement, spots, told or {}, read)
    names = [sample.name for sample in measurement.samples if sample.name in said]

    def also(edit: Edit, ids: tuple[int, ...]) -> None:
        by_name = dict(zip(names, ids, strict=True))
        keep_pairs(edit, test, [(part, by_name[a], by_name[b]) for part, a, b in pairs])

    kept = keep_readings(library, [ToKeep(photo_file, measurement, said)], baths, also=also)
    # Slow to import, and the window begins with this module.
    from dyeshade.insight.fastness import home_test_of
    from dyeshade.insight.fastness_kept import steps_of_test

    (now,) = as_they_stand(library, [test])
    steps = steps_of_test(library, test)
    return PhotoKept(kept, now, home_test_of(test.kind, steps, test.begun))


def keep_test_readings(library: Library, test_id: int, readings: Mapping[Part, int]) -> KeptTest:
    """Keep readings that are in the library already as a photo of a test. One step of undo.

    Parameters
    ----------
    library : Library
    test_id : int
    readings : mapping of Part to int
        The id of the reading that shows each part, in pairs.

    Raises
    ------
    DyeshadeError
        ``record_gone``; ``reading_of_another`` (piece, reading) for a half that is no reading of
        the piece; ``home_test_one_sample`` (sample) for one reading that is said to be two parts.
    """
    test = library.the(HomeTestRecord, test_id)
    for one in readings.values():
        if list(readings.values()).count(one) > 1:
            raise DyeshadeError("home_test_one_sample", sample=one)
    with library.edit("keep_home_test_photo") as edit:
        for part, one in readings.items():
            reading = edit.the(Reading, one)
            if part.what == "piece" and reading.piece_id != test.piece_id:
                code = edit.the(Piece, test.piece_id).code
                raise DyeshadeError("reading_of_another", piece=code, reading=one)
        keep_pairs(edit, test, _in_pairs(test, readings))
    (now,) = as_they_stand(library, [test])
    return now


def keep_pairs(edit: Edit, test: HomeTestRecord, pairs: Sequence[tuple[Part, int, int]]) -> None:
    """Keep pairs of readings of one photo with a test, in place of those kept of it before.

    The treated half comes after the test's treatment from now on, the other one no longer.
    """
    readings = {one: edit.the(Reading, one) for _, a, b in pairs for one in (a, b)}
    photos = {one.photo_id for one in readings.values()} - {None}
    for old in edit.where(HomeTestPair, "home_test_id = ?", (test.id,)):
        treated = edit.the(Reading, old.treated_id)
        if treated.photo_id in photos or treated.id in readings:
            edit.remove(HomeTestPair, old.id)
    for part, untreated, treated_id in pairs:
        edit.add(HomeTestPair(test.id, untreated, treated_id, part.what, part.blue_wool))
        if part.what == "piece" and test.treatment_id is not None:
            before = is_before(test.kind, test.begun, readings[treated_id].read)
            after = None if before else test.treatment_id
            edit.change(replace(edit.the(Reading, treated_id), after_treatment_id=after))
            kept = edit.the(Reading, untreated)
            if kept.after_treatment_id == test.treatment_id:
                edit.change(replace(kept, after_treatment_id=None))


def _in_pairs(test: HomeTestRecord, spots: Mapping[Part, Spot]) -> list[tuple[Part, Spot, Spot]]:
    known = parts_of(test)
    if not spots or not set(spots) <= set(known):
        raise ValueError(f"parts {sorted(map(str, spots))} of a test of {test.kind}")
    pairs = []
    for untreated, treated in zip(known[::2], known[1::2], strict=True):
        if (untreated in spots) != (treated in spots):
            raise ValueError(f"one half alone: {untreated}")
        if untreated in spots:
            pairs.append((untreated, spots[untreated], spots[treated]))
    if not any(part.what != "blue_wool" for part, _, _ in pairs):
        raise ValueError("blue wools without a piece")
    return pairs


def _said(
    library: Library,
    test: HomeTestRecord,
    photo_file: str | Path,
    measurement: Measurement,
    spots: Spots,
    told: Mapping[str, Said],
    read: datetime | None,
) -> dict[str, Said]:
    found = [sample.name for sample in measurement.samples]
    before = said_before(library, photo_file)
    code = library.the(Piece, test.piece_id).code
    said: dict[str, Said] = {}
    for part, name in spots.items():
        if name not in found:
            raise DyeshadeError("home_test_sample_missing", sample=name, found=found)
        if name in said:
            raise DyeshadeError("home_test_one_sample", sample=name)
        one = told.get(name) or Said(piece=before[name].piece if name in before else "")
        taken = read or one.read or measurement.taken
        treated = part.treated and not (
            taken is not None and is_before(test.kind, test.begun, taken)
        )
        said[name] = replace(
            one,
            piece=code if part.what == "piece" else _beside(part, one.piece, code),
            state=TREATED_STATES[test.kind] if treated else "dry",
            read=read or one.read,
        )
    return said


def _beside(part: Part, told: str, tested: str) -> str:
    """The piece that white cloth or a blue wool is kept as."""
    # The tag of the tested piece may lie in the photo, and does not name the cloth beside it.
    if told.strip() and told.strip().casefold() != tested.casefold():
        return told
    return WHITE_CLOTH if part.what == "white" else BLUE_WOOL.format(part.blue_wool)


def likely_spots(test: KeptTest, names: Sequence[str], told: Mapping[str, Said]) -> dict[Part, str]:
    """Which samples of a photo show which parts, as far as there is a sign of it.

    What is said of the samples comes first, then where the parts lay in the latest photo.

    Parameters
    ----------
    test : KeptTest
    names : sequence of str
        Of the samples that are there.
    told : mapping of str to Said
    """
    found: dict[Part, str] = {}
    state = TREATED_STATES[test.record.kind]
    own = [n for n in names if n in told and told[n].piece.casefold() == test.piece.casefold()]
    treated = [name for name in own if told[name].state == state != "dry"]
    kept = [name for name in own if name not in treated]
    if len(treated) == 1 and len(kept) == 1:
        found = {Part("piece", False): kept[0], Part("piece", True): treated[0]}
    for part in parts_of(test.record):
        name = test.spots.get(part, "")
        if part not in found and name in names and name not in found.values():
            found[part] = name
    return found


def missing_parts(test: HomeTestRecord, spots: Spots) -> tuple[Part, ...]:
    """Parts that a photo of a test lacks: halves go in pairs, and blue wools beside a piece.

    After rubbing the white cloth may stand alone.
    """
    parts = parts_of(test)
    pairs = list(zip(parts[::2], parts[1::2], strict=True))
    lacking = [
        part for pair in pairs for part in pair if part not in spots and set(pair) & set(spots)
    ]
    told_by = [pair for pair in pairs if pair[0].what != "blue_wool" and set(pair) & set(spots)]
    if not told_by:
        lacking = [*pairs[0], *lacking]
    return tuple(lacking)
