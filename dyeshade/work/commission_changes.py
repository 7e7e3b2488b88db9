"""Commissions put right and removed."""

from __future__ import annotations

from dataclasses import replace

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Reading, six_of
from dyeshade.library.trial_records import Commission, CommissionResult
from dyeshade.library.trials import find_commission, remove_commission
from dyeshade.work.commissions import CommissionKept, SaidCommission, commission
from dyeshade.work.judge_commission import compare
from dyeshade.work.wanted_colour import wanted_colour


def change_commission(library: Library, code: str, said: SaidCommission) -> CommissionKept:
    """Put a commission right, in one step of undo; what was judged is judged by the new terms.

    Parameters
    ----------
    library : Library
    code : str
        As it was called so far.
    said : SaidCommission
        All of its terms. A shade of "" stays as it was agreed on; so does a code of "".

    Returns
    -------
    CommissionKept

    Raises
    ------
    DyeshadeError
        ``commission_unknown``, ``commission_code_taken`` (commission); as
        `dyeshade.work.wanted_colour.wanted_colour` and `Library.edit`.
    """
    old = find_commission(library, code)
    new = replace(
        old,
        code=said.code.strip() or old.code,
        tolerance=said.tolerance,
        what=said.what.strip(),
        for_whom=said.for_whom.strip(),
        due=said.due,
        weight_g=said.weight_g,
        note=said.note.strip(),
    )
    if said.shade != "":
        wanted = wanted_colour(library, said.shade)
        lab_l, lab_a, lab_b = (float(value) for value in wanted.lab)
        new = replace(
            new,
            lab_l=lab_l,
            lab_a=lab_a,
            lab_b=lab_b,
            covariance=six_of(wanted.covariance),
            reading_id=wanted.reading_id,
        )
    with library.edit("change_commission") as edit:
        if any(one.id != new.id for one in edit.coded(Commission, new.code)):
            raise DyeshadeError("commission_code_taken", commission=new.code)
        if new != old:
            edit.change(new)
        if (new.lab, new.covariance, new.tolerance) != (old.lab, old.covariance, old.tolerance):
            for result in edit.where(CommissionResult, "commission_id = ?", (old.id,)):
                reading = library.the(Reading, result.reading_id)
                size, chance = compare(library, new, reading)
                high = max(size.low, size.high)
                edit.change(
                    replace(result, delta_e=size.value, low=size.low, high=high, chance=chance)
                )
    return commission(library, new.code)


def drop_commission(library: Library, code: str) -> None:
    """Remove a commission with its results, in one step of undo; pieces and readings stay.

    Raises
    ------
    DyeshadeError
        ``commission_unknown``; as `Library.edit`.
    """
    found = find_commission(library, code)
    with library.edit("remove_commission") as edit:
        remove_commission(edit, found.id)


def drop_result(library: Library, result_id: int) -> None:
    """Take back that a dyeing was judged by a commission, in one step of undo.

    Raises
    ------
    DyeshadeError
        ``record_gone``; as `Library.edit`.
    """
    with library.edit("remove_result") as edit:
        edit.remove(CommissionResult, result_id)
