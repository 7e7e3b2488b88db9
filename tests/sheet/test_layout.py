"""What a dyer, a printer and a reader of light need of the reference sheet."""

from itertools import combinations, pairwise, product

import numpy as np
import pytest

from dyeshade.sheet.layout import Box, Layout, build_layout, grey_levels, paper_spots, print_value

KINDS = list(product(("A4", "Letter"), ("six", "one"), (False, True)))
SIDES = ("top", "right", "bottom", "left")


@pytest.fixture(params=KINDS, ids=lambda kind: "-".join(map(str, kind)))
def layout(request) -> Layout:
    return build_layout(*request.param)


def mark_boxes(layout: Layout) -> list[Box]:
    return [Box("mark", m.x_mm, m.y_mm, m.size_mm, m.size_mm) for m in layout.marks]


def printed(layout: Layout) -> list[Box]:
    return [
        *layout.patches,
        *layout.colours,
        *layout.texts,
        layout.serial_code,
        *mark_boxes(layout),
    ]


def lightness(reflectance: float) -> float:
    """L* of a luminance factor above 0.009 (CIE 15:2018, 8.2.1.1)."""
    return 116 * reflectance ** (1 / 3) - 16


def side_of(layout: Layout, side: str) -> list[Box]:
    return [patch for patch in layout.patches if patch.name.startswith(side)]


def test_cells_take_a_wound_skein_or_a_whole_one(layout):
    count, width, height = {"six": (6, 45, 60), "one": (1, 120, 180)}[layout.cells_kind]
    assert len(layout.cells) == count
    assert all(cell.w_mm >= width and cell.h_mm >= height for cell in layout.cells)
    assert [cell.name for cell in layout.cells] == list("ABCDEF"[:count])


def test_paper_sizes_are_those_of_the_standards():
    # ISO 216:2007, A4; ANSI/ASME Y14.1, size A: 8.5 by 11 inches of 25.4 mm.
    assert build_layout("A4", "six", False).paper_mm == (210.0, 297.0)
    assert build_layout("Letter", "six", False).paper_mm == pytest.approx((8.5 * 25.4, 11 * 25.4))


def test_the_same_greys_stand_on_all_four_sides(layout):
    for side in SIDES:
        levels = sorted((patch.reflectance for patch in side_of(layout, side)), reverse=True)
        assert tuple(levels) == grey_levels()
    middle = np.array(layout.paper_mm) / 2
    reach = {side: np.mean([p.centre for p in side_of(layout, side)], axis=0) for side in SIDES}
    assert reach["top"][1] < middle[1] / 5
    assert reach["bottom"][1] > middle[1] * 9 / 5
    assert reach["left"][0] < middle[0] / 5
    assert reach["right"][0] > middle[0] * 9 / 5


def test_greys_run_evenly_in_lightness_from_near_paper_to_full_ink():
    levels = grey_levels()
    steps = -np.diff([lightness(level) for level in levels])
    assert len(levels) >= 7
    assert steps == pytest.approx(np.full(len(steps), steps.mean()), abs=0.3)
    assert lightness(levels[0]) == pytest.approx(90, abs=0.2)
    assert levels[-1] == 0.035


def test_greys_are_whole_eight_bit_values():
    coded = 255 * np.array([print_value(level) for level in grey_levels()])
    assert coded == pytest.approx(np.round(coded), abs=2e-3)
    assert coded[-1] == 0


def test_light_that_falls_off_along_a_side_is_no_ramp_of_greys(layout):
    for side in SIDES:
        patches = side_of(layout, side)
        level = np.array([lightness(patch.reflectance) for patch in patches])
        along = np.array([patch.centre[0 if side in ("top", "bottom") else 1] for patch in patches])
        along -= along.mean()
        assert abs(np.corrcoef(level, along)[0, 1]) < 0.05
        assert abs(np.corrcoef(level, along**2)[0, 1]) < 0.05


def test_no_two_sides_have_their_greys_in_one_order(layout):
    def order(side: str) -> tuple[float, ...]:
        axis = 0 if side in ("top", "bottom") else 1
        patches = sorted(side_of(layout, side), key=lambda patch: patch.centre[axis])
        return tuple(patch.reflectance for patch in patches)

    orders = [order(side) for side in SIDES]
    for one, two in combinations(orders, 2):
        assert sum(a == b for a, b in zip(one, two, strict=True)) <= 3


def test_greys_are_large_and_lie_away_from_cells(layout):
    for patch in layout.patches:
        assert min(patch.w_mm, patch.h_mm) >= 9
        assert all(patch.apart_mm(cell) >= 10 for cell in layout.cells)


def test_paper_shows_between_all_that_is_printed(layout):
    squares = [*layout.patches, *layout.colours, *mark_boxes(layout), layout.serial_code]
    for one, two in combinations(squares, 2):
        assert one.apart_mm(two) >= 2
    for one, two in combinations(layout.texts, 2):
        assert one.apart_mm(two) > 0.5


def test_printers_reach_all_that_is_printed(layout):
    width, height = layout.paper_mm
    for box in [*printed(layout), *layout.cells]:
        low, high = box.corners.min(axis=0), box.corners.max(axis=0)
        assert low.min() >= 5
        assert high[0] <= width - 5
        assert high[1] <= height - 5


def test_nothing_is_printed_in_a_cell(layout):
    for box, cell in product(printed(layout), layout.cells):
        assert box.apart_mm(cell) >= 2, box.name


def test_marks_keep_a_quiet_zone_of_more_than_a_module(layout):
    others = [*layout.patches, *layout.colours, *layout.texts, layout.serial_code, *layout.cells]
    for mark in mark_boxes(layout):
        assert 11 <= mark.w_mm <= 14
        assert all(mark.apart_mm(other) > 1.2 * mark.w_mm / 7 for other in others)


def test_a_piece_across_the_sheet_leaves_marks_on_both_sides_of_it(layout):
    assert 10 <= len(layout.marks) <= 16
    places = np.array([mark.centre for mark in mark_boxes(layout)]) / layout.paper_mm
    for axis in (0, 1):
        for start in (0.0, 1 / 3, 2 / 3):
            hidden = (places[:, axis] >= start) & (places[:, axis] <= start + 1 / 3)
            seen = places[~hidden]
            assert len(seen) >= 8
            # Four marks on one line would not tell a tilt.
            assert np.linalg.svd(seen - seen.mean(axis=0), compute_uv=False)[-1] > 0.3
    for corner in product((0, 1), (0, 1)):
        assert np.abs(places - corner).max(axis=1).min() < 0.07


def test_code_has_its_quiet_zone_and_modules_that_a_phone_resolves(layout):
    code = layout.serial_code
    module = code.w_mm / 21
    assert code.w_mm == code.h_mm
    assert module >= 0.8
    others = [*layout.patches, *layout.colours, *layout.texts, *mark_boxes(layout), *layout.cells]
    assert all(code.apart_mm(other) >= 4 * module for other in others)


def test_colours_are_many_and_around_every_cell(layout):
    if not layout.with_colours:
        assert layout.colours == ()
        return
    assert len(layout.colours) >= 18
    assert all(6 <= colour.w_mm <= 9 for colour in layout.colours)
    for cell in layout.cells:
        near = [colour.apart_mm(cell) for colour in layout.colours]
        assert min(near) >= 5
        assert sum(distance < 12 for distance in near) >= 5


def test_labels_are_large_and_beside_their_own_cell(layout):
    texts = {text.name: text for text in layout.texts}
    for cell in layout.cells:
        label = texts[f"label-{cell.name}"]
        assert label.h_mm >= 6
        assert min(layout.cells, key=label.apart_mm) == cell


def test_colours_change_nothing_but_marks_and_colours():
    for paper, cells in product(("A4", "Letter"), ("six", "one")):
        plain, coloured = build_layout(paper, cells, False), build_layout(paper, cells, True)
        assert plain.patches == coloured.patches
        assert plain.cells == coloured.cells
        assert paper_spots(plain) == paper_spots(coloured)


def test_bare_paper_is_read_all_over_the_page_but_never_in_cells(layout):
    spots = paper_spots(layout)
    width, height = layout.paper_mm
    assert len(spots) >= 24
    for spot in spots:
        assert min(spot.w_mm, spot.h_mm) >= 4 - 1e-9
        assert all(spot.apart_mm(other) >= 1 - 1e-9 for other in [*printed(layout), *layout.cells])
        assert spot.corners.min() >= 5
    centres = np.array([spot.centre for spot in spots])
    for low, high in ((centres < 22).T, (centres > np.array([width, height]) - 22).T):
        assert low.sum() >= 8
        assert high.sum() >= 8
    for cell in layout.cells:
        assert sum(spot.apart_mm(cell) < 12 for spot in spots) >= 6


def test_spots_of_paper_do_not_overlap(layout):
    for one, two in combinations(paper_spots(layout), 2):
        assert one.apart_mm(two) > 0


def test_the_frame_has_one_size_and_one_step_to_a_side(layout):
    squares = [*layout.patches, *mark_boxes(layout)]
    assert len({(square.w_mm, square.h_mm) for square in squares}) == 1
    for axis, edge in ((0, 7.0), (1, 7.0)):
        along = sorted(box.corners[0][axis] for box in squares if box.corners[0][1 - axis] == edge)
        steps = [b - a for a, b in pairwise(along)]
        assert steps == pytest.approx([steps[0]] * len(steps), abs=0.11)
