"""Tags and labels of the library's pieces."""

from pathlib import Path

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.paper.skein_labels import LabelSheet
from dyeshade.paper.tag_sheet import Tag, TagSheet
from dyeshade.sheet.tag import tag_text
from dyeshade.words.skein_labels import LABEL_WORDS
from dyeshade.work.make_tags import labels_of, make_labels, make_tags, tags_of
from tests.paper.reading_back import codes_on


def test_tags_of_pieces_in_the_order_that_was_asked_for(workshop: Library, tmp_path: Path) -> None:
    out = tmp_path / "tags.pdf"
    made = make_tags(workshop, ["w-003", "S-002"], TagSheet(), out, copies=2)
    assert (made.count, made.pages, made.missing) == (4, 1, "")
    assert sorted(codes_on(out.read_bytes())[0]) == sorted(
        [tag_text("W-003"), tag_text("S-002")] * 2
    )
    assert tags_of(workshop, ["w-003"]) == (Tag("W-003", "wool"),)


def test_a_label_knows_the_lot_and_what_dyed_the_skein(workshop: Library, tmp_path: Path) -> None:
    (label,) = labels_of(workshop, ["W-005"])
    assert (label.fibre, label.fibre_make, label.mordant) == ("wool", "4-ply yarn", "alum")
    assert label.dyestuffs == ("weld",)
    assert label.lot.startswith("bath-")
    assert label.dyed is not None
    made = make_labels(workshop, ["W-005"], LabelSheet(), tmp_path / "l.pdf", LABEL_WORDS)
    assert made.count == 1


def test_a_piece_that_is_not_there_makes_no_tags(workshop: Library, tmp_path: Path) -> None:
    with pytest.raises(DyeshadeError, match="piece_unknown"):
        make_tags(workshop, ["W-003", "W-999"], TagSheet(), tmp_path / "tags.pdf")
    assert not (tmp_path / "tags.pdf").exists()
