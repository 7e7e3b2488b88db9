"""All there is to tell of one shade: its photo, its bath, its repeats, its piece's history."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.insight.difference import measured
from dyeshade.insight.solved_together import SolvedTogether
from dyeshade.library.dye_records import Bath
from dyeshade.library.find import FoundShade, found_shades, repeats_of
from dyeshade.library.history import Step
from dyeshade.library.library import Library
from dyeshade.library.readings import readings_of
from dyeshade.library.shade_records import KeptPhoto, Reading, SheetReading

if TYPE_CHECKING:
    from dyeshade.insight.change import Change


@dataclass(frozen=True, eq=False)
class Moved:
    """How a piece has changed since an earlier reading."""

    since: Reading
    change: Change


@dataclass(frozen=True)
class Entry:
    """A line of a piece's history: a treatment or a reading.

    Attributes
    ----------
    step : Step or None
    reading : Reading or None
    drift : Moved or None
        Of a reading, since the one that it is compared with, each with those taken together with
        it (`dyeshade.insight.occasions`); None for that one itself, for those
        before it and for wet ones, which are darker for the water alone.
    """

    step: Step | None = None
    reading: Reading | None = None
    drift: Moved | None = None


@dataclass(frozen=True)
class ShadeStory:
    """What is told of a shade.

    Attributes
    ----------
    found : FoundShade
    photo : KeptPhoto or None
    photo_file : Path or None
        None where there is no photo, or where its file is gone.
    sheet : SheetReading or None
    last_bath : Step or None
        The treatment that put the piece into its last bath before this reading.
    parent_bath : str
        Code of the bath that the last one exhausts, else "".
    repeats : tuple of (FoundShade, ΔE00)
        Readings from equal conditions, with their difference from this one.
    entries : tuple of Entry
        The piece's history in order.
    since_id : int or None
        The reading that the later ones are compared with; None where there is no dry one.
    """

    found: FoundShade
    photo: KeptPhoto | None
    photo_file: Path | None
    sheet: SheetReading | None
    last_bath: Step | None
    parent_bath: str
    repeats: tuple[tuple[FoundShade, float], ...]
    entries: tuple[Entry, ...]
    since_id: int | None


def story_of(library: Library, reading_id: int, since_id: int | None = None) -> ShadeStory:
    """The story of a shade.

    Parameters
    ----------
    library : Library
    reading_id : int
    since_id : int, optional
        The reading of the same piece that the others are compared with; its first dry one unless
        told.

    Raises
    ------
    DyeshadeError
        ``record_gone``; else as `dyeshade.library.faults.told`.
    """
    reading = library.the(Reading, reading_id)
    found = found_shades(library, [reading])[0]
    photo = None if reading.photo_id is None else library.the(KeptPhoto, reading.photo_id)
    file = None if photo is None else library.folder / photo.relative_path
    baths = [step for step in found.history.before(reading) if step.bath is not None]
    return ShadeStory(
        found,
        photo,
        file if file is not None and file.is_file() else None,
        None
        if reading.sheet_reading_id is None
        else library.the(SheetReading, reading.sheet_reading_id),
        baths[-1] if baths else None,
        _parent(library, baths),
        tuple(
            (one, float(ciede2000(reading.lab, one.reading.lab)))
            for one in repeats_of(library, reading_id)
        ),
        *entries_of(library, found, since_id),
    )


def _parent(library: Library, baths: Sequence[Step]) -> str:
    bath = baths[-1].bath if baths else None
    if bath is None or bath.bath.parent_bath_id is None:
        return ""
    return library.the(Bath, bath.bath.parent_bath_id).code


def entries_of(
    library: Library,
    found: FoundShade,
    since_id: int | None = None,
    together: SolvedTogether | None = None,
) -> tuple[tuple[Entry, ...], int | None]:
    """A piece's history, and the id of the reading that the others are compared with.

    `together` remembers photos that are solved already, where many pieces are asked for.
    """
    steps = found.history.steps
    readings = readings_of(library, found.history.piece.id)
    placed: list[tuple[int, Reading]] = []
    for reading in readings:
        before = {step.treatment.id for step in found.history.before(reading)}
        ended = [i for i, step in enumerate(steps, 1) if step.treatment.id in before]
        placed.append((max(ended, default=0), reading))
    placed.sort(key=lambda one: (one[0], one[1].read, one[1].id))
    dry = [reading for _, reading in placed if reading.state != "wet"]
    since = next((one for one in dry if one.id == since_id), dry[0] if dry else None)
    changes: dict[int, Change] = {}
    if since is not None:
        # Takes a second to import, and the window begins with cards.
        from dyeshade.insight.drift import changes_since

        compared = measured(library, [reading for _, reading in placed if reading.state != "wet"])
        together = together or SolvedTogether(library)
        changes = changes_since(found.history, compared, since.id, together)
    entries: list[Entry] = []
    passed = False
    for count in range(len(steps) + 1):
        if count:
            entries.append(Entry(step=steps[count - 1]))
        for place, reading in placed:
            if place != count:
                continue
            drift = None
            if since is not None and passed and reading.state != "wet":
                change = changes.get(reading.id)
                drift = None if change is None else Moved(since, change)
            passed = passed or reading is since
            entries.append(Entry(reading=reading, drift=drift))
    return tuple(entries), None if since is None else since.id
