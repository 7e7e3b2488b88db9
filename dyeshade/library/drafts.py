"""Unsaved work, kept in the library so that no crash takes it along; not part of undo."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from dyeshade.library.dye_records import wall_time
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Draft


def keep_draft(library: Library, name: str, payload: Any, now: datetime | None = None) -> None:
    """Keep unsaved work under a name, in place of what was kept under it before.

    Parameters
    ----------
    library : Library
    name : str
        Of the work, as a photo's hash.
    payload : object
        Whatever JSON can hold.
    now : datetime, optional

    Raises
    ------
    DyeshadeError
        As `Library.edit`.
    """
    changed = wall_time(now or datetime.now())
    with library.edit("keep_draft", undoable=False) as edit:
        known = edit.where(Draft, "name = ?", (name,))
        if known:
            edit.change(Draft(name, changed, payload, known[0].id))
        else:
            edit.add(Draft(name, changed, payload))


def drafts(library: Library) -> list[Draft]:
    """All unsaved work, the oldest first."""
    return library.where(Draft, order="changed, id")


def drop_draft(library: Library, name: str) -> None:
    """Forget unsaved work, because it was saved or given up. Raises as `Library.edit`."""
    with library.edit("drop_draft", undoable=False) as edit:
        for draft in edit.where(Draft, "name = ?", (name,)):
            edit.remove(Draft, draft.id)
