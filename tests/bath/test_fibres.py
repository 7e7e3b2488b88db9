"""Kinds of fibre."""

import pytest

from dyeshade.bath.ceilings import FIBRES
from dyeshade.bath.fibres import FIBRE_KINDS, find_fibre, guess_fibre, is_on
from dyeshade.errors import DyeshadeError


def test_fibres_are_found_by_the_names_that_dyers_use():
    assert find_fibre(" Merino ").name == "wool"
    assert find_fibre("flax").group == "cellulose"
    with pytest.raises(DyeshadeError) as raised:
        find_fibre("woool")
    assert raised.value.facts["near"] == "wool"


def test_what_goes_on_a_fibre():
    assert is_on("", "ramie")
    assert is_on("cellulose", "ramie")
    assert is_on("flax", "linen")
    assert not is_on("wool", "silk")
    assert not is_on("protein", "cotton")


def test_a_fibre_is_guessed_from_a_label_unless_it_names_two():
    assert guess_fibre("Merino roving, undyed").name == "wool"
    assert guess_fibre("organic cotton voile").name == "cotton"
    assert guess_fibre("50 % wool, 50 % silk") is None
    assert guess_fibre("polyester") is None


def test_every_fibre_has_a_ph_that_it_bears():
    assert {kind.bears_as for kind in FIBRE_KINDS} == set(FIBRES)
