"""What a tag's code says: the piece, and that it is a tag of ours."""

from __future__ import annotations

import binascii
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dyeshade.sheet.serial import ALPHABET
from dyeshade.sheet.tag import piece_on_tag, tag_text

# ISO/IEC 18004, table 5: what QR's alphanumeric mode holds.
ALPHANUMERIC = re.compile(r"[0-9A-Z $%*+\-./:]+")

pieces = st.text(st.characters(exclude_categories=("C", "Z")), min_size=1, max_size=30).filter(
    lambda text: text == text.strip()
)


@given(pieces)
def test_a_piece_comes_back_as_it_is_known_in_capitals_or_small_letters(piece: str) -> None:
    told = piece_on_tag(tag_text(piece))
    assert told is not None
    # The library takes small letters of ASCII and capitals for the same, and no others.
    assert told == "".join(one.upper() if one.isascii() else one for one in piece)


@given(pieces)
def test_every_reader_of_codes_decodes_it_alike(piece: str) -> None:
    assert ALPHANUMERIC.fullmatch(tag_text(piece))


@given(pieces, st.data())
def test_a_code_with_a_slip_in_it_is_no_tag(piece: str, data: st.DataObject) -> None:
    text = tag_text(piece)
    place = data.draw(st.integers(0, len(text) - 1))
    other = data.draw(st.sampled_from([one for one in ALPHABET if one != text[place]]))
    slipped = text[:place] + other + text[place + 1 :]
    # Two letters of 29 let one slip in 841 through; a wrong piece by a slip is what must not be.
    told = piece_on_tag(slipped)
    assert told is None or binascii.crc32(slipped[:-3].encode()) % 841 == (
        29 * ALPHABET.index(slipped[-2]) + ALPHABET.index(slipped[-1])
    )


def test_the_check_is_the_crc_of_what_stands_before_it() -> None:
    # By Python's other implementation of CRC-32.
    high, low = divmod(binascii.crc32(b"DS1:W-014") % 841, 29)
    assert tag_text("w-014") == f"DS1:W-014:{ALPHABET[high]}{ALPHABET[low]}"


@pytest.mark.parametrize("text", ["", "W-014", "9R6P-YE5Y", "DS1:W-014", "DS1::28", "DS2:W-014:28"])
def test_other_codes_are_no_tags(text: str) -> None:
    assert piece_on_tag(text) is None


def test_what_cannot_be_printed_is_no_piece() -> None:
    assert piece_on_tag(tag_text("W-014\x1b[2J")) is None
    assert piece_on_tag(tag_text("W\n014")) is None


def test_a_tag_without_a_piece_is_our_mistake() -> None:
    with pytest.raises(ValueError, match="piece"):
        tag_text(" ")
