"""Which readings show a piece as it was dyed."""

from datetime import timedelta

from dyeshade.insight.as_dyed import as_dyed
from dyeshade.library.dye_records import Treatment
from dyeshade.library.find import ShadeQuery, find_shades
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading
from dyeshade.library.treatments import add_treatment
from tests.library.workshop import DAY, a_reading


def test_later_washed_and_faded_readings_are_left_out(workshop: Library):
    piece = find_piece(workshop, "W-001").id
    with workshop.edit("later") as edit:
        wash = Treatment(piece, "wash", started=DAY + timedelta(days=20))
        add_treatment(edit, wash)
        for sample, days, state in (
            ("soon", 5, "dry"),
            ("wet", 1, "wet"),
            ("months later", 15, "dry"),
            ("exposed", 3, "after_light"),
            ("washed", 21, "after_wash"),
            ("washed, called dry", 22, "dry"),
        ):
            read = DAY + timedelta(days=days)
            keep_reading(edit, a_reading(piece, sample=sample, state=state, read=read))
    found = as_dyed(find_shades(workshop, ShadeQuery(piece="W-001")))
    assert [one.reading.sample for one in found] == ["wet", "A1", "soon"]


def test_a_dip_begins_anew(workshop: Library):
    piece = find_piece(workshop, "W-001").id
    with workshop.edit("dip") as edit:
        dip = Treatment(piece, "dip", started=DAY + timedelta(days=20))
        add_treatment(edit, dip, ph=3.5)
        for sample, days in (("dipped", 21), ("again", 22)):
            keep_reading(edit, a_reading(piece, sample=sample, read=DAY + timedelta(days=days)))
    found = as_dyed(find_shades(workshop, ShadeQuery(piece="W-001")))
    assert [one.reading.sample for one in found] == ["A1", "dipped", "again"]
