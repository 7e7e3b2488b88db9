"""Texts in tables for spreadsheets, which take some beginnings for a formula and run it."""

from __future__ import annotations

import re

_FORMULA = re.compile(r"'*[=+\-@\t\r＝＋－＠]")


def text_cell(text: str) -> str:
    """A text as its cell holds it: one that a spreadsheet would run gets an apostrophe in front.

    So does what begins with apostrophes before such a sign, so that `text_of_cell` gives back every
    text as it was.
    """
    return f"'{text}" if _FORMULA.match(text) else text


def text_of_cell(cell: str) -> str:
    """The text that `text_cell` wrote."""
    return cell[1:] if cell.startswith("'") and _FORMULA.match(cell) else cell
