"""Home fastness tests of a piece: found by what it went through, or named reading by reading."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from dyeshade.errors import DyeshadeError
from dyeshade.insight.difference import DifferenceOf, measured
from dyeshade.insight.fastness import TESTS, HomeTest, Pair, home_test
from dyeshade.insight.fastness_pairs import pairs_of_piece
from dyeshade.insight.solved_together import SolvedTogether
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Reading

Ids = tuple[int, int]


@dataclass(frozen=True)
class FastnessAsked:
    """Which test, by the ids of readings; (untreated, treated) each.

    Attributes
    ----------
    kind : str or None
        One of `dyeshade.insight.fastness.TESTS`; None asks for all that the piece went through.
    pairs : sequence of (int, int)
        Where none, those that the piece's treatments and states tell.
    white : sequence of (int, int)
        White cloth beside it.
    blue_wools : mapping of int to (int, int)
    """

    kind: str | None = None
    pairs: Sequence[Ids] = ()
    white: Sequence[Ids] = ()
    blue_wools: Mapping[int, Ids] = field(default_factory=dict)


def ask_fastness(
    library: Library,
    piece: str,
    asked: FastnessAsked,
    difference_of: DifferenceOf | None = None,
) -> tuple[HomeTest, ...]:
    """Home tests of a piece.

    Parameters
    ----------
    library : Library
    piece : str
        Its code.
    asked : FastnessAsked
    difference_of : callable, optional
        Gives the difference of two readings; `dyeshade.insight.solved_together` unless told.

    Returns
    -------
    tuple of HomeTest

    Raises
    ------
    DyeshadeError
        ``piece_unknown``; ``record_gone`` for a reading that is not there; ``no_home_test``
        (piece) where nothing makes one.
    """
    known = dict(pairs_of_piece(library, piece))
    if asked.pairs:
        if asked.kind is None:
            raise ValueError("named readings need the kind of their test")
        known = {asked.kind: [_pair(library, ids) for ids in asked.pairs]}
    kinds = [kind for kind in TESTS if kind in known and asked.kind in (None, kind)]
    if not kinds:
        raise DyeshadeError("no_home_test", piece=piece)
    white = [_pair(library, ids) for ids in asked.white]
    wools = {number: _pair(library, ids) for number, ids in asked.blue_wools.items()}
    together = SolvedTogether(library)
    return tuple(
        home_test(
            kind,
            known[kind],
            # White cloth and blue wools belong to the test that was named.
            white if asked.kind else (),
            wools if kind == "light" else None,
            difference_of or together,
        )
        for kind in kinds
    )


def _pair(library: Library, ids: Ids) -> Pair:
    untreated, treated = (library.the(Reading, one) for one in ids)
    return Pair(*measured(library, [untreated, treated]))
