"""Keeps measured photos in the shade library, with all that their dyer says of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from pathlib import Path

from dyeshade.errors import DyeshadeError
from dyeshade.library.changes import Changes
from dyeshade.library.dye_records import Piece, wall_time
from dyeshade.library.edit import Edit
from dyeshade.library.library import Library
from dyeshade.library.photos import hash_of, keep_file, keep_photo, known_photo
from dyeshade.library.pieces import next_piece_code
from dyeshade.library.readings import Assigned, carry_names, readings_in, save_measurement
from dyeshade.library.shade_records import KeptPhoto, Reading
from dyeshade.measure.method import METHOD_VERSION
from dyeshade.measure.result import Measurement
from dyeshade.work.keep_baths import BathsSaid
from dyeshade.work.keep_pieces import keep_piece, keep_treatments, last_begun
from dyeshade.work.known import said_until
from dyeshade.work.said import Said, SaidBath


@dataclass(frozen=True, eq=False)
class ToKeep:
    """One measured photo.

    Attributes
    ----------
    photo_file : str or Path
    measurement : Measurement
    said : mapping of str to Said
        By the sample's name; samples that are not in it are not kept.
    """

    photo_file: str | Path
    measurement: Measurement
    said: Mapping[str, Said]


@dataclass(frozen=True)
class Kept:
    """What was kept.

    Attributes
    ----------
    changes : Changes
        One step of undo.
    reading_ids : tuple of int
        Photo by photo, in the order of the samples.
    pieces : tuple of str
        The code of each reading's piece.
    new_pieces, new_baths : tuple of str
        Codes that the library did not have before.
    """

    changes: Changes
    reading_ids: tuple[int, ...]
    pieces: tuple[str, ...]
    new_pieces: tuple[str, ...]
    new_baths: tuple[str, ...]


def keep_readings(
    library: Library,
    wanted: Sequence[ToKeep],
    baths: Sequence[SaidBath] = (),
    now: datetime | None = None,
    also: Callable[[Edit, tuple[int, ...]], None] | None = None,
) -> Kept:
    """Keep readings with their photos, pieces, treatments and baths: all of it or nothing.

    A piece or bath with a known code is that one: blanks are filled, and nothing is overwritten. A
    treatment that is kept already is that one; others come after those kept (or before the dye
    bath, or before what has a later date). A reading comes after the last treatment that is said
    with it. The same sample of the same photo is kept once, whatever its name.

    Parameters
    ----------
    library : Library
    wanted : sequence of ToKeep
    baths : sequence of SaidBath
        Baths that are described. One that is only named is made without a description.
    now : datetime, optional
        The time of measuring.
    also : callable, optional
        What else belongs into the same step: called with the edit and the readings' ids.

    Returns
    -------
    Kept

    Raises
    ------
    DyeshadeError
        ``piece_said_otherwise``, ``bath_said_otherwise``, ``bath_exhausts_itself``; what
        `dyeshade.library.photos.keep_file` and `Library.edit` tell. Nothing is kept then.
    """
    now = now or datetime.now()
    # Photos first: a record never waits for its photo.
    photos = [_photo_kept(library, one) for one in wanted]
    ids: list[int] = []
    with library.edit("save_readings") as edit:
        saving = _Saving(edit, BathsSaid(edit, baths), now)
        saving.baths.keep_all()
        for photo, one in zip(photos, wanted, strict=True):
            ids += saving.save(keep_photo(edit, photo), one)
        if also is not None:
            also(edit, tuple(ids))
    return Kept(
        edit.changes,
        tuple(ids),
        tuple(saving.pieces),
        tuple(saving.new_pieces),
        tuple(saving.baths.new),
    )


def said_before(library: Library, photo_file: str | Path) -> dict[str, Said]:
    """What was said of a photo's samples when it was kept, by their names; {} where it never was.

    Raises
    ------
    DyeshadeError
        ``photo_not_kept`` where the file can't be read.
    """
    photo = known_photo(library, _hash_while_unchanged(Path(photo_file)))
    if photo is None:
        return {}
    return {one.sample: said_until(library, one) for one in readings_in(library, photo.id)}


def _hash_while_unchanged(path: Path) -> str:
    """A file's hash, remembered until its size or its time changes.

    A window asks at every change of the library what that holds of all open photos.
    """
    try:
        state = path.stat()
    except OSError as error:
        raise DyeshadeError("photo_not_kept", name=path.name, reason=error.strerror) from error
    return _hash_of(path, state.st_size, state.st_mtime_ns, state.st_ino)


@lru_cache(maxsize=4096)
def _hash_of(path: Path, _size: int, _changed: int, _inode: int) -> str:
    return hash_of(path)


def _photo_kept(library: Library, one: ToKeep) -> KeptPhoto:
    seen = one.measurement
    return keep_file(library, one.photo_file, seen.file_format, seen.taken, seen.camera)


class _Saving:
    """One job of saving, under way."""

    def __init__(self, edit: Edit, baths: BathsSaid, now: datetime) -> None:
        self._edit = edit
        self._now = now
        self.baths = baths
        self.pieces: list[str] = []
        self.new_pieces: list[str] = []

    def save(self, photo: KeptPhoto, one: ToKeep) -> tuple[int, ...]:
        """Save the samples of a photo, and what is said of them."""
        carry_names(self._edit, photo.id, one.measurement.samples)
        before = {reading.sample: reading for reading in readings_in(self._edit, photo.id)}
        taken = one.measurement.taken or photo.taken
        names = [sample.name for sample in one.measurement.samples if sample.name in one.said]
        assigned = {name: self._assigned(one.said[name], before.get(name), taken) for name in names}
        unknown = set(one.said) - set(names)
        if unknown:
            raise ValueError(f"no such sample: {sorted(unknown)}")
        return save_measurement(
            self._edit,
            one.measurement,
            photo,
            assigned,
            METHOD_VERSION,
            one.measurement.signals(),
            one.measurement.calibration_id,
            now=self._now,
        )

    def _assigned(self, said: Said, before: Reading | None, taken: datetime | None) -> Assigned:
        code = said.piece.strip()
        if not code:
            code = (
                self._edit.the(Piece, before.piece_id).code
                if before
                else next_piece_code(self._edit, said.fibre)
            )
        piece, made = keep_piece(self._edit, code, said)
        self.pieces.append(piece.code)
        if made:
            self.new_pieces.append(piece.code)
        # Without a time of its own a photo keeps the one that it was first saved with.
        read = wall_time(said.read or taken or (before.read if before else self._now))
        after = keep_treatments(self._edit, piece, said, read, self.baths.id_of)
        if after is None and before is not None and before.piece_id == piece.id:
            after = before.after_treatment_id
        elif after is None:
            after = last_begun(self._edit, piece.id, read)
        note = said.note or (before.note if before else "")
        return Assigned(piece.id, said.state, read, after, note)
