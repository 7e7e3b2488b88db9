"""Measures the library's photos anew with a better way of measuring; both values stay.

What was read before is not touched: the newer reading stands beside it and is the one that is
shown. Photos are kept one by one, so that whoever stops, or is stopped, goes on there.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import Piece
from dyeshade.library.edit import Reader
from dyeshade.library.library import Library
from dyeshade.library.photos import photo_path
from dyeshade.library.readings import NEWEST, Assigned, read_anew, readings_in, save_measurement
from dyeshade.library.shade_records import KeptPhoto, Reading, SheetReading
from dyeshade.measure.kept_signals import kept_signals
from dyeshade.measure.method import METHOD_VERSION
from dyeshade.measure.regions import DrawnOnSheet, HandSample
from dyeshade.measure.result import Measurement
from dyeshade.measure.seen import PatchesSeen
from dyeshade.sheet.layout import build_layout
from dyeshade.work.measure_photos import PhotoOutcome
from dyeshade.work.side_by_side import Crashed, run_each


@dataclass(frozen=True)
class HowRead:
    """A way of measuring.

    Attributes
    ----------
    method_version : int
    calibration_id : int or None
        The library's calibration that is used. Without one, what was read with one stays.
    """

    method_version: int = METHOD_VERSION
    calibration_id: int | None = None

    def is_new_to(self, reading: Reading) -> bool:
        """Whether a reading has not been read this way, nor a newer one."""
        other = reading.calibration_id != self.calibration_id
        if self.calibration_id is None:
            return reading.method_version < self.method_version and not other
        return reading.method_version < self.method_version or other


@dataclass(frozen=True, eq=False)
class PhotoToRead:
    """A kept photo and what is to be read in it, as it was read before.

    Attributes
    ----------
    photo_id : int
    name, path : str
    light : str or None
        None where nobody named it.
    samples : tuple of HandSample
        Those that no cell of the sheet tells: the same outlines as before.
    without : frozenset of str
        Cells that nothing is kept of.
    greys : PatchesSeen or None
        Greys drawn by hand, as they were seen; None where a sheet tells the light.
    """

    photo_id: int
    name: str
    path: str
    light: str | None = None
    samples: tuple[HandSample, ...] = ()
    without: frozenset[str] = frozenset()
    greys: PatchesSeen | None = None


@dataclass(frozen=True, eq=False)
class NotRead:
    """A photo that could not be read again, and why; its readings stay as they are."""

    name: str
    error: DyeshadeError


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


def photos_to_read(
    library: Library, how: HowRead | None = None, photo_ids: Sequence[int] | None = None
) -> tuple[PhotoToRead | NotRead, ...]:
    """Photos with readings that a way of measuring has not read yet.

    Parameters
    ----------
    library : Library
    how : HowRead, optional
        Today's way, uncalibrated, unless told.
    photo_ids : sequence of int, optional
        Some photos, as those by a camera that was calibrated; all unless told.

    Returns
    -------
    tuple of PhotoToRead or NotRead
        In the order in which they were kept; those not to be read whose file is gone, or whose
        greys were drawn by hand and not kept.
    """
    how = how or HowRead()
    readings = library.where(Reading, f"photo_id IS NOT NULL AND {NEWEST}", (), "photo_id, id")
    due: dict[int, list[Reading]] = {}
    for one in readings:
        if one.photo_id is not None and how.is_new_to(one):
            due.setdefault(one.photo_id, []).append(one)
    chosen = due.keys() if photo_ids is None else [one for one in due if one in set(photo_ids)]
    return tuple(
        _to_read(library, library.the(KeptPhoto, photo_id), due[photo_id]) for photo_id in chosen
    )


def _to_read(library: Library, photo: KeptPhoto, due: list[Reading]) -> PhotoToRead | NotRead:
    try:
        path = str(photo_path(library, photo))
    except DyeshadeError as error:
        return NotRead(photo.name, error)
    told = due[-1].sheet_reading_id
    sheet = None if told is None else library.get(SheetReading, told)
    light = None if sheet is None else sheet.light
    if sheet is not None and any(one.code == "light_assumed" for one in sheet.notices):
        light = None
    if sheet is not None and sheet.paper is None:
        signals = kept_signals(sheet.signals)
        if signals is None:
            return NotRead(photo.name, DyeshadeError("greys_not_kept", name=photo.name))
        return PhotoToRead(
            photo.id, photo.name, path, light, _drawn(due, ()), greys=signals.patches
        )
    cells = () if sheet is None else _cells(sheet)
    unread = frozenset(cells) - {one.sample for one in due}
    return PhotoToRead(photo.id, photo.name, path, light, _drawn(due, cells), unread)


def _cells(sheet: SheetReading) -> tuple[str, ...]:
    assert sheet.paper is not None
    assert sheet.cells is not None
    # Sheets with colours have the same cells.
    layout = build_layout(sheet.paper, sheet.cells, False)
    return tuple(cell.name for cell in layout.cells)


def _drawn(due: Sequence[Reading], cells: Sequence[str]) -> tuple[HandSample, ...]:
    return tuple(
        HandSample(one.sample, np.array(one.outline_px, dtype=np.float64))
        for one in due
        if one.sample not in cells and len(one.outline_px) >= 3
    )


def measure_kept(photo: PhotoToRead) -> PhotoOutcome:
    """Read and measure one kept photo in this process."""
    from dyeshade.measure.photo_to_shade import DrawnOnKept, solve_photo
    from dyeshade.photo.read import read_photo
    from dyeshade.photo.vision import use_threads

    use_threads(1)
    drawn: DrawnOnKept | DrawnOnSheet = DrawnOnSheet(photo.samples, photo.without)
    if photo.greys is not None:
        drawn = DrawnOnKept(photo.greys, photo.samples)
    try:
        solved = solve_photo(read_photo(photo.path), drawn, photo.light)
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
        due = {} if kept is None else _still_due(edit, kept, how)
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
                how.calibration_id,
                now,
            )
        new = [edit.the(Reading, one) for one in ids]
        anew = tuple(_anew(edit, photo.name, due[one.sample], one) for one in new)
    return PhotoReadAgain(photo.name, anew, tuple(sorted(set(due) - seen)))


def _still_due(edit: Reader, photo: KeptPhoto, how: HowRead) -> dict[str, Reading]:
    return {one.sample: one for one in readings_in(edit, photo.id) if how.is_new_to(one)}


def _anew(reader: Reader, photo: str, old: Reading, new: Reading) -> ReadAnew:
    return ReadAnew(reader.the(Piece, new.piece_id).code, photo, old, new)


def read_again(
    library: Library,
    how: HowRead | None = None,
    workers: int | None = None,
    progress: Callable[[int, int], None] | None = None,
    job: Job = measure_kept,
    photo_ids: Sequence[int] | None = None,
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
    photo_ids : sequence of int, optional
        As for `photos_to_read`.

    Yields
    ------
    PhotoReadAgain
        Each is kept when it is told; whoever stops here loses nothing and goes on with the rest.
    """
    due = photos_to_read(library, how, photo_ids)
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
