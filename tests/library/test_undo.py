"""Every change tells what it changed, and can be taken back and done again."""

import sqlite3
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
)

from dyeshade.errors import DyeshadeError
from dyeshade.library.baths import find_bath, remove_bath
from dyeshade.library.dye_records import DyestuffLot, FibreLot, Piece, Treatment
from dyeshade.library.library import Library, create_library
from dyeshade.library.pieces import change_piece, merge_pieces, remove_piece
from dyeshade.library.readings import keep_reading
from dyeshade.library.shade_records import Reading
from dyeshade.library.treatments import (
    add_treatment,
    move_treatment,
    remove_treatment,
    treatments_of,
)
from tests.library.workshop import WOOL, a_bath, a_dyed_piece, a_reading, dump, fill


def test_changes_say_what_was_added_changed_and_removed(library: Library):
    with library.edit("try") as edit:
        wool = edit.add(FibreLot("wool"))
        silk = edit.add(FibreLot("silk"))
        edit.change(FibreLot("silk", "cloth", id=silk))
    assert edit.changes.added("fibre_lot") == (wool, silk)
    with library.edit("try") as edit:
        edit.change(FibreLot("merino", id=wool))
        edit.remove(FibreLot, silk)
        passing = edit.add(FibreLot("jute"))
        edit.remove(FibreLot, passing)
    changes = edit.changes
    assert (changes.added("fibre_lot"), changes.changed("fibre_lot")) == ((), (wool,))
    assert changes.removed("fibre_lot") == (silk,)
    assert changes.kinds == {"fibre_lot"}


def test_undo_tells_what_it_changed_too(library: Library):
    with library.edit("add_fibre") as edit:
        wool = edit.add(FibreLot("wool"))
    assert library.undo_job == "add_fibre"
    undone = library.undo()
    assert undone is not None
    assert undone.removed("fibre_lot") == (wool,)
    assert (library.undo_job, library.redo_job) == (None, "add_fibre")
    redone = library.redo()
    assert redone is not None
    assert redone.added("fibre_lot") == (wool,)
    assert library.redo() is None


def test_a_job_that_fails_changes_nothing(workshop: Library):
    before = dump(workshop)

    def fail() -> None:
        with workshop.edit("try") as edit:
            edit.add(FibreLot("wool"))
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail()
    assert dump(workshop) == before
    assert workshop.undo_job is None


def test_nothing_points_at_what_another_window_has_removed(workshop: Library):
    def save() -> None:
        with workshop.edit("save") as edit:
            keep_reading(edit, a_reading(999))

    with pytest.raises(DyeshadeError) as caught:
        save()
    assert (caught.value.code, caught.value.facts) == ("record_gone", {"kind": "piece", "id": 999})


def test_a_job_takes_no_changes_once_it_is_over(library: Library):
    with library.edit("add") as edit:
        pass
    with pytest.raises(RuntimeError, match="over"):
        edit.add(FibreLot("wool"))
    assert library.where(FibreLot) == []


def test_a_job_that_changes_nothing_is_no_step_to_undo(workshop: Library):
    piece = workshop.where(Piece)[0]
    with workshop.edit("rename") as edit:
        change_piece(edit, piece)
    assert not edit.changes
    assert workshop.undo_job is None


def test_what_others_need_is_not_removed(workshop: Library):
    def lot() -> None:
        with workshop.edit("remove") as edit:
            edit.remove(DyestuffLot, 1)

    def bath() -> None:
        with workshop.edit("remove") as edit:
            remove_bath(edit, find_bath(workshop, "bath-004").id)

    before = dump(workshop)
    for act, by in ((lot, "bath_dyestuff"), (bath, "bath")):
        with pytest.raises(DyeshadeError) as caught:
            act()
        assert (caught.value.code, caught.value.facts["by"]) == ("still_used", by)
    assert dump(workshop) == before


@pytest.mark.parametrize("meanwhile", ["UPDATE", "DELETE"])
def test_undo_does_not_overwrite_what_another_window_changed(library: Library, meanwhile: str):
    with library.edit("add") as edit:
        wool = edit.add(FibreLot("wool"))
    with library.edit("rename") as edit:
        edit.change(FibreLot("merino", id=wool))
    other = sqlite3.connect(library.folder / "shades.sqlite")
    sql = (
        "UPDATE fibre_lot SET name = 'linen'" if meanwhile == "UPDATE" else "DELETE FROM fibre_lot"
    )
    other.execute(sql)
    other.commit()
    other.close()
    before = dump(library)
    with pytest.raises(DyeshadeError) as caught:
        library.undo()
    assert caught.value.code == "changed_elsewhere"
    assert dump(library) == before
    assert library.undo_job == "rename"


def test_undo_does_not_remove_what_another_window_has_come_to_need(library: Library):
    with library.edit("add") as edit:
        wool = edit.add(FibreLot("wool"))
    other = sqlite3.connect(library.folder / "shades.sqlite")
    other.execute(
        "INSERT INTO piece (code, name, fibre_lot_id, note) VALUES ('W-001', '', ?, '')", (wool,)
    )
    other.commit()
    other.close()
    with pytest.raises(DyeshadeError) as caught:
        library.undo()
    assert caught.value.code == "changed_elsewhere"
    assert library.check() == ()


class AnySequence(RuleBasedStateMachine):
    """Whatever is done to a library, undone it is as it was, and done again as it became."""

    def __init__(self) -> None:
        super().__init__()
        self._folder = TemporaryDirectory()
        self.library = create_library(Path(self._folder.name) / "shades")
        # Safe against a power cut or not is no question here, and costs most of the time.
        self.library._connection.execute("PRAGMA synchronous = OFF")
        self.states: list[list[str]] = []
        self.number = 100

    @initialize()
    def begin(self) -> None:
        fill(self.library)
        self.library.forget_undo()
        self.states = [dump(self.library)]

    def _done(self) -> None:
        if dump(self.library) != self.states[-1]:
            self.states.append(dump(self.library))

    def _piece(self, choice: int) -> Piece:
        pieces = self.library.where(Piece)
        return pieces[choice % len(pieces)]

    @rule()
    def dye_a_piece(self) -> None:
        self.number += 1
        with self.library.edit("dye") as edit:
            bath = a_bath(edit, f"bath-{self.number}", 6.0)
            a_dyed_piece(edit, f"W-{self.number}", WOOL, bath)
        self._done()

    @precondition(lambda self: len(self.library.where(Piece)) > 1)
    @rule(one=st.integers(0, 50), step=st.integers(1, 50))
    def merge(self, one: int, step: int) -> None:
        pieces = self.library.where(Piece)
        kept = pieces[one % len(pieces)]
        other = pieces[(one + 1 + step % (len(pieces) - 1)) % len(pieces)]
        with self.library.edit("merge") as edit:
            merge_pieces(edit, kept.id, other.id)
        self._done()

    @precondition(lambda self: len(self.library.where(Piece)) > 1)
    @rule(one=st.integers(0, 50))
    def remove(self, one: int) -> None:
        with self.library.edit("remove") as edit:
            remove_piece(edit, self._piece(one).id)
        self._done()

    @rule(one=st.integers(0, 50), place=st.integers(1, 6), ph=st.floats(0, 14))
    def rinse_and_read(self, one: int, place: int, ph: float) -> None:
        piece = self._piece(one)
        with self.library.edit("rinse") as edit:
            rinse = add_treatment(edit, Treatment(piece.id, "rinse"), place, ph)
            keep_reading(edit, a_reading(piece.id, after_treatment_id=rinse))
        self._done()

    @rule(one=st.integers(0, 50), which=st.integers(0, 9), place=st.integers(1, 6))
    def reorder(self, one: int, which: int, place: int) -> None:
        order = treatments_of(self.library, self._piece(one).id)
        if order:
            with self.library.edit("reorder") as edit:
                move_treatment(edit, order[which % len(order)].id, place)
            self._done()

    @rule(one=st.integers(0, 50), which=st.integers(0, 9))
    def forget_a_treatment(self, one: int, which: int) -> None:
        order = treatments_of(self.library, self._piece(one).id)
        if order:
            with self.library.edit("forget") as edit:
                remove_treatment(edit, order[which % len(order)].id)
            self._done()

    @rule(one=st.integers(0, 50), name=st.text(max_size=5))
    def rename(self, one: int, name: str) -> None:
        with self.library.edit("rename") as edit:
            change_piece(edit, replace(self._piece(one), name=name))
        self._done()

    @rule()
    def undo_and_redo_all(self) -> None:
        for state in reversed(self.states[:-1]):
            assert self.library.undo() is not None
            assert dump(self.library) == state
        assert self.library.undo() is None
        for state in self.states[1:]:
            assert self.library.redo() is not None
            assert dump(self.library) == state

    @invariant()
    def every_reading_has_its_piece(self) -> None:
        ids = {piece.id for piece in self.library.where(Piece)}
        assert all(reading.piece_id in ids for reading in self.library.where(Reading))

    def teardown(self) -> None:
        try:
            self.undo_and_redo_all()
            assert self.library.check() == ()
        finally:
            self.library.close()
            self._folder.cleanup()


TestAnySequence = AnySequence.TestCase
TestAnySequence.settings = settings(
    max_examples=15,
    stateful_step_count=12,
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
