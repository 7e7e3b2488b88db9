"""Keeps samples with the pieces that the tags beside them name."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime

from dyeshade.errors import DyeshadeError
from dyeshade.library.changes import Changes
from dyeshade.library.edit import Reader
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.measure.result import Measurement
from dyeshade.work.keep_readings import Kept, ToKeep, keep_readings
from dyeshade.work.measure_photos import PhotoOutcome
from dyeshade.work.pieces_said import KeptOutcomes
from dyeshade.work.said import Said, SaidBath


@dataclass(frozen=True)
class Tagged:
    """A sample with a tag.

    Attributes
    ----------
    sample : str
    piece : str
        The piece's code; as the library writes it, where it knows the piece.
    known : bool
        Whether the library has the piece; where not, a new one with this code may be offered.
    """

    sample: str
    piece: str
    known: bool


@dataclass(frozen=True)
class ByTags:
    """What is said of all pieces whose tags are read.

    Attributes
    ----------
    said : Said
        Its code is not taken.
    baths : tuple of SaidBath
        Baths that are described.
    new_pieces : bool
        Whether tags of pieces that the library does not have make new pieces.
    """

    said: Said = field(default_factory=Said)
    baths: tuple[SaidBath, ...] = ()
    new_pieces: bool = False


@dataclass(frozen=True)
class KeptByTag:
    """What was kept by tags.

    Attributes
    ----------
    outcomes : KeptOutcomes
    unknown : tuple of (path, Tagged)
        Samples whose tag names a piece that the library does not have: not kept.
    untagged : tuple of (path, sample)
        Samples without a tag that could be read: not kept.
    """

    outcomes: KeptOutcomes
    unknown: tuple[tuple[str, Tagged], ...]
    untagged: tuple[tuple[str, str], ...]


def pieces_by_tag(measurement: Measurement) -> dict[str, str]:
    """The piece that each sample's tag names, by the sample's name; only those that are sure."""
    return {one.name: one.tag for one in measurement.samples if one.tag}


def tagged_samples(reader: Reader, measurement: Measurement) -> tuple[Tagged, ...]:
    """The samples with tags, and whether the library knows their pieces.

    Parameters
    ----------
    reader : Reader
        A library, or an edit of it.
    measurement : Measurement

    Returns
    -------
    tuple of Tagged
        In the order of the samples.
    """
    return tuple(
        _tagged(reader, sample, piece) for sample, piece in pieces_by_tag(measurement).items()
    )


def said_with_tags(
    measurement: Measurement, said: Mapping[str, Said] | None = None
) -> dict[str, Said]:
    """What is said of a photo's samples, with the pieces that tags name filled in.

    What a person said of a sample's piece goes before what its tag says.

    Parameters
    ----------
    measurement : Measurement
    said : mapping of str to Said, optional
        By the sample's name.

    Returns
    -------
    dict of str to Said
        Of the samples that have a tag, or of which something was said.
    """
    found = dict(said or {})
    for sample, piece in pieces_by_tag(measurement).items():
        one = found.get(sample, Said())
        found[sample] = one if one.piece else replace(one, piece=piece)
    return found


def keep_by_tag(
    library: Library,
    outcomes: Sequence[PhotoOutcome],
    by_tags: ByTags | None = None,
    now: datetime | None = None,
) -> KeptByTag:
    """Keep measured photos by the tags in them: all that can be, in one step of undo.

    Parameters
    ----------
    library : Library
    outcomes : sequence of PhotoOutcome
        Refused photos are passed over.
    by_tags : ByTags, optional
    now : datetime, optional
        The time of measuring.

    Returns
    -------
    KeptByTag

    Raises
    ------
    DyeshadeError
        As `dyeshade.work.keep_readings.keep_readings`; nothing is kept then.
    """
    alike = by_tags or ByTags()
    wanted: list[ToKeep] = []
    places: list[tuple[str, str]] = []
    unknown: list[tuple[str, Tagged]] = []
    untagged: list[tuple[str, str]] = []
    for one in outcomes:
        if not isinstance(one.found, Measurement):
            continue
        tags = {tagged.sample: tagged for tagged in tagged_samples(library, one.found)}
        names = [sample.name for sample in one.found.samples]
        untagged += [(one.path, name) for name in names if name not in tags]
        kept: dict[str, Said] = {}
        for name in names:
            tagged = tags.get(name)
            if tagged is None:
                continue
            if tagged.known or alike.new_pieces:
                kept[name] = replace(alike.said, piece=tagged.piece)
                places.append((one.path, name))
            else:
                unknown.append((one.path, tagged))
        if kept:
            wanted.append(ToKeep(one.path, one.found, kept))
    nothing = Kept(Changes("save_readings"), (), (), (), ())
    done = keep_readings(library, wanted, alike.baths, now) if wanted else nothing
    return KeptByTag(KeptOutcomes(done, tuple(places), ()), tuple(unknown), tuple(untagged))


def _tagged(reader: Reader, sample: str, piece: str) -> Tagged:
    try:
        return Tagged(sample, find_piece(reader, piece).code, True)
    except DyeshadeError as error:
        if error.code != "piece_unknown":
            raise
        return Tagged(sample, piece, False)
