"""Which sheets there are, and how their marks say which one it is."""

from __future__ import annotations

from collections.abc import Iterable

PAPERS: dict[str, tuple[float, float]] = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Width and height in mm: ISO 216 and ANSI/ASME Y14.1."""

CELLS: tuple[str, ...] = ("six", "one")
VERSION = 1
MARKS_PER_KIND = 16
KINDS_PER_VERSION = 8
PAPER_REFLECTANCE = 0.88
INK_REFLECTANCE = 0.035


def first_ident(paper: str, cells: str, colours: bool, version: int = VERSION) -> int:
    """Ident of the first mark of a kind of sheet; its others follow.

    Raises
    ------
    ValueError
        For a paper, a set of cells or a version that there is not.
    """
    if paper not in PAPERS or cells not in CELLS or not 1 <= version <= VERSION:
        raise ValueError(f"no such sheet: {paper!r}, {cells!r}, version {version}")
    kind = list(PAPERS).index(paper) + 2 * CELLS.index(cells) + 4 * int(colours)
    return ((version - 1) * KINDS_PER_VERSION + kind) * MARKS_PER_KIND


def kind_of_marks(idents: Iterable[int]) -> tuple[str, str, bool, int]:
    """Paper, cells, colours and version that a sheet's marks tell.

    Parameters
    ----------
    idents : iterable of int
        Idents of marks of one sheet, at least one.

    Returns
    -------
    tuple
        As `dyeshade.sheet.layout.build_layout` takes them, and the version.

    Raises
    ------
    ValueError
        Where there are none, they disagree, or no version of ours has them.
    """
    told = {ident // MARKS_PER_KIND for ident in idents}
    if len(told) != 1:
        raise ValueError(f"marks of {len(told)} kinds of sheet")
    version, kind = divmod(told.pop(), KINDS_PER_VERSION)
    if not 0 <= version < VERSION:
        raise ValueError(f"no version {version + 1} of the sheet")
    return list(PAPERS)[kind % 2], CELLS[kind // 2 % 2], kind >= 4, version + 1
