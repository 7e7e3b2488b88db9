"""What a library knows completes what is typed."""

from dyeshade.library.library import Library
from dyeshade.work.known import KnownPiece, known_to, said_of_bath, said_of_piece


def test_names_and_codes_are_offered(workshop: Library) -> None:
    known = known_to(workshop)
    assert known.fibres == ("silk", "wool")
    assert known.mordants == ("alum",)
    assert known.dyestuffs == ("madder", "weld")
    assert known.substances == ("alum", "washing soda")
    assert known.pieces[0] == KnownPiece("W-001", "", "wool", "alum")
    assert known.baths[0] == known.last_bath == "bath-005"
    assert (known.next_piece, known.next_bath) == ("P-009", "bath-006")


def test_an_empty_library_offers_first_codes(library: Library) -> None:
    known = known_to(library)
    assert (known.next_piece, known.next_bath, known.last_bath) == ("P-001", "bath-001", "")
    assert not known.pieces


def test_what_is_unknown_is_none(workshop: Library) -> None:
    assert said_of_piece(workshop, "W-999") is None
    assert said_of_bath(workshop, "bath-999") is None


def test_a_piece_is_told_with_all_it_went_through(workshop: Library) -> None:
    said = said_of_piece(workshop, "w-001")
    assert said is not None
    assert (said.fibre, said.mordant, said.mordant_percent_wof) == ("wool", "alum", 12.0)
    assert said.bath == "bath-001"
    assert [one.kind for one in said.treatments] == ["mordant", "bath", "rinse"]
    assert said.treatments[-1].ph == 7.2
