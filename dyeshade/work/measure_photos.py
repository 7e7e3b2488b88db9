"""The main job on many photos: each in a worker process, all cores at work."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from dyeshade.errors import DyeshadeError
from dyeshade.measure.calibrations import Calibrations
from dyeshade.measure.regions import Regions
from dyeshade.measure.result import Measurement
from dyeshade.work.side_by_side import Crashed, run_each


@dataclass(frozen=True)
class PhotoOutcome:
    """What became of one photo.

    Attributes
    ----------
    path : str
        As it was given.
    found : Measurement or DyeshadeError
        The error says why it was not measured.
    """

    path: str
    found: Measurement | DyeshadeError


def measure_photos(
    paths: Sequence[str],
    regions: Regions | None = None,
    light: str | None = None,
    workers: int | None = None,
    progress: Callable[[int, int], None] | None = None,
    known: Calibrations | None = None,
) -> Iterator[PhotoOutcome]:
    """Measure photos, each in a process of its own.

    Parameters
    ----------
    paths : sequence of str
    regions : Regions, optional
        Greys and samples drawn by hand, the same for all photos.
    light : str, optional
        One of `dyeshade.measure.lights.KINDS`.
    workers : int, optional
        Processes side by side; as many as there are cores unless told.
    progress : callable, optional
        Called with how many are done and how many there are, at the start and after each.
    known : Calibrations, optional
        Those that may be used.

    Yields
    ------
    PhotoOutcome
        In the order of `paths`, each as soon as those before it are done.
    """
    job = partial(measure_file, regions=regions, light=light, known=known)
    done: dict[int, PhotoOutcome] = {}
    told = 0
    if progress:
        progress(0, len(paths))
    for count, finished in enumerate(run_each(job, paths, workers), 1):
        path = paths[finished.number]
        found = finished.found
        if isinstance(found, Crashed):
            found = PhotoOutcome(path, DyeshadeError("reader_crashed"))
        done[finished.number] = found
        if progress:
            progress(count, len(paths))
        while told in done:
            yield done.pop(told)
            told += 1


def measure_file(
    path: str,
    regions: Regions | None = None,
    light: str | None = None,
    known: Calibrations | None = None,
) -> PhotoOutcome:
    """Read and measure one photo in this process.

    Parameters
    ----------
    path : str
    regions : Regions, optional
    light : str, optional
        One of `dyeshade.measure.lights.KINDS`.
    known : Calibrations, optional
        Those that may be used.

    Returns
    -------
    PhotoOutcome
    """
    # Imported where the work is done: whoever only hands photos out needs no OpenCV.
    from dyeshade.measure.halved_first import solve_file
    from dyeshade.photo.vision import use_threads

    use_threads(1)
    try:
        return PhotoOutcome(path, solve_file(path, regions, light, known)[1].measurement)
    except DyeshadeError as error:
        return PhotoOutcome(path, error)
    except MemoryError:
        return PhotoOutcome(path, DyeshadeError("not_enough_memory"))
