"""A library opens, or says plainly why not; what is not a library is never touched."""

import os
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import FibreLot
from dyeshade.library.library import Library, create_library, open_library, open_or_create
from dyeshade.library.migrations import STEPS
from dyeshade.library.schema import APPLICATION_ID
from dyeshade.library.shade_records import Reading
from dyeshade.library.store import FILE_NAME
from tests.library.workshop import dump, fill


def refusal(act: Callable[[], object]) -> DyeshadeError:
    with pytest.raises(DyeshadeError) as caught:
        act()
    return caught.value


def test_a_library_is_one_folder_and_moves_as_one(tmp_path: Path):
    with create_library(tmp_path / "here") as made:
        fill(made)
        before = dump(made)
    (tmp_path / "here").rename(tmp_path / "there")
    with open_library(tmp_path / "there" / FILE_NAME) as moved:
        assert dump(moved) == before
        assert moved.check() == ()
    assert sorted(entry.name for entry in (tmp_path / "there").iterdir()) == [FILE_NAME]


def test_the_file_says_what_it_is_and_takes_no_risks(library: Library):
    def pragma(name: str) -> object:
        return library.value(f"PRAGMA {name}")

    assert pragma("application_id") == APPLICATION_ID == int.from_bytes(b"DYES", "big")
    assert pragma("user_version") == len(STEPS)
    assert pragma("journal_mode") == "delete"
    assert (
        pragma("synchronous") == 3
    )  # EXTRA: https://www.sqlite.org/pragma.html#pragma_synchronous
    assert pragma("foreign_keys") == 1
    # Every table checks the types of what it is given.
    for name, strict in library.rows("SELECT name, strict FROM pragma_table_list"):
        assert strict or name.startswith("sqlite_"), name


def test_every_reference_has_an_index(library: Library):
    tables = [row[0] for row in library.rows("SELECT name FROM sqlite_schema WHERE type='table'")]
    for table in tables:
        for _, _, _, column, *_ in library.rows(f"PRAGMA foreign_key_list({table})"):
            plan = library.rows(f"EXPLAIN QUERY PLAN SELECT 1 FROM {table} WHERE {column} = 1")
            assert "SEARCH" in plan[0][3], f"{table}.{column}"


def test_where_nothing_is_the_library_is_missing_and_can_be_made(tmp_path: Path):
    path = tmp_path / "shades"
    assert refusal(lambda: open_library(path)).code == "library_missing"
    open_or_create(path).close()
    open_or_create(path).close()
    path = tmp_path / "empty"
    path.mkdir()
    assert refusal(lambda: open_library(path)).code == "library_missing"


def test_no_library_is_made_among_other_things(tmp_path: Path):
    (tmp_path / "letter.txt").write_text("dear weaver")
    error = refusal(lambda: create_library(tmp_path))
    assert (error.code, error.facts["holds"]) == ("library_folder_in_use", "letter.txt")
    assert refusal(lambda: open_library(tmp_path)).code == "not_a_library"
    assert refusal(lambda: open_library(tmp_path / "letter.txt")).code == "not_a_library"
    assert [entry.name for entry in tmp_path.iterdir()] == ["letter.txt"]


@pytest.mark.parametrize("kind", ["text", "empty", "short", "other", "folder"])
def test_a_foreign_file_is_refused_and_left_as_it_is(tmp_path: Path, kind: str):
    file = tmp_path / FILE_NAME
    if kind == "folder":
        file.mkdir()
    elif kind == "other":
        other = sqlite3.connect(file)
        other.execute("CREATE TABLE recipe (title TEXT)")
        other.close()
    else:
        file.write_bytes({"text": b"SQLite is nice\n" * 20, "empty": b"", "short": b"SQL"}[kind])
    content = None if kind == "folder" else file.read_bytes()
    # A journal that SQLite would play back into the foreign file and then delete.
    journal = tmp_path / f"{FILE_NAME}-journal"
    journal.write_bytes(b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7" + bytes(504))
    assert refusal(lambda: open_library(tmp_path)).code == "not_a_library"
    assert journal.exists()
    assert content is None or file.read_bytes() == content


def test_a_newer_library_is_refused_and_left_as_it_is(tmp_path: Path):
    create_library(tmp_path / "shades").close()
    file = tmp_path / "shades" / FILE_NAME
    newer = sqlite3.connect(file)
    newer.execute(f"PRAGMA user_version = {len(STEPS) + 3}")
    newer.close()
    content = file.read_bytes()
    error = refusal(lambda: open_library(tmp_path / "shades"))
    assert error.code == "library_newer"
    assert (error.facts["version"], error.facts["ours"]) == (len(STEPS) + 3, len(STEPS))
    assert file.read_bytes() == content


def test_a_damaged_library_says_so(workshop: Library):
    folder = workshop.folder
    workshop.close()
    file = folder / FILE_NAME
    content = bytearray(file.read_bytes())
    content[100:4096] = os.urandom(3996)
    file.write_bytes(content)
    assert refusal(lambda: open_library(folder)).code == "library_damaged"


def test_a_library_that_lost_its_end_says_so(workshop: Library):
    folder = workshop.folder
    workshop.close()
    file = folder / FILE_NAME
    os.truncate(file, file.stat().st_size // 2)

    def read_all() -> None:
        with open_library(folder) as opened:
            opened.check()
            opened.where(Reading)

    assert refusal(read_all).code == "library_damaged"


def test_another_window_that_is_saving_locks_the_library(library: Library):
    library._connection.execute("PRAGMA busy_timeout = 50")
    hold = (
        "import sqlite3, sys; c = sqlite3.connect(sys.argv[1], isolation_level=None);"
        "c.execute('BEGIN EXCLUSIVE'); print('held', flush=True); input()"
    )
    other = subprocess.Popen(
        [sys.executable, "-c", hold, library.folder / FILE_NAME],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    with other:
        assert other.stdout is not None
        assert other.stdout.readline() == "held\n"
        assert refusal(lambda: add_wool(library)).code == "library_locked"
        assert refusal(lambda: library.where(FibreLot)).code == "library_locked"
        other.communicate("\n", timeout=20)
    add_wool(library)


def add_wool(library: Library) -> None:
    with library.edit("add") as edit:
        edit.add(FibreLot("wool"))


def test_a_library_opened_to_read_is_not_changed(workshop: Library):
    folder = workshop.folder
    workshop.close()
    with open_library(folder, read_only=True) as opened:
        assert opened.read_only
        assert opened.where(FibreLot)
        assert refusal(lambda: add_wool(opened)).code == "library_read_only"


def test_a_library_whose_folder_may_not_be_written_opens_to_read():
    # Not in pytest's own folder, which none but its owner may enter.
    with TemporaryDirectory() as scratch:
        Path(scratch).chmod(0o755)
        folder = Path(scratch) / "shades"
        with create_library(folder) as made:
            fill(made)
        folder.chmod(0o555)
        (folder / FILE_NAME).chmod(0o444)
        root = os.geteuid() == 0
        if root:  # who may write everything: look with the eyes of somebody else
            os.seteuid(65534)
        try:
            with open_library(folder) as opened:
                assert opened.read_only
                assert opened.where(FibreLot)
                assert refusal(lambda: add_wool(opened)).code == "library_read_only"
        finally:
            if root:
                os.seteuid(0)
            folder.chmod(0o755)


def test_a_full_disk_changes_nothing(workshop: Library):
    before = dump(workshop)
    pages = workshop.value("PRAGMA page_count")
    workshop._connection.execute(f"PRAGMA max_page_count = {pages}")

    def too_much() -> None:
        with workshop.edit("add") as edit:
            for number in range(2000):
                edit.add(FibreLot(f"wool {number}"))

    assert refusal(too_much).code == "disk_full"
    assert dump(workshop) == before
    assert workshop.undo_job is None


def test_one_thread_owns_a_library(library: Library):
    caught: list[BaseException] = []

    def elsewhere() -> None:
        try:
            library.where(FibreLot)
        except RuntimeError as error:
            caught.append(error)

    thread = threading.Thread(target=elsewhere)
    thread.start()
    thread.join()
    assert len(caught) == 1


def test_a_library_is_open_once_in_a_process(library: Library):
    with pytest.raises(RuntimeError, match="already open"):
        open_library(library.folder)
    # Refusing does not free the place.
    with pytest.raises(RuntimeError, match="already open"):
        open_library(library.folder)
