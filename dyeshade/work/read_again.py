"""Measures the library's photos anew with a better way of measuring; both values stay.

What was read before is not touched: the newer reading stands beside it and is the one that is
shown. Photos are kept one by one, so that whoever stops, or is stopped, goes on there.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import Piece, wall_time
from dyeshade.library.edit import Reader
from dyeshade.library.library import Library
from dyeshade.library.readings import Assigned, read_anew, readings_in, save_measurement
from dyeshade.library.shade_records import KeptPhoto, Reading
from dyeshade.measure.calibrations import Calibrations
from dyeshade.measure.regions import DrawnOnSheet
from dyeshade.measure.result import Measurement
from dyeshade.work.measure_photos import PhotoOutcome
from dyeshade.work.photos_to_read import HowRead, NotRead, PhotoToRead, photos_to_read
from dyeshade.work.side_by_side import Crashed, run_each

__all__ = [
    "HowRead",
    "NotRead",
    "PhotoReadAgain",
    "PhotoToRead",
    "ReadAnew",
    "all_read_anew",
    "keep_again",
    "measure_again",
    "measure_kept",
    "photos_to_read",
    "read_again",
]


@dataclass(frozen=True, eq=False)
class ReadAnew:
    """A sample as it was read before, and as it is read now.

    Attributes
    ----------
    piece, photo : str
        The piece's code and the photo's name.
    old, new : Reading
    """

    piece: str
    photo: str
    old: Reading
    new: Reading

    @property
    def delta_e(self) -> float:
        """CIEDE2000 between them."""
        return float(ciede2000(self.old.lab, self.new.lab))

    @property
    def beyond(self) -> bool:
        """Whether that is more than the uncertainty that was stated before."""
        return self.delta_e > self.old.u95


@dataclass(frozen=True, eq=False)
class PhotoReadAgain:
    """What became of one photo.

    Attributes
    ----------
    name : str
    anew : tuple of ReadAnew
    not_seen : tuple of str
        Samples in which no piece was found this time; their readings stay as they are.
    error : DyeshadeError or None
        Why nothing of it was read.
    """

    name: str
    anew: tuple[ReadAnew, ...] = ()
    not_seen: tuple[str, ...] = ()
    error: DyeshadeError | None = None


Job = Callable[[PhotoToRead], PhotoOutcome]
"""Measures one photo; another process must be able to import it."""


def measure_kept(photo: PhotoToRead) -> PhotoOutcome:
    """Read and measure one kept photo in this process."""
    from dyeshade.measure.halved_first import solve_file
    from dyeshade.measure.photo_to_shade import DrawnOnKept
    from dyeshade.photo.vision import use_threads

    use_threads(1)
    drawn: DrawnOnKept | DrawnOnSheet = DrawnOnSheet(photo.samples, photo.without)
    if photo.greys is not None:
        drawn = DrawnOnKept(photo.greys, photo.samples)
    try:
        _, solved = solve_file(photo.path, drawn, photo.light, photo.known)
        return PhotoOutcome(photo.path, solved.measurement)
    except DyeshadeError as error:
        return PhotoOutcome(photo.path, error)
    except MemoryError:
        return PhotoOutcome(photo.path, DyeshadeError("not_enough_memory"))


def measure_again(
    photos: Sequence[PhotoToRead],
    workers: int | None = None,
    progress: Callable[[int, int], None] | None = None,
    job: Job = measure_kept,
) -> Generator[tuple[PhotoToRead, Measurement | DyeshadeError], None, None]:
    """Measure kept photos, each in a process of its own; needs no library, so any thread may.

    Closing the iterator stops the work.

    Yields
    ------
    PhotoToRead, Measurement or DyeshadeError
        As they end.
    """
    if progress:
        progress(0, len(photos))
    for count, finished in enumerate(run_each(job, photos, workers), 1):
        found = finished.found
        told = DyeshadeError("reader_crashed") if isinstance(found, Crashed) else found.found
        if progress:
            progress(count, len(photos))
        yield photos[finished.number], told


def keep_again(
    library: Library,
    photo: PhotoToRead,
    found: Measurement | DyeshadeError,
    how: HowRead | None = None,
    now: datetime | None = None,
    undoable: bool = False,
) -> PhotoReadAgain:
    """Keep what a photo gave beside what it gave before, in one transaction.

    Piece, state, time and note are those that the sample has when this is called; a sample that was
    removed or read anew meanwhile is left alone.

    Parameters
    ----------
    library : Library
    photo : PhotoToRead
    found : Measurement or DyeshadeError
    how : HowRead, optional
    now : datetime, optional
        The time of measuring.
    undoable : bool
        Not a step of undo unless told: nothing is lost that would have to be brought back.

    Returns
    -------
    PhotoReadAgain
    """
    if isinstance(found, DyeshadeError):
        return PhotoReadAgain(photo.name, error=found)
    how = how or HowRead()
    with library.edit("read_again", undoable=undoable) as edit:
        kept = edit.get(KeptPhoto, photo.photo_id)
        due = {} if kept is None else _still_due(edit, kept, how, photo.known)
        seen = {one.name for one in found.samples}
        assigned = {
            name: Assigned(one.piece_id, one.state, one.read, one.after_treatment_id, one.note)
            for name, one in due.items()
            if name in seen
        }
        ids: tuple[int, ...] = ()
        if kept is not None and assigned:
            ids = save_measurement(
                edit,
                found,
                kept,
                assigned,
                how.method_version,
                found.signals(),
                how.calibration_id or found.calibration_id,
                now,
            )
        time = wall_time(now or datetime.now())
        for one in ids:
            # What came out the same was read all the same, and is not due once more.
            edit.change(replace(edit.the(Reading, one), measured=time))
        new = [edit.the(Reading, one) for one in ids]
        anew = tuple(_anew(edit, photo.name, due[one.sample], one) for one in new)
    return PhotoReadAgain(photo.name, anew, tuple(sorted(set(due) - seen)))


def _still_due(
    edit: Reader, photo: KeptPhoto, how: HowRead, known: Calibrations
) -> dict[str, Reading]:
    return {one.sample: one for one in readings_in(edit, photo.id) if how.is_due(one, known)}


def _anew(reader: Reader, photo: str, old: Reading, new: Reading) -> ReadAnew:
    return ReadAnew(reader.the(Piece, new.piece_id).code, photo, old, new)


def read_again(
    library: Library,
    how: HowRead | None = None,
    workers: int | None = None,
    progress: Callable[[int, int], None] | None = None,
    job: Job = measure_kept,
    photo_ids: Sequence[int] | None = None,
    calibrated: bool = True,
) -> Generator[PhotoReadAgain, None, None]:
    """Measure anew all photos that a way of measuring has not read, and keep what they give.

    Parameters
    ----------
    library : Library
    how : HowRead, optional
        Today's way unless told.
    workers : int, optional
        Processes side by side; as many as there are cores unless told.
    progress : callable, optional
        Called with how many photos are done and how many there are to be measured.
    job : callable
        Measures in that way, as with a calibration.
    photo_ids, calibrated
        As for `photos_to_read`.

    Yields
    ------
    PhotoReadAgain
        Each is kept when it is told; whoever stops here loses nothing and goes on with the rest.
    """
    due = photos_to_read(library, how, photo_ids, calibrated)
    for one in due:
        if isinstance(one, NotRead):
            yield PhotoReadAgain(one.name, error=one.error)
    wanted = [one for one in due if isinstance(one, PhotoToRead)]
    for photo, found in measure_again(wanted, workers, progress, job):
        yield keep_again(library, photo, found, how)


def all_read_anew(library: Library) -> tuple[ReadAnew, ...]:
    """All that was ever read anew: each sample as it was read last before, and as it is now."""
    pairs = read_anew(library)
    photos = {one.id: one.name for one in library.where(KeptPhoto)}
    pieces = {one.id: one.code for one in library.where(Piece)}
    return tuple(
        ReadAnew(pieces[new.piece_id], photos[new.photo_id or 0], old, new) for old, new in pairs
    )
