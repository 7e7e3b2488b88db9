"""Commissions and home tests: found, and taken along where pieces or readings go."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from dyeshade.errors import DyeshadeError
from dyeshade.library.edit import Edit, Reader
from dyeshade.library.readings import readings_of
from dyeshade.library.shade_records import Reading
from dyeshade.library.trial_records import (
    Commission,
    CommissionResult,
    HomeTestPair,
    HomeTestRecord,
)


def find_commission(reader: Reader, code: str) -> Commission:
    """The commission with a code, upper and lower case being the same.

    Raises
    ------
    DyeshadeError
        ``commission_unknown`` (commission)
    """
    found = reader.coded(Commission, code)
    if not found:
        raise DyeshadeError("commission_unknown", commission=code)
    return found[0]


def next_commission_code(reader: Reader) -> str:
    """A code that no commission has, as "commission-003"."""
    codes = {str(row[0]).casefold() for row in reader.rows("SELECT code FROM commission")}
    number = len(codes) + 1
    while f"commission-{number:03d}" in codes:
        number += 1
    return f"commission-{number:03d}"


def remove_reading(edit: Edit, reading_id: int) -> None:
    """Remove a reading, what was judged by it, and its pairs in home tests.

    A commission whose agreed shade it was keeps the shade as numbers.

    Raises
    ------
    DyeshadeError
        ``record_gone``
    """
    for result in edit.where(CommissionResult, "reading_id = ?", (reading_id,)):
        edit.remove(CommissionResult, result.id)
    for commission in edit.where(Commission, "reading_id = ?", (reading_id,)):
        edit.change(replace(commission, reading_id=None))
    either = "untreated_id = ? OR treated_id = ?"
    for pair in edit.where(HomeTestPair, either, (reading_id, reading_id)):
        edit.remove(HomeTestPair, pair.id)
    edit.remove(Reading, reading_id)


def remove_home_test(edit: Edit, home_test_id: int) -> None:
    """Remove a home test with its pairs; the treatment that it was stays with the piece.

    Raises
    ------
    DyeshadeError
        ``record_gone``
    """
    for pair in edit.where(HomeTestPair, "home_test_id = ?", (home_test_id,)):
        edit.remove(HomeTestPair, pair.id)
    edit.remove(HomeTestRecord, home_test_id)


def remove_home_tests_of(edit: Edit, piece_id: int) -> None:
    """Remove all home tests of a piece, which is about to be removed itself."""
    for test in edit.where(HomeTestRecord, "piece_id = ?", (piece_id,)):
        remove_home_test(edit, test.id)


def let_go_of_treatment(edit: Edit, treatment_id: int) -> None:
    """Leave home tests without a treatment that is about to be removed."""
    for test in edit.where(HomeTestRecord, "treatment_id = ?", (treatment_id,)):
        edit.change(replace(test, treatment_id=None))


def move_home_tests(edit: Edit, to_id: int, from_id: int, became: Mapping[int, int]) -> None:
    """Give one piece's home tests to another; `became` tells what its treatments have become."""
    for test in edit.where(HomeTestRecord, "piece_id = ?", (from_id,)):
        treatment = None if test.treatment_id is None else became[test.treatment_id]
        edit.change(replace(test, piece_id=to_id, treatment_id=treatment))


def remove_commission(edit: Edit, commission_id: int) -> None:
    """Remove a commission with its results; pieces and readings stay.

    Raises
    ------
    DyeshadeError
        ``record_gone``
    """
    for result in edit.where(CommissionResult, "commission_id = ?", (commission_id,)):
        edit.remove(CommissionResult, result.id)
    edit.remove(Commission, commission_id)


def tested_apart(reader: Reader) -> frozenset[int]:
    """Ids of treatments that one half of a piece went through, as a home test."""
    sql = "SELECT treatment_id FROM home_test WHERE treatment_id IS NOT NULL"
    return frozenset(int(row[0]) for row in reader.rows(sql))


def treated_apart(reader: Reader, piece_id: int | None = None) -> frozenset[int]:
    """Ids of the readings that show a piece's treated half in a home test.

    Those of newer ways of measuring are among them.

    Parameters
    ----------
    reader : Reader
    piece_id : int, optional
        All pieces unless told.
    """
    sql = (
        "SELECT other.id FROM home_test_pair JOIN home_test ON home_test.id = home_test_id"
        " JOIN reading ON reading.id = treated_id JOIN reading AS other ON other.id = reading.id"
        " OR (other.photo_id = reading.photo_id AND other.sample = reading.sample)"
        " WHERE what = 'piece' AND home_test.piece_id = reading.piece_id"
        " AND (?1 IS NULL OR reading.piece_id = ?1)"
    )
    return frozenset(int(row[0]) for row in reader.rows(sql, (piece_id,)))


def readings_of_whole(reader: Reader, piece_id: int) -> list[Reading]:
    """A piece's newest readings in the order of their time, but for halves treated in home tests.

    Where there are none but those, they are all that tells of the piece.
    """
    found = readings_of(reader, piece_id)
    halves = treated_apart(reader, piece_id)
    return [one for one in found if one.id not in halves] or found


def home_tests_of(reader: Reader, piece_id: int) -> list[HomeTestRecord]:
    """Home tests of a piece, the one begun first first."""
    return reader.where(HomeTestRecord, "piece_id = ?", (piece_id,), "begun, id")


def running_home_tests(reader: Reader) -> list[HomeTestRecord]:
    """Home tests that go on, of all pieces."""
    return reader.where(HomeTestRecord, "ended IS NULL", (), "begun, id")
