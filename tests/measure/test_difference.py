"""Two photos of one sheet solved together: what is the same in both leaves their difference."""

from dataclasses import replace

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.measure.difference import difference_of, solve_alone, solve_pair
from dyeshade.measure.kept_signals import kept_signals
from dyeshade.measure.seen import signals_json
from tests.render.spectra import lab_of
from tests.studies.drift import LAYOUT, cloths_of, signal_pair
from tests.studies.photo_signals import without_colours

PAIR = 3


@pytest.fixture(scope="module")
def unmoved():
    return signal_pair(PAIR, look=False, same_light=False)


@pytest.fixture(scope="module")
def solved(unmoved):
    one, other = (solve_alone(kept, LAYOUT.paper_mm) for kept in unmoved)
    return one, other, solve_pair(one, other)


def differences(pair, first, second):
    names = sorted(set(first.samples) & set(second.samples))
    return [difference_of(pair, first.samples[n], second.samples[n], "window") for n in names]


def errors(told):
    return np.array([float(ciede2000(one.lab_from, one.lab_to)) for one in told])


def test_cloths_that_stayed_agree_on_a_sheet_with_colours(unmoved, solved):
    told = differences(solved[2], *unmoved)
    assert len(told) >= 4
    assert np.median(errors(told)) < 0.8
    assert all(one.colours >= 20 for one in told)


def test_without_colours_the_same_pair_is_less_sure(unmoved, solved):
    one, other = (
        replace(alone, kept=without_colours(alone.kept)) for alone in (solved[0], solved[1])
    )
    greys = differences(solve_pair(one, other), *unmoved)
    colours = differences(solved[2], *unmoved)
    assert all(told.colours == 0 for told in greys)
    for sure, unsure in zip(colours, greys, strict=True):
        assert np.trace(sure.covariance) < np.trace(unsure.covariance)


def test_what_a_cloth_has_for_itself_stays_however_many_photos_are_taken(unmoved, solved):
    for told in differences(solved[2], *unmoved):
        assert np.linalg.eigvalsh(told.lasting).min() > 0
        assert np.linalg.eigvalsh(told.covariance - told.lasting).min() > 0


def test_the_print_is_one_for_both_photos(solved):
    fits = solved[2].greys.fits
    np.testing.assert_array_equal(fits[0].print_departure, fits[1].print_departure)
    # Together the two photos are surer of their difference than the two alone.
    alone = [np.trace(fit.fit.covariance[:19, :19]) for fit in solved[:2]]
    own = len(solved[2].greys.covariance) // 2
    both = solved[2].greys.covariance
    assert np.trace(both[:19, :19]) + np.trace(both[own : own + 19, own : own + 19]) < sum(alone)


def test_a_fade_comes_out_as_it_was(solved):
    """Reflectance to the power of 0.85: the shape of the spectrum stays, the depth goes."""
    faded = signal_pair(PAIR, look=False, same_light=False, faded=0.85)[1]
    later = solve_alone(faded, LAYOUT.paper_mm)
    pair = solve_pair(solved[0], later)
    cloths = cloths_of(PAIR)
    true = lab_of(cloths**0.85) - lab_of(cloths)
    for k, cell in enumerate(LAYOUT.cells):
        first, second = (kept.samples.get(cell.name) for kept in pair.kept)
        if first is None or second is None:
            continue
        told = difference_of(pair, first, second, "window")
        left = told.lab_to - told.lab_from - true[k]
        assert float(ciede2000(told.lab_to, told.lab_to - left)) < 1.5
        assert left @ np.linalg.solve(told.covariance, left) < 16.3  # 1 in 1000 by chance


def test_a_colour_that_is_hidden_in_one_photo_does_no_harm(unmoved, solved):
    first, second = unmoved
    seen = second.patches.colours
    dark = seen.mean.copy()
    dark[5] *= 0.4
    hidden = replace(second, patches=replace(second.patches, colours=replace(seen, mean=dark)))
    pair = solve_pair(solved[0], replace(solved[1], kept=hidden))
    (plain, *_), (told, *_) = differences(solved[2], *unmoved), differences(pair, first, hidden)
    assert told.colours <= plain.colours - 1
    moved = (told.lab_to - told.lab_from) - (plain.lab_to - plain.lab_from)
    assert np.abs(moved).max() < 0.6


def test_greys_drawn_by_hand_or_too_few_are_not_solved(unmoved):
    by_hand = replace(unmoved[0], patches=replace(unmoved[0].patches, unit="px"))
    assert solve_alone(by_hand, LAYOUT.paper_mm) is None
    clipped = replace(unmoved[0].patches, clipped=np.ones(len(unmoved[0].patches.names)))
    assert solve_alone(replace(unmoved[0], patches=clipped), LAYOUT.paper_mm) is None


def test_sheets_of_two_kinds_and_raw_beside_jpeg_are_not_solved_together(solved):
    one, other, _ = solved
    patches = other.kept.patches
    for changed in (
        replace(patches, names=("another", *patches.names[1:])),
        replace(patches, rendered=False),
    ):
        kept = replace(other.kept, patches=changed)
        assert solve_pair(one, replace(other, kept=kept)) is None


def test_what_the_library_kept_gives_the_same_difference(unmoved, solved):
    back = [kept_signals(signals_json(one.patches, dict(one.samples))) for one in unmoved]
    one, other = (solve_alone(kept, LAYOUT.paper_mm) for kept in back)
    for stored, fresh in zip(
        differences(solve_pair(one, other), *back), differences(solved[2], *unmoved), strict=True
    ):
        np.testing.assert_allclose(stored.lab_to, fresh.lab_to, atol=0.05)
