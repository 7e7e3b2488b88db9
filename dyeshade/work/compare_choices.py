"""What there is to choose from when shades are set beside each other."""

from __future__ import annotations

from dataclasses import dataclass, field

from dyeshade.library.dye_records import Piece
from dyeshade.library.library import Library
from dyeshade.library.readings import NEWEST
from dyeshade.work.shades_wanted import Choices, choices_in


@dataclass(frozen=True)
class PieceChoice:
    """A piece, how often it was read, and whether it went through a bath or anything else."""

    code: str
    name: str
    readings: int
    dyed: bool = True


@dataclass(frozen=True)
class PieceShade:
    """A piece with its latest dry shade: L*, a*, b*, and sRGB as "#d6c84a"."""

    code: str
    name: str
    lab: tuple[float, float, float]
    srgb: str


@dataclass(frozen=True)
class CompareChoices:
    """What can be chosen.

    Attributes
    ----------
    pieces : tuple of PieceChoice
        Those that were read, in the order of their codes.
    names : Choices
        Dyestuffs, fibres, mordants.
    """

    pieces: tuple[PieceChoice, ...] = ()
    names: Choices = field(default_factory=Choices)

    @property
    def most_read(self) -> str:
        """The dyed piece that was read most often, or else any piece; "" where there is none."""
        order = sorted(self.pieces, key=lambda one: (one.dyed, one.readings), reverse=True)
        return order[0].code if order else ""

    @property
    def check_standard(self) -> str:
        """The piece that was read most often of those that nothing was done to; "" for none."""
        bare = [one for one in self.pieces if not one.dyed and one.readings > 1]
        return max(bare, key=lambda one: one.readings).code if bare else ""


def compare_choices(library: Library) -> CompareChoices:
    """What there is to choose from in a library."""
    counts = f"SELECT piece_id, count(*) FROM reading WHERE {NEWEST} GROUP BY piece_id"
    read: dict[int, int] = {row[0]: row[1] for row in library.rows(counts)}
    pieces = library.among(Piece, "id", sorted(read))
    dyed = {row[0] for row in library.rows("SELECT DISTINCT piece_id FROM treatment")}
    listed = (PieceChoice(one.code, one.name, read[one.id], one.id in dyed) for one in pieces)
    ordered = tuple(sorted(listed, key=lambda one: one.code.casefold()))
    return CompareChoices(ordered, choices_in(library))


def piece_shades(library: Library) -> tuple[PieceShade, ...]:
    """All pieces that were read dry, with their latest shades, in the order of their codes.

    A half that was treated in a home test stands for its piece only where nothing else does.
    """
    rows = library.rows(
        "SELECT piece_id, lab_l, lab_a, lab_b, srgb FROM reading"
        f" WHERE state <> 'wet' AND {NEWEST} ORDER BY EXISTS (SELECT 1 FROM home_test_pair"
        " JOIN reading AS half ON half.id = treated_id WHERE what = 'piece'"
        " AND half.photo_id IS reading.photo_id AND half.sample = reading.sample) DESC, read, id"
    )
    latest = {row[0]: ((row[1], row[2], row[3]), row[4]) for row in rows}
    pieces = library.among(Piece, "id", sorted(latest))
    told = (PieceShade(one.code, one.name, *latest[one.id]) for one in pieces)
    return tuple(sorted(told, key=lambda one: one.code.casefold()))
