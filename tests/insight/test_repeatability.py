"""How well a dyer repeats, on invented baths whose spreads are known."""

from datetime import timedelta

import numpy as np
import pytest
from scipy.stats import chi2

from dyeshade.errors import DyeshadeError
from dyeshade.insight.metric import metric_at, root_of
from dyeshade.insight.repeatability import find_repeatability, limit_of
from dyeshade.library.find import ShadeQuery
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading
from tests.library.workshop import DAY, WOOL, a_bath, a_dyed_piece, a_reading

MIDDLE = np.array([78.0, -6.0, 61.0])
# One step of CIEDE2000 in each of three directions, as Lab.
STEP = np.linalg.inv(root_of(metric_at(MIDDLE)))


def dye(library, baths, pieces, readings, spreads, seed=1):
    random = np.random.default_rng(seed)
    with library.edit("repeats") as edit:
        for bath in range(baths):
            bath_id = a_bath(edit, f"bath-{bath + 1:03d}", 7.0)
            of_bath = random.normal(size=3) * spreads[0]
            for piece in range(pieces):
                of_piece = of_bath + random.normal(size=3) * spreads[1]
                code = f"W-{bath * 10 + piece + 100}"
                for number in range(readings):
                    lab = MIDDLE + STEP @ (of_piece + random.normal(size=3) * spreads[2])
                    values = {f"lab_{k}": float(v) for k, v in zip("lab", lab, strict=True)}
                    if number == 0:
                        a_dyed_piece(edit, code, WOOL, bath_id, **values)
                    else:
                        again = DAY + timedelta(days=2, hours=number)
                        piece_id = find_piece(edit, code).id
                        reading = a_reading(piece_id, sample=f"B{number}", read=again, **values)
                        keep_reading(edit, reading)


def test_the_three_spreads_are_told_apart(library: Library):
    dye(library, baths=25, pieces=3, readings=2, spreads=(1.0, 0.5, 0.25))
    found = find_repeatability(library)
    assert found.between_baths.sd == pytest.approx(1.0, rel=0.2)
    assert found.between_pieces.sd == pytest.approx(0.5, rel=0.2)
    assert found.measuring.sd == pytest.approx(0.25, rel=0.2)
    assert not found.measuring.stated
    (group,) = found.groups
    assert (len(group.reading_ids), group.pieces, group.baths) == (150, 75, 25)
    whole = np.sqrt(1.0 + 0.25 + 0.0625)
    assert found.intermediate_precision == pytest.approx(whole, rel=0.15)
    assert found.limit_measuring < found.limit_pieces < found.limit_baths


def test_the_smallest_claim_is_what_two_baths_stay_within_95_times_in_100():
    # ISO 5725-6 has 1.96 x sqrt(2) = 2.8 standard deviations for a single number; a shade has three
    # numbers, so the chi distribution with 3 degrees of freedom takes the place of 1.96.
    random = np.random.default_rng(3)
    apart = np.linalg.norm(
        random.normal(size=(200_000, 3)) - random.normal(size=(200_000, 3)), axis=1
    )
    assert np.quantile(apart, 0.95) == pytest.approx(limit_of(1.0), rel=0.01)
    assert limit_of(1.0) == pytest.approx(np.sqrt(2 * chi2.ppf(0.95, 3)))


def test_without_a_second_reading_of_a_piece_the_photos_uncertainty_stands_in(workshop: Library):
    with workshop.edit("again") as edit:
        for k, lightness in enumerate((77.0, 79.5)):
            bath = a_bath(edit, f"bath-02{k}", 7.1)
            a_dyed_piece(edit, f"W-02{k}", WOOL, bath, lab_l=lightness)
    found = find_repeatability(workshop, ShadeQuery(fibre="wool", dyestuff="weld"))
    assert found.measuring.stated
    assert found.measuring.sd == pytest.approx(found.stated_measuring)
    assert found.between_pieces is None
    assert found.between_baths.sd > 0.3
    assert found.groups[0].baths == 3


def test_what_a_piece_went_through_later_is_no_repeat(library: Library):
    dye(library, baths=2, pieces=2, readings=1, spreads=(1.0, 0.5, 0.25))
    piece = find_piece(library, "W-100").id
    with library.edit("later") as edit:
        late = a_reading(piece, sample="B1", lab_l=40.0, read=DAY + timedelta(days=200))
        keep_reading(edit, late)
        keep_reading(edit, a_reading(piece, sample="wet", lab_l=40.0, state="wet"))
    (group,) = find_repeatability(library).groups
    assert len(group.reading_ids) == 4


def test_other_conditions_are_no_repeats(workshop: Library):
    with pytest.raises(DyeshadeError, match="no_repeats"):
        find_repeatability(workshop)
