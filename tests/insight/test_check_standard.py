"""The check standard warns when the set-up, not the piece, has moved."""

from datetime import timedelta

import numpy as np
import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.insight.check_standard import check_standard
from dyeshade.library.dye_records import Piece
from dyeshade.library.library import Library
from dyeshade.library.readings import keep_reading
from dyeshade.library.shade_records import KeptPhoto, SheetReading
from tests.library.workshop import DAY, a_reading


def measure(library, labs, sheets=None):
    with library.edit("sessions") as edit:
        piece = edit.add(Piece("TILE-1", "blue tile"))
        for k, lab in enumerate(labs):
            photo = edit.add(KeptPhoto(f"{k:064x}", ".jpg", f"{k}.jpg", "JPEG", DAY, "a camera"))
            serial = sheets[k] if sheets else "S-1"
            sheet = edit.add(SheetReading(photo, 1, "window", "A4", "six", serial))
            reading = a_reading(
                piece,
                photo_id=photo,
                sheet_reading_id=sheet,
                method_version=1,
                read=DAY + timedelta(days=7 * k),
                lab_l=lab[0],
                lab_a=lab[1],
                lab_b=lab[2],
            )
            keep_reading(edit, reading)


def calm(count):
    return np.array([40.0, 5.0, -30.0]) + np.random.default_rng(4).normal(size=(count, 3)) * 0.4


def test_a_set_up_that_stays_is_quiet(library: Library):
    measure(library, calm(14))
    found = check_standard(library, "tile-1")
    assert not found.warns
    assert (found.learning, len(found.sessions)) == (10, 14)
    assert [chart.centre for chart in found.charts] == pytest.approx([40, 5, -30], abs=0.5)
    assert all(session.changed == () for session in found.sessions)


def test_another_sheet_that_shifts_the_yellows_warns_and_is_named(library: Library):
    labs = calm(12)
    labs[-1, 2] += 4.0
    measure(library, labs, ["S-1"] * 11 + ["S-2"])
    found = check_standard(library, "TILE-1")
    assert found.warns
    assert ("b*", "beyond_limits") in found.sessions[-1].warnings
    assert {channel for channel, _ in found.sessions[-1].warnings} == {"b*"}
    assert found.sessions[-1].changed == ("sheet",)


def test_a_few_sessions_make_no_chart(library: Library):
    measure(library, calm(4))
    with pytest.raises(DyeshadeError, match="few_sessions"):
        check_standard(library, "TILE-1")
