"""Texts in tables for spreadsheets, which take some beginnings for a formula and run it."""

from __future__ import annotations

import re

_FORMULA = re.compile(r"'*[=+\-@\t\r＝＋－＠]")


def text_cell(text: str) -> str:
    """A text as its cell holds it: one that a spreadsheet would run gets an apostrophe in front.

    So does what begins with apostrophes before such a sign: where one apostrophe is taken away from
    what would be a formula without it, every text comes back as it was.
    """
    return f"'{text}" if _FORMULA.match(text) else text
