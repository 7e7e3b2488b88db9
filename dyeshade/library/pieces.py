"""Pieces and the lots they are made of: finding, adding, merging, removing."""

from __future__ import annotations

from dataclasses import fields, replace
from difflib import get_close_matches
from typing import TypeVar

from dyeshade.errors import DyeshadeError
from dyeshade.library.bath_records import BathPiece
from dyeshade.library.dye_records import DyestuffLot, FibreLot, Mordant, PhReading, Piece, Treatment
from dyeshade.library.edit import Edit, Reader
from dyeshade.library.shade_records import Reading
from dyeshade.library.tables import table_of
from dyeshade.library.treatments import treatments_of
from dyeshade.library.trials import move_home_tests, remove_home_tests_of, remove_reading

Lot = TypeVar("Lot", DyestuffLot, FibreLot, Mordant)


def find_piece(reader: Reader, code: str) -> Piece:
    """The piece with a code, upper and lower case being the same.

    Raises
    ------
    DyeshadeError
        ``piece_unknown`` (piece, near): `near` lists codes that look like it.
    """
    found = reader.coded(Piece, code)
    if not found:
        codes = [str(row[0]) for row in reader.rows("SELECT code FROM piece")]
        near = get_close_matches(code.strip().upper(), codes, n=3)
        raise DyeshadeError("piece_unknown", piece=code, near=near)
    return found[0]


def next_piece_code(reader: Reader, fibre: str = "", ahead: int = 0) -> str:
    """A code that no piece has: the fibre's first letter and a number, as "W-014" for wool.

    Numbers run through the whole library, so that the number alone names a piece.

    Parameters
    ----------
    reader : Reader
    fibre : str
        The fibre's name.
    ahead : int
        How many codes were given already that are not kept yet.
    """
    first = fibre.strip()[:1].upper()
    letter = first if first.isalpha() else "P"
    numbers = [_number(str(row[0])) for row in reader.rows("SELECT code FROM piece")]
    return f"{letter}-{max(numbers, default=0) + 1 + ahead:03d}"


def _number(code: str) -> int:
    letter, dash, digits = code.partition("-")
    ours = len(letter) == 1 and dash and digits.isascii() and digits.isdigit() and len(digits) < 7
    return int(digits) if ours else 0


def keep_lot(edit: Edit, lot: Lot) -> int:
    """The id of a lot or mordant that says the same, added where there is none yet."""
    table = table_of(lot)
    columns = [field.name for field in fields(lot) if field.name != "id"]
    values = dict(zip(table.columns, table.to_row(lot), strict=True))
    condition = " AND ".join(
        f"{name} IS ? COLLATE NOCASE" if name == "name" else f"{name} IS ?" for name in columns
    )
    found = edit.where(type(lot), condition, [values[name] for name in columns])
    return found[0].id if found else edit.add(lot)


def known_names(reader: Reader, kind: type[DyestuffLot | FibreLot | Mordant]) -> tuple[str, ...]:
    """Names that were typed before, in alphabetical order, to complete what is being typed."""
    table = table_of(kind).kind
    sql = f"SELECT DISTINCT name FROM {table} ORDER BY name COLLATE NOCASE"
    return tuple(str(row[0]) for row in reader.rows(sql))


def add_piece(edit: Edit, piece: Piece) -> int:
    """Keep a new piece.

    Returns
    -------
    int
        Its id.

    Raises
    ------
    DyeshadeError
        ``piece_code_taken`` (piece)
    """
    _refuse_taken(edit, piece)
    return edit.add(piece)


def change_piece(edit: Edit, piece: Piece) -> None:
    """Put other contents into a kept piece. Raises as `add_piece`.

    Planned baths know it by its new code from then on.
    """
    _refuse_taken(edit, piece)
    _call_in_pots(edit, edit.the(Piece, piece.id).code, piece.code)
    edit.change(piece)


def _call_in_pots(edit: Edit, old: str, new: str) -> None:
    for row in edit.where(BathPiece, "code = ?", (old,)):
        edit.change(replace(row, code=new))


def _refuse_taken(edit: Edit, piece: Piece) -> None:
    if any(one.id != piece.id for one in edit.coded(Piece, piece.code)):
        raise DyeshadeError("piece_code_taken", piece=piece.code)


def remove_piece(edit: Edit, piece_id: int) -> None:
    """Remove a piece with its readings and treatments; photos, baths and lots stay.

    Raises
    ------
    DyeshadeError
        ``record_gone``
    """
    remove_home_tests_of(edit, piece_id)
    for reading in edit.where(Reading, "piece_id = ?", (piece_id,)):
        remove_reading(edit, reading.id)
    for treatment in reversed(treatments_of(edit, piece_id)):
        _remove_with_ph(edit, treatment)
    edit.remove(Piece, piece_id)


def merge_pieces(edit: Edit, kept_id: int, other_id: int) -> None:
    """Make one piece of two that are one: readings and treatments go to the first, the other goes.

    What the first does not say (fibre, mordant, weight, name) is taken from the other. A treatment
    that both have is kept once, with the pH that was read of either. Treatments keep their order:
    the first's, then the other's.

    Raises
    ------
    DyeshadeError
        ``record_gone``
    """
    if kept_id == other_id:
        raise ValueError("a piece is one with itself already")
    kept, other = edit.the(Piece, kept_id), edit.the(Piece, other_id)
    moved = _merge_treatments(edit, kept_id, other_id)
    move_home_tests(edit, kept_id, other_id, moved)
    for reading in edit.where(Reading, "piece_id = ?", (other_id,)):
        after = reading.after_treatment_id
        edit.change(
            replace(
                reading,
                piece_id=kept_id,
                after_treatment_id=None if after is None else moved[after],
            )
        )
    for treatment in treatments_of(edit, other_id):
        _remove_with_ph(edit, treatment)
    edit.change(
        replace(
            kept,
            name=kept.name or other.name,
            fibre_lot_id=kept.fibre_lot_id or other.fibre_lot_id,
            mordant_id=kept.mordant_id or other.mordant_id,
            weight_g=kept.weight_g or other.weight_g,
            note="\n".join(note for note in (kept.note, other.note) if note),
        )
    )
    _call_in_pots(edit, other.code, kept.code)
    edit.remove(Piece, other_id)


def _merge_treatments(edit: Edit, kept_id: int, other_id: int) -> dict[int, int]:
    """Move the other's treatments; tells which treatment each of its ids has become."""
    own = treatments_of(edit, kept_id)
    unmatched = list(own)
    place = max((one.place for one in own), default=0)
    became: dict[int, int] = {}
    for treatment in treatments_of(edit, other_id):
        twin = next((one for one in unmatched if _same_step(edit, one, treatment)), None)
        if twin is not None:
            # Each of the first's steps stands for one of the other's: two dips stay two dips.
            unmatched.remove(twin)
            if not _ph_of(edit, twin):
                for ph in _ph_of(edit, treatment):
                    edit.change(replace(ph, treatment_id=twin.id))
            became[treatment.id] = twin.id
            continue
        place += 1
        edit.change(replace(treatment, piece_id=kept_id, place=place))
        became[treatment.id] = treatment.id
    return became


def _same_step(edit: Edit, one: Treatment, other: Treatment) -> bool:
    if replace(one, id=0, piece_id=0, place=0) != replace(other, id=0, piece_id=0, place=0):
        return False
    ours, theirs = _ph_of(edit, one), _ph_of(edit, other)
    return not ours or not theirs or ours[-1].ph == theirs[-1].ph


def _ph_of(edit: Edit, treatment: Treatment) -> list[PhReading]:
    return edit.where(PhReading, "treatment_id = ?", (treatment.id,), "read, id")


def _remove_with_ph(edit: Edit, treatment: Treatment) -> None:
    for ph in _ph_of(edit, treatment):
        edit.remove(PhReading, ph.id)
    edit.remove(Treatment, treatment.id)
