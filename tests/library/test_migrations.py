"""A library of any version opens in today's program with all that it held."""

import sqlite3
from datetime import date
from pathlib import Path

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import DyestuffLot
from dyeshade.library.find import ShadeQuery, find_shades
from dyeshade.library.library import create_library, open_library
from dyeshade.library.migrations import BACKUPS, STEPS, statements
from dyeshade.library.store import FILE_NAME, open_store
from dyeshade.library.tables import TABLES
from tests.library.workshop import dump

SAMPLES = sorted(Path(__file__).parent.glob("version_*.sql"))


def old_library(folder: Path, sample: Path) -> Path:
    """A library as an earlier program wrote it."""
    folder.mkdir()
    old = sqlite3.connect(folder / FILE_NAME)
    old.executescript(sample.read_text(encoding="utf-8"))
    old.close()
    return folder


def schema(connection: sqlite3.Connection) -> set[str]:
    rows = connection.execute("SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL")
    return {" ".join(row[0].split()) for row in rows}


def test_there_is_a_sample_of_every_version():
    assert [sample.stem for sample in SAMPLES] == [
        f"version_{number}" for number in range(1, len(STEPS) + 1)
    ]


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_an_old_library_becomes_what_a_new_one_is(tmp_path: Path, sample: Path):
    create_library(tmp_path / "new").close()
    new = open_store(tmp_path / "new", read_only=True)
    folder = old_library(tmp_path / "old", sample)
    with open_library(folder) as opened:
        assert schema(opened._connection) == schema(new.connection)
        assert opened.value("PRAGMA user_version") == len(STEPS)
        assert opened.check() == ()
        found = {one.reading.sample: one for one in find_shades(opened, ShadeQuery(fibre="wool"))}
        assert set(found) == {"A1", "B1"}
        assert found["B1"].conditions.ph("bath_end") == 6.8
        assert found["B1"].reading.notices[0].code == "darker_than_greys"
        assert found["B1"].reading.outline_px == ((1.0, 2.0), (3.0, 4.0), (5.0, 1.5))
        assert found["B1"].reading.shade.covariance_photo[0, 0] == 0.04
    new.close()


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_every_kind_of_record_goes_out_and_comes_back_the_same(tmp_path: Path, sample: Path):
    with open_library(old_library(tmp_path / "old", sample)) as opened:
        before = dump(opened)
        made = sample.read_text(encoding="utf-8")
        for table in TABLES.values():
            records = opened.where(table.record)
            # A table that came later is empty.
            known = f"CREATE TABLE {table.kind} (" in made
            assert bool(records) == known, f"the sample has no {table.kind}"
            for record in records:
                assert table.to_record(table.to_row(record)) == record
        with opened.edit("write all again") as edit:
            for table in TABLES.values():
                for record in edit.where(table.record):
                    edit.change(record)
        assert dump(opened) == before
        assert not edit.changes


NEXT = (*STEPS, "ALTER TABLE dyestuff_lot ADD COLUMN harvested TEXT;\nUPDATE piece SET note = 'x';")
BROKEN = (*STEPS, "UPDATE piece SET note = 'x';\nINSERT INTO nowhere VALUES (1);")
DANGLING = (*STEPS, "DELETE FROM fibre_lot;")


def test_an_upgrade_keeps_a_copy_of_what_was(tmp_path: Path):
    folder = old_library(tmp_path / "old", SAMPLES[-1])
    with open_library(folder) as opened:
        before = dump(opened)
        assert opened.backup is None
    with open_library(folder, steps=NEXT) as upgraded:
        backup = upgraded.backup
        assert upgraded.value("PRAGMA user_version") == len(STEPS) + 1
        assert upgraded.value("SELECT count(*) FROM piece WHERE note = 'x'") == 1
        assert upgraded.value("PRAGMA foreign_keys") == 1
    assert backup is not None
    assert backup.parent == folder / BACKUPS
    # The copy is itself a library, if it is put where one is looked for.
    (tmp_path / "copy").mkdir()
    backup.rename(tmp_path / "copy" / FILE_NAME)
    with open_library(tmp_path / "copy") as copy:
        assert dump(copy) == before
    with pytest.raises(DyeshadeError) as caught:
        open_library(folder)
    assert caught.value.code == "library_newer"


@pytest.mark.parametrize("steps", [BROKEN, DANGLING])
def test_an_upgrade_that_fails_changes_nothing(tmp_path: Path, steps: tuple[str, ...]):
    folder = old_library(tmp_path / "old", SAMPLES[-1])
    with open_library(folder) as opened:
        before = dump(opened)
    with pytest.raises((sqlite3.OperationalError, AssertionError)):
        open_library(folder, steps=steps)
    assert list((folder / BACKUPS).iterdir())
    with open_library(folder) as opened:
        assert dump(opened) == before


def test_an_old_library_that_may_not_be_written_says_that_it_needs_an_upgrade(tmp_path: Path):
    folder = old_library(tmp_path / "old", SAMPLES[-1])
    with pytest.raises(DyeshadeError) as caught:
        open_library(folder, read_only=True, steps=NEXT)
    assert caught.value.code == "library_older"
    assert not (folder / BACKUPS).exists()


def test_statements_are_told_apart_by_sqlite_itself():
    script = "CREATE TABLE a (b TEXT DEFAULT ';');\n-- half; a\nDROP TABLE a;\n"
    assert list(statements(script)) == [
        "CREATE TABLE a (b TEXT DEFAULT ';');",
        "-- half; a\nDROP TABLE a;",
    ]
    with pytest.raises(ValueError, match="unfinished"):
        list(statements("CREATE TABLE a (b TEXT)"))


def test_days_are_kept_as_days(tmp_path: Path):
    with create_library(tmp_path / "new") as library:
        with library.edit("add") as edit:
            lot = edit.add(DyestuffLot("weld", lot_date=date(2025, 7, 30)))
        assert library.the(DyestuffLot, lot).lot_date == date(2025, 7, 30)
        assert library.value("SELECT lot_date FROM dyestuff_lot") == "2025-07-30"
