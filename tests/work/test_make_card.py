"""A shade card from the library says of each shade what its bath was."""

from datetime import date, timedelta
from io import BytesIO

import colour
import pypdf
import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import Piece, Treatment
from dyeshade.library.find import ShadeQuery, find_shades
from dyeshade.library.pieces import add_piece
from dyeshade.library.readings import keep_reading
from dyeshade.library.treatments import add_treatment
from dyeshade.paper.shade_card import Card
from dyeshade.words.shade_card import CARD_WORDS
from dyeshade.work.make_card import card_shades, make_card, once_each
from tests.library.workshop import DAY, a_reading


def words_of(path) -> str:
    document = pypdf.PdfReader(BytesIO(path.read_bytes()))
    return "\n".join(page.extract_text() for page in document.pages).replace("\xa0", " ")


def test_shades_of_one_dyestuff_make_a_card(workshop, tmp_path):
    out = tmp_path / "card.pdf"
    query = ShadeQuery(dyestuff="weld", ph_least=7.5, ph_most=9.5, ph_which="bath_end")
    made = make_card(workshop, query, "hue", Card("Weld", "Hollow Weir"), out, CARD_WORDS)
    assert (made.shades, made.pages, made.missing) == (2, 1, "")
    told = words_of(out)
    for expected in (
        "W-005",
        "S-006",
        "weld tops, dried, 100 % wof",
        "wool, 4-ply yarn · alum 12 % wof",
        "L* 78.0, a* −6.0, b* 61.0",
        "sure to about 2: just visible",
    ):
        assert expected in told
    assert "W-007" not in told


def test_the_ph_on_the_card_is_the_one_that_acted_last(workshop):
    (found,) = find_shades(workshop, ShadeQuery(piece="W-001"))
    (shade,) = card_shades(workshop, [found.reading.id])
    # The piece was rinsed at pH 7.2 after its bath, see the invented workshop.
    assert (shade.ph, shade.ph_which) == (7.2, "rinse")


def test_an_exhaust_bath_is_named_as_one(workshop):
    (shade,) = card_shades(workshop, ShadeQuery(piece="W-008"))
    assert shade.exhaust_number == 1
    assert "exhaust bath 1" in CARD_WORDS.caption(shade).lines


def test_shades_chosen_by_hand_keep_their_order(workshop):
    ids = [found.reading.id for found in find_shades(workshop)][::-1]
    codes = [shade.piece for shade in card_shades(workshop, ids)]
    assert codes == [f.history.piece.code for f in find_shades(workshop)][::-1]


def test_a_piece_read_again_tells_how_it_moved(workshop):
    (first,) = find_shades(workshop, ShadeQuery(piece="W-001"))
    later = DAY + timedelta(days=90)
    with workshop.edit("again") as edit:
        # L* 4 higher and else the same: by CIEDE2000 between L* 78 and 82, colour-science.
        keep_reading(edit, a_reading(first.reading.piece_id, read=later, lab_l=82.0))
    before, after = card_shades(workshop, ShadeQuery(piece="W-001"))
    assert before.drift is None
    expected = colour.difference.delta_E_CIE2000([78.0, -6.0, 61.0], [82.0, -6.0, 61.0])
    assert after.drift.delta_e == pytest.approx(expected, abs=1e-6)
    assert (after.drift.since, after.drift.ways) == (date(2026, 3, 3), ("lighter",))


def test_each_piece_comes_once_as_it_was_read_last_and_dry(workshop):
    (first,) = find_shades(workshop, ShadeQuery(piece="W-001"))
    with workshop.edit("again") as edit:
        for days, state in ((40, "dry"), (90, "wet")):
            later = DAY + timedelta(days=days)
            keep_reading(edit, a_reading(first.reading.piece_id, read=later, state=state))
        # A tile that is measured each time has neither fibre nor bath.
        keep_reading(edit, a_reading(add_piece(edit, Piece("TILE-1"))))
    everything = find_shades(workshop)
    chosen = once_each(everything)
    assert (len(everything), len(chosen)) == (11, 8)
    (own,) = [one for one in chosen if one.history.piece.code == "W-001"]
    assert own.reading.read == DAY + timedelta(days=40)


def test_a_piece_that_lay_in_light_tells_its_grade(workshop):
    (first,) = find_shades(workshop, ShadeQuery(piece="W-001"))
    began, later = DAY + timedelta(days=3), DAY + timedelta(days=90)
    with workshop.edit("light") as edit:
        piece = first.reading.piece_id
        light = add_treatment(edit, Treatment(piece, "light", started=began))
        faded = a_reading(
            piece, read=later, state="after_light", after_treatment_id=light, lab_b=51.0
        )
        keep_reading(edit, faded)
    shades = card_shades(workshop, ShadeQuery(dyestuff="weld"), all_readings=False)
    (own,) = [shade for shade in shades if shade.fastness]
    assert (own.piece, own.fastness[0].kind) == ("W-001", "light")
    # ISO 105-A05 by hand from L* 78, a* -6, b* 61 to b* 51: C*ab falls by 9.94, h by 1.1 degrees;
    # D = 9.9 of chroma damped by 1 + (0.02 C_M)^2 = 2.27 gives dE_F 4.4, grade 2 to 3.
    assert own.fastness[0].half in ("2", "2-3", "3")
    assert f"light: grade {own.fastness[0].half}" in "\n".join(
        CARD_WORDS.caption(own).lines
    ).replace("\xa0", " ")
    assert any("ISO 105-A02" in note for note in CARD_WORDS.notes(shades, Card()))


def test_what_else_is_known_stands_with_its_shade(workshop):
    found = find_shades(workshop)
    known = {found[1].reading.id: ["light fastness 5 (blue wool)"]}
    shades = card_shades(workshop, [one.reading.id for one in found[:3]], known=known)
    assert [bool(shade.notes) for shade in shades] == [False, True, False]
    assert CARD_WORDS.caption(shades[1]).lines[-1] == "light fastness 5 (blue wool)"


def test_a_card_without_shades_is_not_made(workshop, tmp_path):
    out = tmp_path / "card.pdf"
    with pytest.raises(DyeshadeError) as told:
        make_card(workshop, ShadeQuery(dyestuff="woad"), "given", Card(), out, CARD_WORDS)
    assert told.value.code == "no_shades"
    assert not out.exists()


def test_a_shade_that_another_window_removed_is_told(workshop, tmp_path):
    with pytest.raises(DyeshadeError) as told:
        make_card(workshop, [1, 999], "given", Card(), tmp_path / "card.pdf", CARD_WORDS)
    assert (told.value.code, told.value.facts["id"]) == ("record_gone", 999)
