"""What is told when a paper was made."""

from __future__ import annotations

from collections.abc import Sequence

from dyeshade.words.sentences import counted


def made_words(count: int, pages: int, what: str, out: str) -> str:
    """What was made, and where it is, as in "12 tags are in tags.pdf, on 1 page."."""
    are = "is" if count == 1 else "are"
    things, on = counted(count, what, f"{what}s"), counted(pages, "page", "pages")
    return f"{things} {are} in {out}, on {on}. Print at 100 %."


def missing_on_paper(missing: str) -> str:
    """Said where no font has some characters of a paper."""
    return f"No font here has {' '.join(missing)}: a box stands for each on the paper."


def new_pieces_words(pieces: Sequence[str]) -> str:
    """Which pieces were made."""
    if len(pieces) == 1:
        return f"New piece: {pieces[0]}."
    return f"{len(pieces)} new pieces: {pieces[0]} to {pieces[-1]}."
