"""What a card says under a swatch."""

from datetime import date

import pytest

from dyeshade.library.dye_records import WHICH_PH
from dyeshade.paper.shade_card import Card, CardDrift, CardDye
from dyeshade.words.shade_card import CARD_WORDS, missing_words
from tests.paper.cards import a_shade


def lines(**given) -> list[str]:
    return [line.replace("\xa0", " ") for line in CARD_WORDS.caption(a_shade(**given)).lines]


def test_a_shade_is_told_with_its_bath_and_how_sure_it_is():
    assert CARD_WORDS.caption(a_shade()).heading == "weld on wool"
    assert lines() == [
        "piece W-001",
        "weld tops, dried, 100 % wof",
        "wool, 4-ply yarn · alum 12 % wof",
        "pH 8.8 of the bath at end",
        "L* 78.0, a* −6.0, b* 61.0",
        "sure to about 2: just visible",
    ]


def test_what_was_not_written_down_is_not_made_up():
    bare = lines(dyes=(CardDye("weld"),), fibre="", fibre_make="", mordant="", ph=None)
    assert bare == [
        "piece W-001",
        "weld",
        "L* 78.0, a* −6.0, b* 61.0",
        "sure to about 2: just visible",
    ]
    assert lines(dyes=(), mordant_percent_wof=None)[1] == "wool, 4-ply yarn · alum"


def test_a_piece_without_a_name_is_called_by_its_code():
    caption = CARD_WORDS.caption(a_shade(name=""))
    assert caption.heading == "W-001"
    assert not any("piece" in line for line in caption.lines)


def test_what_came_before_and_after_the_last_bath_is_told():
    told = lines(
        dyes=(CardDye("madder", "root", "dried", 0.5), CardDye("weld", "", "", 0.255)),
        exhaust_number=2,
        earlier=(("walnut hull",), ()),
        afters=(("dip", "iron liquor"), ("afterbath", "")),
    )
    assert told[1:4] == [
        "madder root, dried, 50 % wof + weld, 25.5 % wof",
        "exhaust bath 2",
        "over walnut hull",
    ]
    assert told[5:7] == ["dip: iron liquor", "afterbath"]


@pytest.mark.parametrize("which", WHICH_PH)
def test_every_ph_is_named_by_what_it_was_read_of(which):
    (told,) = [line for line in lines(ph_which=which) if line.startswith("pH")]
    assert told.startswith("pH 8.8 of the ")


def test_a_wet_reading_is_called_wet_and_a_rounded_nought_has_no_minus():
    assert lines(state="wet", lab=(50.0, -0.04, 3.0))[-3:] == [
        "L* 50.0, a* 0.0, b* 3.0",
        "sure to about 2: just visible",
        "read wet",
    ]


def test_a_drift_is_told_where_it_is_more_than_the_measuring():
    since = date(2026, 3, 15)
    moved = CardDrift(since, 6.94, True, ("yellower", "redder"))
    assert lines(drift=moved)[-1] == "moved by ΔE00 6.9 since 15 March 2026: yellower and redder"
    assert lines(drift=CardDrift(since, 0.9, False))[-1] == "no move seen since 15 March 2026"


def test_the_foot_explains_only_what_is_on_the_card():
    assert len(CARD_WORDS.notes([a_shade()], Card())) == 1
    marked = CARD_WORDS.notes([a_shade(in_gamut=False)], Card(fibre_place=True))
    assert [note.split()[0] for note in marked] == ["L*,", "◊", "Whole"]
    assert "◊" in CARD_WORDS.short_caption(a_shade(in_gamut=False)).lines[0]


def test_characters_without_a_font_are_named():
    assert missing_words("हल") == "No font here has ह ल: a box stands for each on the card."
