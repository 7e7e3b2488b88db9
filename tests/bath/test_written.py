"""Lines as a dyer writes them down."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dyeshade.bath.pots import Pot
from dyeshade.bath.recipe import DyestuffShare, PieceInPot, SubstanceShare
from dyeshade.bath.substances import UsualRange
from dyeshade.bath.written import (
    DyestuffAtHand,
    parse_at_hand,
    parse_dyestuff,
    parse_piece,
    parse_pot,
    parse_substance,
    parse_usual,
    parse_yield,
)
from dyeshade.errors import DyeshadeError
from dyeshade.words.refusals import refusal_text

ALL = (
    parse_piece,
    parse_dyestuff,
    parse_substance,
    parse_usual,
    parse_at_hand,
    parse_yield,
    parse_pot,
)


def test_lines_are_read():
    assert parse_piece("wool 240 g") == PieceInPot("wool", 240)
    assert parse_piece("W-014: Merino 1,5 kg") == PieceInPot("wool", 1500, "W-014")
    assert parse_dyestuff("weld 2:1") == DyestuffShare("weld", 2.0, "dried")
    assert parse_dyestuff("dyer's chamomile fresh two to one") == DyestuffShare(
        "dyer's chamomile", 2.0, "fresh"
    )
    assert parse_dyestuff("cochineal 8 %") == DyestuffShare("cochineal", 0.08)
    assert parse_substance("cream of tartar 6 % on wool") == SubstanceShare(
        "cream of tartar", 0.06, "wool"
    )
    assert parse_substance("alum 15") == SubstanceShare("alum", 0.15)
    assert parse_substance("alum 15 % on protein").on == "protein"
    assert parse_usual("potash alum 8 to 12 % on silk") == UsualRange(
        "alum", "silk", 0.08, 0.12, own=True
    )
    assert parse_at_hand("weld fresh 1.5 kg") == DyestuffAtHand("weld", "fresh", 1500)
    assert parse_yield("weld dried 20 %") == DyestuffAtHand("weld", "dried", 0.2)
    assert parse_pot("enamel 10 L") == Pot(10, "enamel")
    assert parse_pot("10 L") == Pot(10)


@pytest.mark.parametrize(
    ("parse", "text", "code"),
    [
        (parse_piece, "240 g", "line_incomplete"),
        (parse_piece, "wool", "line_incomplete"),
        (parse_piece, "wol 240 g", "fibre_unknown"),
        (parse_piece, "wool -240 g", "quantity_negative"),
        (parse_piece, "wool 12 lbb", "quantity_unit_unknown"),
        (parse_dyestuff, "2:1", "line_incomplete"),
        (parse_dyestuff, "weld 2:0", "ratio_bad"),
        (parse_dyestuff, "weld 0:1", "quantity_zero"),
        (parse_substance, "alum 15 % on stone", "fibre_unknown"),
        (parse_substance, "alum -3 %", "quantity_negative"),
        (parse_usual, "alum 8 %", "line_incomplete"),
        (parse_yield, "weld dried 120 %", "yield_above_all"),
        (parse_pot, "0 L", "quantity_zero"),
        (parse_pot, "tin 10 L", "pot_material_unknown"),
        (parse_pot, "ten litres", "quantity_no_number"),
    ],
)
def test_what_cannot_be_read_is_refused_in_a_sentence(parse, text, code):
    with pytest.raises(DyeshadeError) as raised:
        parse(text)
    assert raised.value.code == code
    assert refusal_text(raised.value).endswith(".")


@given(st.text("weldaium 0123456789.,:%-/½gkL to on", max_size=25), st.sampled_from(ALL))
def test_whatever_is_written_is_read_or_refused_in_a_sentence(text, parse):
    try:
        parse(text)
    except DyeshadeError as error:
        told = refusal_text(error)
    else:
        told = "."
    assert told.endswith(".")
