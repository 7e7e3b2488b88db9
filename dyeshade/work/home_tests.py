"""Home fastness tests: set up, ended, removed.

A test sets two halves of a piece beside each other, one kept as it was and one treated. What the
treated half goes through is a treatment of the piece that only its own readings come after.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import Treatment, wall_time
from dyeshade.library.edit import Reader
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.treatments import add_treatment, remove_treatment
from dyeshade.library.trial_records import HomeTestRecord
from dyeshade.library.trials import home_tests_of, remove_home_test

KINDS: Mapping[str, str] = {
    "light": "light",
    "wash": "wash",
    "acid_dip": "dip",
    "alkaline_dip": "dip",
}
"""The treatment that each home test is; rubbing is none."""

NOTE = "home fastness test, one half"


@dataclass(frozen=True)
class SaidTest:
    """A home test as it is set up.

    Attributes
    ----------
    piece : str
        Its code.
    kind : str
        One of `dyeshade.library.trial_records.HOME_TESTS`.
    begun : datetime
        When the treated half is put into the light, washed, dipped or rubbed.
    ph : float or None
        Of a dip, 0 to 14.
    substance : str
        What it is washed or dipped with.
    white : bool
        Whether white cloth lies or rubs against it.
    blue_wools : tuple of int
        Numbers of the blue wool references beside it, for light.
    photo_days : tuple of int
        Days after the beginning on which it is photographed, rising; empty for the usual ones.
    """

    piece: str
    kind: str
    begun: datetime
    ph: float | None = None
    substance: str = ""
    white: bool = False
    blue_wools: tuple[int, ...] = ()
    photo_days: tuple[int, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class Part:
    """A part of a test that a sample of a photo shows.

    Attributes
    ----------
    what : str
        One of `dyeshade.library.trial_records.PAIRS_OF`.
    treated : bool
        Whether it is the half that was treated, rather than kept as it was.
    blue_wool : int or None
    """

    what: str
    treated: bool
    blue_wool: int | None = None


def set_up_test(library: Library, said: SaidTest) -> HomeTestRecord:
    """Begin a home test, in one step of undo.

    Parameters
    ----------
    library : Library
    said : SaidTest

    Returns
    -------
    HomeTestRecord

    Raises
    ------
    DyeshadeError
        ``piece_unknown``; ``home_test_running`` (piece, test): the same is under way; as
        `Library.edit`.
    """
    if (said.ph is None) == (KINDS.get(said.kind) == "dip"):
        raise ValueError(f"pH {said.ph} of a test of {said.kind}")
    found = find_piece(library, said.piece)
    begun = wall_time(said.begun)
    with library.edit("set_up_home_test") as edit:
        if any(one.kind == said.kind for one in _running_of(edit, found.id)):
            raise DyeshadeError("home_test_running", piece=found.code, test=said.kind)
        treatment = None
        if said.kind in KINDS:
            step = Treatment(
                found.id,
                KINDS[said.kind],
                substance=said.substance.strip(),
                started=begun,
                note=NOTE,
            )
            treatment = add_treatment(edit, step, ph=said.ph)
        made = edit.add(
            HomeTestRecord(
                found.id,
                said.kind,
                begun,
                treatment,
                white=said.white,
                blue_wools=tuple(sorted(set(said.blue_wools))),
                note=said.note.strip(),
                photo_days=tuple(said.photo_days),
            )
        )
    return library.the(HomeTestRecord, made)


def parts_of(test: HomeTestRecord) -> tuple[Part, ...]:
    """The parts that a photo of a test shows, untreated before treated."""
    pairs: list[tuple[str, int | None]] = [("piece", None)]
    pairs += [("white", None)] if test.white else []
    pairs += [("blue_wool", number) for number in test.blue_wools or ()]
    return tuple(Part(what, treated, number) for what, number in pairs for treated in (False, True))


def end_test(library: Library, test_id: int, now: datetime | None = None) -> None:
    """End a test: nothing is due any more, its result stays. One step of undo.

    Raises
    ------
    DyeshadeError
        ``record_gone``; as `Library.edit`.
    """
    with library.edit("end_home_test") as edit:
        test = edit.the(HomeTestRecord, test_id)
        edit.change(replace(test, ended=wall_time(now or datetime.now())))


def go_on_with_test(library: Library, test_id: int) -> None:
    """Go on with a test that was ended. Raises as `end_test`."""
    with library.edit("go_on_with_home_test") as edit:
        edit.change(replace(edit.the(HomeTestRecord, test_id), ended=None))


def drop_test(library: Library, test_id: int) -> None:
    """Remove a test with the treatment that it was; its readings stay. One step of undo.

    Raises
    ------
    DyeshadeError
        ``record_gone``; as `Library.edit`.
    """
    with library.edit("remove_home_test") as edit:
        test = edit.the(HomeTestRecord, test_id)
        remove_home_test(edit, test_id)
        if test.treatment_id is not None:
            remove_treatment(edit, test.treatment_id)


def _running_of(reader: Reader, piece_id: int) -> list[HomeTestRecord]:
    return [one for one in home_tests_of(reader, piece_id) if one.ended is None]
