"""Shades out of the library in a table, and as JSON, say what is not known by leaving it out."""

from dataclasses import replace

import pytest

from dyeshade.library.dye_records import Piece
from dyeshade.library.find import find_shades
from dyeshade.library.library import Library
from dyeshade.library.pieces import add_piece
from dyeshade.library.readings import keep_reading
from dyeshade.words.shades_json import shade_record
from dyeshade.words.shades_table import shades_table
from tests.library.conftest import library
from tests.library.workshop import a_reading

__all__ = ["library"]


@pytest.fixture
def bare(library: Library) -> Library:
    """A piece of which nothing was written down, beyond what a screen can show."""
    with library.edit("add") as edit:
        keep_reading(edit, replace(a_reading(add_piece(edit, Piece("P-1"))), in_gamut=False))
    return library


def test_a_piece_with_nothing_written_down_is_told_without(bare: Library) -> None:
    head, row, terms, note = shades_table(find_shades(bare))
    assert " ".join(row.split()) == ("P-1 2026-03-03 dry 78.0 -6.0 61.0 61.3 95.6 #d6c84a* about 2")
    assert len(head) > 100
    assert terms.startswith("1 shade.")
    assert note.startswith("* sRGB cannot show it")


def test_what_is_not_known_is_empty_or_null(bare: Library) -> None:
    (found,) = find_shades(bare)
    record = shade_record(found)
    assert (record["fibre"], record["mordant"], record["bath"]) == ("", "", "")
    assert record["mordant_percent_wof"] is record["ph_acted_last"] is None
    assert (record["baths"], record["ph"], record["in_gamut"]) == ([], {}, False)


def test_nothing_found_is_said() -> None:
    assert shades_table([]) == ["No shade was found."]
