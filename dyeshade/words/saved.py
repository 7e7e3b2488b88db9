"""What was saved in a shade library, said to people."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path, PurePath

from dyeshade.words.sentences import counted
from dyeshade.work.assign_by_tag import KeptByTag
from dyeshade.work.pieces_said import KeptOutcomes, SampleSaid


def saved_lines(library: Path, done: KeptOutcomes) -> list[str]:
    """Which sample was saved as a reading of which piece, and what was new.

    Parameters
    ----------
    library : Path
        The library's folder.
    done : KeptOutcomes
    """
    kept = done.kept
    if not kept.reading_ids:
        return [f"Nothing was saved in {library}.", *_missing(done.not_found)]
    new = set(kept.new_pieces)
    readings = counted(len(kept.reading_ids), "reading", "readings")
    lines = [f"Saved in {library}: {readings}."]
    for (photo, sample), piece in zip(done.places, kept.pieces, strict=True):
        told = ", new" if piece in new else ""
        new.discard(piece)
        lines.append(f"  {PurePath(photo).name}, {sample}: piece {piece}{told}")
    if kept.new_baths:
        lines.append(f"  New: {_listed('bath', 'baths', kept.new_baths)}")
    if not kept.changes:
        lines.append("  All of it was there already.")
    return lines + _missing(done.not_found)


def saved_by_tag_lines(library: Path, done: KeptByTag) -> list[str]:
    """The same where tags told the pieces; what was not saved, and what can be done about it.

    Parameters
    ----------
    library : Path
        The library's folder.
    done : KeptByTag
    """
    lines = saved_lines(library, done.outcomes)
    for photo, one in done.unknown:
        lines.append(
            f"Not saved: {PurePath(photo).name}, {one.sample}. Its tag says {one.piece}, a piece "
            "that the library does not have. --new-pieces makes it."
        )
    for photo, sample in done.untagged:
        lines.append(
            f"Not saved: {PurePath(photo).name}, {sample}. No tag of it was read; tell which piece "
            f"it is with --piece {sample}=ID."
        )
    return lines


def _missing(samples: Sequence[SampleSaid]) -> list[str]:
    lines = []
    for one in samples:
        where = f"in {one.photo}" if one.photo else "in any of the photos"
        lines.append(f"Not saved: no sample {one.sample} was measured {where}.")
    return lines


def _listed(one: str, many: str, names: Sequence[str]) -> str:
    return f"{one if len(names) == 1 else many} {', '.join(names)}"
