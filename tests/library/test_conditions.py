"""When two shades come from equal conditions, and when they only nearly do."""

from dataclasses import replace

import pytest

from dyeshade.library.conditions import (
    BathConditions,
    Dye,
    DyeBath,
    Tolerance,
    are_repeats,
    repeat_groups,
)

WELD = Dye("weld", "tops", "dried", 1.0)
MADDER = Dye("madder", "root", "dried", 0.5)


def dyed(ph: float | None = 7.0, which: str = "bath_end", **given: object) -> BathConditions:
    plain = BathConditions(
        "wool",
        "alum",
        12.0,
        (DyeBath("bath", (WELD,), 0),),
        (),
        () if ph is None else ((which, ph),),
        None if ph is None else which,
    )
    return replace(plain, **given)  # type: ignore[arg-type]


def in_bath(*dyes: Dye, exhaust: int = 0) -> BathConditions:
    return dyed(baths=(DyeBath("bath", dyes, exhaust),))


@pytest.mark.parametrize(
    "other",
    [
        dyed(),
        dyed(7.25),
        dyed(fibre="  Wool "),
        dyed(mordant_percent_wof=12.5),
        in_bath(replace(WELD, ratio=1.1)),
    ],
)
def test_these_are_repeats(other: BathConditions):
    assert are_repeats(dyed(), other)
    assert are_repeats(other, dyed())


@pytest.mark.parametrize(
    "other",
    [
        dyed(7.3),
        dyed(7.0, "bath_start"),
        dyed(None),
        dyed(fibre="silk"),
        dyed(mordant=""),
        dyed(mordant_percent_wof=None),
        dyed(mordant_percent_wof=15.0),
        in_bath(WELD, exhaust=1),
        in_bath(replace(WELD, form="fresh")),
        in_bath(replace(WELD, part="leaf")),
        in_bath(replace(WELD, ratio=1.2)),
        in_bath(replace(WELD, ratio=None)),
        in_bath(WELD, MADDER),
        dyed(baths=()),
        dyed(baths=(DyeBath("bath", (MADDER,), 0), DyeBath("overdye", (WELD,), 0))),
        dyed(afters=(("afterbath", "iron"),)),
    ],
)
def test_these_are_no_repeats(other: BathConditions):
    assert not are_repeats(dyed(), other)
    assert not are_repeats(other, dyed())


def test_dyestuffs_of_one_bath_have_no_order():
    assert are_repeats(in_bath(WELD, MADDER), in_bath(MADDER, WELD))


def test_a_dip_at_one_ph_does_not_make_equal_what_was_dyed_at_two():
    def dipped(bath_ph: float) -> BathConditions:
        return dyed(
            ph_values=(("bath_end", bath_ph), ("after", 3.5)),
            acted="after",
            afters=(("dip", "vinegar"),),
        )

    assert are_repeats(dipped(5.0), dipped(5.1))
    assert not are_repeats(dipped(5.0), dipped(9.0))


def test_what_nobody_read_agrees_with_what_nobody_read():
    assert are_repeats(dyed(None), dyed(None))


def test_a_stricter_dyer_has_fewer_repeats():
    assert not are_repeats(dyed(7.0), dyed(7.2), Tolerance(ph=0.1))


def test_a_ph_series_in_small_steps_is_not_one_group():
    series = [(step, dyed(5.0 + 0.2 * step)) for step in range(10)]
    groups = repeat_groups(series)
    assert sorted(map(sorted, groups)) == [[0, 1], [2, 3], [4, 5], [6, 7], [8, 9]]


def test_groups_do_not_depend_on_the_order_of_reading():
    series = [(step, dyed(5.0 + 0.1 * step)) for step in range(9)]
    fibres = [(100 + step, dyed(5.0, fibre="silk")) for step in range(2)]
    forward = repeat_groups(series + fibres)
    backward = repeat_groups(fibres[::-1] + series[::-1])
    assert sorted(map(sorted, forward)) == sorted(map(sorted, backward))
    assert len(forward[0]) == max(map(len, forward))
