"""Baths as a dyer says them: made, found again, filled in, never overwritten."""

from dataclasses import replace

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.baths import find_bath
from dyeshade.library.dye_records import DyestuffLot
from dyeshade.library.library import Library
from dyeshade.work.keep_baths import BathsSaid
from dyeshade.work.known import exhaust_after, said_of_bath
from dyeshade.work.said import SaidAddition, SaidBath, SaidDye
from tests.library.workshop import dump

WELD = SaidBath(
    "bath-001",
    (SaidDye("weld", "tops", "fresh", 2.0, "Hollow Weir garden"), SaidDye("madder")),
    water="rain water",
    vessel="steel pot",
    liquor_ratio=30.0,
    temperature_c=80.0,
    minutes=60.0,
    additions=(SaidAddition("washing soda", 2.0, "g", 8.4),),
    phs=(("extraction", 6.5), ("bath_end", 8.1)),
)


def keep(library: Library, *said: SaidBath) -> list[str]:
    with library.edit("keep") as edit:
        baths = BathsSaid(edit, said)
        baths.keep_all()
    return baths.new


def test_a_bath_is_kept_as_it_was_said(library: Library) -> None:
    assert keep(library, WELD) == ["bath-001"]
    said = said_of_bath(library, "BATH-001")
    assert said is not None
    # The pH at the start is the one after the last addition.
    assert dict(said.phs) == {"extraction": 6.5, "bath_start": 8.4, "bath_end": 8.1}
    dyes = (WELD.dyes[0], SaidDye("madder", form="dried"))
    assert replace(said, phs=WELD.phs) == replace(WELD, dyes=dyes)


def test_said_again_it_changes_nothing(library: Library) -> None:
    keep(library, WELD)
    before = dump(library)
    said = said_of_bath(library, "bath-001")
    assert said is not None
    assert keep(library, WELD) == keep(library, said) == keep(library, SaidBath("bath-001")) == []
    assert dump(library) == before


def test_blanks_are_filled(library: Library) -> None:
    keep(library, SaidBath("bath-001"))
    keep(library, replace(WELD, dyes=(SaidDye("weld"), SaidDye("madder"))))
    more = (replace(WELD.dyes[0], form="dried"), SaidDye("Madder", ratio=0.5))
    keep(library, replace(WELD, dyes=more))
    said = said_of_bath(library, "bath-001")
    assert said is not None
    assert said.dyes == (more[0], SaidDye("madder", "", "dried", 0.5))
    assert said.additions == WELD.additions


def test_a_lot_that_gets_its_part_stays_as_it_was_for_other_baths(library: Library) -> None:
    keep(library, SaidBath("a", (SaidDye("weld"),)), SaidBath("b", (SaidDye("weld"),)))
    assert len(library.where(DyestuffLot)) == 1
    keep(library, SaidBath("a", (SaidDye("weld", "tops"),)))
    parts = [said_of_bath(library, code).dyes[0].part for code in ("a", "b")]
    assert parts == ["tops", ""]


@pytest.mark.parametrize(
    ("what", "otherwise"),
    [
        ("dyestuff", {"dyes": (SaidDye("weld"),)}),
        ("form", {"dyes": (SaidDye("weld", form="dried"), SaidDye("madder"))}),
        ("ratio", {"dyes": (SaidDye("weld", ratio=1.0), SaidDye("madder"))}),
        ("vessel", {"vessel": "copper pot"}),
        ("pH (bath_end)", {"phs": (("bath_end", 7.0),)}),
        ("pH (bath_start)", {"phs": (("bath_start", 7.0),)}),
        ("amount added", {"additions": (SaidAddition("washing soda", 3.0, "g"),)}),
        ("exhaust number", {"exhaust_of": "bath-000"}),
    ],
)
def test_what_is_kept_otherwise_is_refused(
    library: Library, what: str, otherwise: dict[str, object]
) -> None:
    keep(library, WELD)
    keep(library, SaidBath("bath-002", exhaust_of="bath-001"))
    keep(library, SaidBath("bath-003", exhaust_of="bath-002"))
    code = "bath-003" if "exhaust_of" in otherwise else "bath-001"
    before = dump(library)
    with pytest.raises(DyeshadeError) as refused:
        keep(library, SaidBath(code, **otherwise))
    assert refused.value.code == "bath_said_otherwise"
    assert refused.value.facts["what"] == what
    assert dump(library) == before


def test_an_exhaust_bath_has_the_dyes_of_its_first(library: Library) -> None:
    second = SaidBath("bath-002", exhaust_of="bath-001")
    third = SaidBath("bath-003", exhaust_of="bath-002")
    # In any order: a bath is made when the first that needs it is.
    assert keep(library, third, second, WELD) == ["bath-001", "bath-002", "bath-003"]
    said = said_of_bath(library, "bath-003")
    assert said is not None
    assert [dye.name for dye in said.dyes] == ["weld", "madder"]
    offered = exhaust_after(library, "bath-003")
    assert (offered.code, offered.exhaust_of) == ("bath-004", "bath-003")
    keep(library, offered)
    assert library.value("SELECT exhaust_number FROM bath WHERE code = 'bath-004'") == 3


def test_a_bath_cannot_exhaust_itself(library: Library) -> None:
    with pytest.raises(DyeshadeError) as refused:
        keep(library, SaidBath("a", exhaust_of="b"), SaidBath("b", exhaust_of="A"))
    assert refused.value.code == "bath_exhausts_itself"


def test_a_bath_described_twice_is_our_mistake(library: Library) -> None:
    with pytest.raises(ValueError, match="twice"):
        keep(library, SaidBath("a"), SaidBath("A"))


def test_two_kept_baths_cannot_exhaust_each_other(library: Library) -> None:
    keep(library, WELD, SaidBath("bath-002", exhaust_of="bath-001"))
    before = dump(library)
    with pytest.raises(DyeshadeError) as caught:
        keep(library, SaidBath("bath-001", exhaust_of="bath-002"))
    assert caught.value.code == "bath_exhausts_itself"
    assert dump(library) == before


def test_exhaust_baths_are_counted_on_when_their_first_turns_out_to_be_one(
    library: Library,
) -> None:
    keep(library, WELD, SaidBath("bath-002"), SaidBath("bath-003", exhaust_of="bath-002"))
    keep(library, SaidBath("bath-002", exhaust_of="bath-001"))
    numbers = [find_bath(library, f"bath-00{k}").exhaust_number for k in (1, 2, 3)]
    assert numbers == [0, 1, 2]
