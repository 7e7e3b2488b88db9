"""What is said of samples before their photos are measured, joined with what comes out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import PurePath

from dyeshade.library.changes import Changes
from dyeshade.library.library import Library
from dyeshade.measure.result import Measurement
from dyeshade.work.keep_readings import Kept, ToKeep, keep_readings
from dyeshade.work.measure_photos import PhotoOutcome
from dyeshade.work.said import Said, SaidBath


@dataclass(frozen=True)
class SampleSaid:
    """What is said of one sample.

    Attributes
    ----------
    sample : str
        Its name.
    said : Said
    photo : str
        Name of the photo's file, without its folder; "" means any photo.
    """

    sample: str
    said: Said
    photo: str = ""

    def is_of(self, photo: str) -> bool:
        """Whether it is said of samples in the photo at a path."""
        return self.photo in ("", PurePath(photo).name)


@dataclass(frozen=True)
class PiecesSaid:
    """What is said of samples, and the baths that are described."""

    samples: tuple[SampleSaid, ...]
    baths: tuple[SaidBath, ...] = ()


@dataclass(frozen=True)
class KeptOutcomes:
    """What was kept of measured photos.

    Attributes
    ----------
    kept : Kept
    places : tuple of (path, sample)
        For each reading.
    not_found : tuple of SampleSaid
        What was said of samples that no photo showed.
    """

    kept: Kept
    places: tuple[tuple[str, str], ...]
    not_found: tuple[SampleSaid, ...]


def keep_outcomes(
    library: Library,
    outcomes: Sequence[PhotoOutcome],
    pieces: PiecesSaid,
    now: datetime | None = None,
) -> KeptOutcomes:
    """Keep measured photos with what is said of their samples; refused photos are passed over.

    Parameters
    ----------
    library : Library
    outcomes : sequence of PhotoOutcome
    pieces : PiecesSaid
        What is said of a sample of one photo goes before what is said of that sample of any.
    now : datetime, optional
        The time of measuring.

    Returns
    -------
    KeptOutcomes

    Raises
    ------
    DyeshadeError
        As `dyeshade.work.keep_readings.keep_readings`; nothing is kept then.
    """
    found: set[SampleSaid] = set()
    wanted: list[ToKeep] = []
    places: list[tuple[str, str]] = []
    for one in outcomes:
        if not isinstance(one.found, Measurement):
            continue
        names = [sample.name for sample in one.found.samples]
        fitting = [said for said in pieces.samples if said.is_of(one.path)]
        fitting = [said for said in fitting if said.sample in names]
        found |= set(fitting)
        # Sorted so that what names its photo comes last and stays.
        by_name = {s.sample: s.said for s in sorted(fitting, key=lambda s: s.photo != "")}
        if by_name:
            wanted.append(ToKeep(one.path, one.found, by_name))
            places += [(one.path, name) for name in names if name in by_name]
    # A bath of which no piece was measured is not kept either.
    nothing = Kept(Changes("save_readings"), (), (), (), ())
    kept = keep_readings(library, wanted, pieces.baths, now) if wanted else nothing
    missing = tuple(said for said in pieces.samples if said not in found)
    return KeptOutcomes(kept, tuple(places), missing)
