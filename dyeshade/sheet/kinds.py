"""Which reference sheets there are, and how their marks say which one is in view."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import Final

PAPERS: Final[dict[str, tuple[float, float]]] = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Width and height in mm: ISO 216 A4 and ANSI/ASME Y14.1 size A (8.5 by 11 inches)."""

CELLS: Final = ("six", "one")
VERSION: Final = 1
"""The version that is printed. Once a version is printed, its layout never changes again."""

MARKS_PER_KIND: Final = 16
KINDS_PER_VERSION: Final = len(PAPERS) * len(CELLS) * 2
IDENTS_PER_VERSION: Final = MARKS_PER_KIND * KINDS_PER_VERSION


def first_ident(paper: str, cells: str, colours: bool, version: int = VERSION) -> int:
    """Ident of the first mark of a kind of sheet; its up to fifteen others follow.

    Parameters
    ----------
    paper : str
        "A4" or "Letter".
    cells : str
        "six" or "one".
    colours : bool
        Whether the sheet carries colour patches.
    version : int

    Returns
    -------
    int

    Raises
    ------
    ValueError
        For a sheet that there is not.
    """
    if paper not in PAPERS or cells not in CELLS or not 1 <= version <= VERSION:
        raise ValueError(f"no such sheet: {paper!r}, {cells!r}, version {version}")
    kind = 4 * list(PAPERS).index(paper) + 2 * CELLS.index(cells) + int(colours)
    return (version - 1) * IDENTS_PER_VERSION + kind * MARKS_PER_KIND


def kind_of_marks(idents: Iterable[int]) -> tuple[str, str, bool, int]:
    """Paper, cells, colours and version that a sheet's marks tell.

    Parameters
    ----------
    idents : iterable of int
        Idents of the marks seen, from `cv2.aruco.DICT_5X5_1000`. Most of one kind win: texture
        and weave now and then look like a mark of some other kind.

    Returns
    -------
    tuple of (str, str, bool, int)
        As `dyeshade.sheet.layout.build_layout` takes them.

    Raises
    ------
    ValueError
        Where there are none, where two kinds have equally many, or where the winner is of a
        version that is not known here.
    """
    told = Counter(ident // MARKS_PER_KIND for ident in set(idents)).most_common(2)
    if not told or (len(told) == 2 and told[0][1] == told[1][1]):
        raise ValueError("the marks do not tell one kind of sheet")
    before, kind = divmod(told[0][0], KINDS_PER_VERSION)
    if not 0 <= before < VERSION:
        raise ValueError(f"no version {before + 1} of the sheet")
    paper, rest = divmod(kind, 4)
    return list(PAPERS)[paper], CELLS[rest // 2], bool(rest % 2), before + 1
