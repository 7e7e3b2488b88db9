"""Home fastness tests of a piece: found by what it went through, or named reading by reading."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from dyeshade.errors import DyeshadeError
from dyeshade.insight.difference import DifferenceOf, measured
from dyeshade.insight.fastness import TESTS, HomeTest, Pair, StepPairs, home_test, home_test_of
from dyeshade.insight.fastness_kept import steps_of_tests
from dyeshade.insight.fastness_pairs import pairs_of_piece
from dyeshade.insight.solved_together import SolvedTogether
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.shade_records import Reading
from dyeshade.library.trials import home_tests_of

Ids = tuple[int, int]


@dataclass(frozen=True)
class FastnessAsked:
    """Which test, by the ids of readings; (untreated, treated) each.

    Attributes
    ----------
    kind : str or None
        One of `dyeshade.insight.fastness.TESTS`; None asks for all that the piece went through.
    pairs : sequence of (int, int)
        Where none, those of the tests that were set up, and those that the piece's treatments and
        states tell.
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
        In the order of `TESTS`. A test that was set up stands in the place of what the piece's
        history would tell of that kind.

    Raises
    ------
    DyeshadeError
        ``piece_unknown``; ``record_gone`` for a reading that is not there; ``no_home_test``
        (piece) where nothing makes one; ``home_test_not_photographed`` (piece) where one was set
        up and has no photo yet.
    """
    if not (asked.pairs or asked.white or asked.blue_wools):
        return _kept_and_told(library, piece, asked.kind, difference_of or SolvedTogether(library))
    known = dict(pairs_of_piece(library, piece))
    if asked.kind is None:
        raise ValueError("named readings need the kind of their test")
    if asked.pairs:
        known = {asked.kind: [_pair(library, ids) for ids in asked.pairs]}
    white = [_pair(library, ids) for ids in asked.white]
    wools = {number: _pair(library, ids) for number, ids in asked.blue_wools.items()}
    together = difference_of or SolvedTogether(library)
    if asked.kind in known:
        return (home_test(asked.kind, known[asked.kind], white, wools, together),)
    if not white:
        raise DyeshadeError("no_home_test", piece=piece)
    # What rubbed off onto white cloth tells by itself.
    return (home_test_of(asked.kind, [StepPairs(None, tuple(white))], None, together),)


def known_fastness(
    library: Library, piece: str, difference_of: DifferenceOf | None = None
) -> tuple[HomeTest, ...]:
    """What is known of a piece's fastness, for its papers; nothing where no test tells of it.

    Parameters and errors as `ask_fastness`, but for there being none.
    """
    try:
        return ask_fastness(library, piece, FastnessAsked(), difference_of)
    except DyeshadeError as error:
        if error.code in ("no_home_test", "home_test_not_photographed"):
            return ()
        raise


def _kept_and_told(
    library: Library, piece: str, kind: str | None, difference_of: DifferenceOf
) -> tuple[HomeTest, ...]:
    found = find_piece(library, piece)
    set_up = [one for one in home_tests_of(library, found.id) if kind in (None, one.kind)]
    steps = steps_of_tests(library, set_up)
    kept = [
        home_test_of(one.kind, steps[one.id], one.begun, difference_of)
        for one in set_up
        if steps[one.id]
    ]
    known = {one.kind for one in kept}
    told = [
        home_test(name, pairs, difference_of=difference_of)
        for name, pairs in pairs_of_piece(library, piece).items()
        if name not in known and kind in (None, name)
    ]
    if not kept and not told:
        if set_up:
            raise DyeshadeError("home_test_not_photographed", piece=found.code)
        raise DyeshadeError("no_home_test", piece=found.code)
    return tuple(sorted((*kept, *told), key=lambda one: TESTS.index(one.kind)))


def _pair(library: Library, ids: Ids) -> Pair:
    untreated, treated = (library.the(Reading, one) for one in ids)
    return Pair(*measured(library, [untreated, treated]))
