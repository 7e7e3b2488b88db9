"""What there is to choose from when shades are set beside each other."""

from __future__ import annotations

from dataclasses import dataclass, field

from dyeshade.library.dye_records import Piece
from dyeshade.library.library import Library
from dyeshade.library.readings import NEWEST
from dyeshade.work.shades_wanted import Choices, choices_in


@dataclass(frozen=True)
class PieceChoice:
    """A piece and how often it was read."""

    code: str
    name: str
    readings: int


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
        """The piece that was read most often; "" where there is none."""
        return max(self.pieces, key=lambda one: one.readings).code if self.pieces else ""


def compare_choices(library: Library) -> CompareChoices:
    """What there is to choose from in a library."""
    counts = f"SELECT piece_id, count(*) FROM reading WHERE {NEWEST} GROUP BY piece_id"
    read: dict[int, int] = {row[0]: row[1] for row in library.rows(counts)}
    pieces = library.among(Piece, "id", sorted(read))
    listed = (PieceChoice(one.code, one.name, read[one.id]) for one in pieces)
    ordered = tuple(sorted(listed, key=lambda one: one.code.casefold()))
    return CompareChoices(ordered, choices_in(library))
