"""Which cautions a bath calls for."""

import pytest

from dyeshade.bath.amounts import plan_bath
from dyeshade.bath.hazards import cautions_for, vinegar_cautions
from dyeshade.bath.recipe import DyestuffShare, PieceInPot, Recipe, SubstanceShare
from dyeshade.errors import DyeshadeError
from dyeshade.words.cautions import caution_text

ALWAYS = {
    "caution_comes_first",
    "caution_hot_liquor",
    "caution_not_for_food",
    "caution_disposal",
}


def told(*substances, form="dried", **told_of_it):
    shares = tuple(SubstanceShare(name, 0.1) for name in substances)
    recipe = Recipe((DyestuffShare("weld", 1.0, form),), shares)
    plan = plan_bath((PieceInPot("wool", 100),), recipe)
    found = [notice.code for notice in cautions_for(plan, **told_of_it)]
    assert len(found) == len(set(found))
    return set(found) - ALWAYS


def test_what_always_holds_is_always_said_and_the_safety_sheet_comes_first():
    plan = plan_bath((PieceInPot("wool", 100),), Recipe((DyestuffShare("weld", 1.0),)))
    notices = cautions_for(plan)
    assert {notice.code for notice in notices} == ALWAYS
    assert "safety data sheet" in caution_text(notices[0])
    assert notices[0].code == "caution_comes_first"


@pytest.mark.parametrize(
    ("substances", "own"),
    [
        (["alum"], {"caution_mordants", "caution_dust"}),
        (["ferrous sulphate"], {"caution_mordants", "caution_dust", "caution_iron"}),
        (["copper"], {"caution_mordants", "caution_dust", "caution_copper"}),
        (["tin"], {"caution_mordants", "caution_dust", "caution_tin"}),
        (["chalk"], {"caution_dust"}),
    ],
)
def test_mordants_bring_their_own_cautions(substances, own):
    assert told(*substances, material="stainless steel") == own


def test_soda_in_an_aluminium_pot_is_warned_of_unless_the_pot_is_known_to_be_another():
    assert "caution_aluminium_pot" in told("soda ash")
    assert "caution_aluminium_pot" in told("soda ash", material="aluminium")
    assert "caution_aluminium_pot" not in told("soda ash", material="enamel")
    assert "caution_pot_reacts" in told("alum", material="iron")


def test_lye_burns_and_acid_foams_in_soda():
    assert {"caution_caustic", "caution_alkali"} <= told("lye")
    assert "caution_foam" in told("soda ash", added=["vinegar"])
    assert "caution_foam" not in told("vinegar")


def test_what_is_gathered_or_fresh_is_warned_of():
    assert told(foraged=True) == {"caution_foraged"}
    assert told(form="fresh") == {"caution_foraged"}
    assert told(form="extract") == {"caution_dust"}


def test_chrome_cannot_be_added_later_either():
    with pytest.raises(DyeshadeError):
        told(added=["chrome"])


def test_soda_foams_in_alum_too():
    assert "caution_foam" in told("alum", "soda ash")
    assert "caution_foam" in told("alum", added=["baking soda"])
    assert "caution_foam" not in told("alum")


@pytest.mark.parametrize(
    "written", ["Potassium bichromate", "sodium dichromate", "chrome mordant", "chromium(III) salt"]
)
def test_chrome_is_refused_under_whatever_name(written):
    with pytest.raises(DyeshadeError) as caught:
        told(added=[written])
    assert caught.value.code == "mordant_not_supported"


@pytest.mark.parametrize(
    ("percents", "burns"), [([5.0, None], False), ([24.9], False), ([5.0, 25.0], True), ([], False)]
)
def test_vinegar_burns_skin_from_a_quarter_of_acid_on(percents, burns):
    # Regulation (EC) 1272/2008, Annex VI, 607-002-00-6: Skin Corr. 1B from 25 % (from memory).
    assert [one.code for one in vinegar_cautions(percents)] == ["caution_strong_vinegar"] * burns
