"""A sentence for everything that can stand in the way of the shade library."""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from dyeshade.words.dye_words import listed
from dyeshade.words.record_names import RECORD_NAMES
from dyeshade.words.sentences import Facts, Sentence, counted


def _piece_unknown(facts: Facts) -> str:
    near = cast("list[str]", facts["near"])
    told = f"There is no piece {facts['piece']} in this library."
    if near:
        return f"{told} Did you mean {listed(near, 'or')}?"
    return f"{told} Look up its id there, or keep the piece first."


def _still_used(facts: Facts) -> str:
    one, several = RECORD_NAMES[str(facts["by"])]
    what = RECORD_NAMES[str(facts["kind"])][0]
    users = counted(facts["count"], f"{one} needs", f"{several} need")
    return f"This {what} cannot be removed: {users} it. Remove those first, or leave it."


def _record_gone(facts: Facts) -> str:
    what = RECORD_NAMES[str(facts["kind"])][0]
    return (
        f"The {what} that was meant is no longer in the library: another window or command may "
        "have removed it. Nothing was changed; look at the list again and choose anew."
    )


def _changed_elsewhere(facts: Facts) -> str:
    what = RECORD_NAMES[str(facts["kind"])][0]
    return (
        f"Another window has changed the same {what} since, so it was not undone. Look at it, and "
        "change it by hand."
    )


LIBRARY_REFUSALS: Mapping[str, Sentence] = {
    "library_missing": "There is no shade library at {path}. Look for the folder that holds it.",
    "not_a_library": "{path} is not a shade library. It was left as it is.",
    "library_locked": (
        "The shade library {path} is being written by another window. Close that one, or wait."
    ),
    "library_read_only": (
        "The shade library {path} may only be read. Copy its folder to where you may write, and "
        "open the copy."
    ),
    "library_damaged": (
        "The shade library {path} is damaged. Open the newest copy in its folder of backups."
    ),
    "library_unreachable": (
        "The shade library {path} cannot be reached. Connect the disk or share that it lies on."
    ),
    "disk_full": (
        "The disk that holds {path} is full. Nothing was lost: make room, and save again."
    ),
    "library_newer": (
        "The shade library {path} was written by a newer dyeshade (its version {version}, "
        "ours {ours}). Install the newer one to open it."
    ),
    "library_older": (
        "The shade library {path} is of version {version} and would have to become {ours}, but it "
        "may only be read. Copy its folder to where you may write, and open the copy."
    ),
    "library_folder_in_use": (
        "The folder {path} already holds {holds}. Choose an empty folder for a new shade library."
    ),
    "piece_unknown": _piece_unknown,
    "piece_code_taken": "Another piece is called {piece} already. Choose another id.",
    "commission_unknown": (
        "There is no commission {commission} in this library. Look it up among the "
        "commissions, or agree on it first."
    ),
    "commission_code_taken": (
        "Another commission is called {commission} already. Choose another id."
    ),
    "no_bath_to_repeat": (
        "No bath of the piece {piece} is written down, so that it cannot be made again. Put its "
        "bath right in the library."
    ),
    "bath_unknown": (
        "There is no bath {bath} in this library. Look up its code there, or keep the bath first."
    ),
    "bath_code_taken": "Another bath is called {bath} already. Choose another id.",
    "piece_said_otherwise": (
        "Piece {piece} is kept with another {what}: {kept}, not {said}. Nothing was saved. Name "
        "the right piece, or change it in the library first."
    ),
    "bath_said_otherwise": (
        "Bath {bath} is kept with another {what}: {kept}, not {said}. Nothing was saved. Name the "
        "right bath, or change it in the library first."
    ),
    "bath_exhausts_itself": "Bath {bath} cannot be an exhaust bath of itself.",
    "record_gone": _record_gone,
    "changed_elsewhere": _changed_elsewhere,
    "still_used": _still_used,
    "no_shades": "The library has no such shades. Choose some, or ask for less at once.",
    "photo_not_kept": "The photo {name} could not be kept beside the library: {reason}.",
    "greys_not_kept": (
        "The greys that were drawn on {name} were not kept, so it cannot be read again by itself. "
        "Draw them anew, and save it."
    ),
    "photo_gone": "The photo {name} is no longer at {path}. Put it back there to read it again.",
}
"""Sentence for each code that the shade library raises."""
