"""All that a window wants to know of the library about one bath, asked at once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from dyeshade.library.edit import Reader
from dyeshade.work.bath_typed import TypedBath, TypedDye, TypedPiece
from dyeshade.work.dye_day import usual_steps
from dyeshade.work.kept_plan import KeptPlan, kept_plan, own_figures, parent_plan
from dyeshade.work.known import Known, known_to
from dyeshade.work.listed_plans import ListedPlan, in_the_bath, listed_plans
from dyeshade.work.ph_typed import usual_have
from dyeshade.work.plan_bath import OwnFigures, Parent


@dataclass(frozen=True)
class Seen:
    """What the library says.

    Attributes
    ----------
    kept : KeptPlan or None
        The bath, None where it is not kept.
    pieces_out : tuple of str
        Codes of the pieces that were in it.
    parent : BathPlan, ExhaustBath or None
        Of an exhaust bath: the bath whose liquor it is in.
    """

    listed: tuple[ListedPlan, ...]
    own: OwnFigures
    known: Known
    kept: KeptPlan | None
    pieces_out: tuple[str, ...]
    parent: Parent | None


def look_up(reader: Reader, bath_id: int, exhausts: str = "") -> Seen:
    """Ask for the list of baths, the dyer's own figures, and one bath.

    Parameters
    ----------
    reader : Reader
    bath_id : int
        Of a bath that may be kept no more; below 0 for one that never was.
    exhausts : str
        Code of the bath that one that is not kept exhausts.
    """
    exists = bath_id > 0 and reader.value("SELECT 1 FROM bath WHERE id = ?", (bath_id,))
    kept = kept_plan(reader, bath_id) if exists else None
    parent = None if kept is None else kept.parent
    if kept is None and exhausts and reader.value("SELECT 1 FROM bath WHERE code = ?", (exhausts,)):
        parent = parent_plan(reader, exhausts)
    out = in_the_bath(reader, bath_id) if exists else ()
    return Seen(listed_plans(reader), own_figures(reader), known_to(reader), kept, out, parent)


def empty_bath(code: str) -> TypedBath:
    """A bath of which nothing is known; what stands there is common practice, no source."""
    return TypedBath(
        code=code,
        pieces=(TypedPiece(),),
        dyes=(TypedDye(),),
        liquor="30:1",
        have=usual_have(),
        steps=usual_steps(),
    )


def free_code(code: str, taken: Iterable[str]) -> str:
    """A bath's code counted on until nobody has it.

    Parameters
    ----------
    code : str
        As "bath-007", or "" where the library was not asked yet.
    taken : iterable of str
        Codes that are given; upper and lower case are the same.
    """
    known = {one.casefold() for one in taken}
    head, _, digits = (code or "bath-001").rpartition("-")
    number = int(digits)
    while f"{head}-{number:03d}".casefold() in known:
        number += 1
    return f"{head}-{number:03d}"
