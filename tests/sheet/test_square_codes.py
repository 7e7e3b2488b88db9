"""Squares are read as marks, as OpenCV's own detector reads them."""

import cv2
import numpy as np
import pytest

from dyeshade.sheet.kinds import IDENTS_PER_VERSION, VERSION
from dyeshade.sheet.square_codes import MARK_DICTIONARY, OURS, codes_of, squares_in

BOOK = cv2.aruco.getPredefinedDictionary(MARK_DICTIONARY)
SIDE, STEP, MARGIN = 56, 110, 60
SQUARE = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], np.float32)


def page_of(idents, random):
    """Marks on paper, each turned and seen at a slant."""
    across = 4
    rows = -(-len(idents) // across)
    page = np.full((rows * STEP + MARGIN, across * STEP + MARGIN), 220, np.uint8)
    for place, ident in enumerate(idents):
        mark = cv2.aruco.generateImageMarker(BOOK, ident, 7 * 12) // 255 * 190 + 25
        turned = np.roll(SQUARE, int(random.integers(4)), axis=0)
        corner = np.array([place % across, place // across]) * STEP + MARGIN
        seen = (turned * SIDE + corner + random.uniform(-6, 6, (4, 2))).astype(np.float32)
        plane = cv2.getPerspectiveTransform(SQUARE * 7 * 12 - 0.5, seen)
        cv2.warpPerspective(
            mark.astype(np.uint8),
            plane,
            page.shape[::-1],
            page,
            cv2.INTER_AREA,
            cv2.BORDER_TRANSPARENT,
        )
    page = cv2.GaussianBlur(page, (0, 0), 1.0) + random.normal(0, 4, page.shape)
    return np.clip(page, 0, 255).astype(np.uint8)


def settings():
    chosen = cv2.aruco.DetectorParameters()
    chosen.adaptiveThreshWinSizeMin = chosen.adaptiveThreshWinSizeMax = 31
    return chosen


@pytest.mark.parametrize("first", range(0, OURS, 16))
def test_all_our_marks_are_read_as_the_library_reads_them(first):
    page = page_of(range(first, first + 16), np.random.default_rng(first))
    corners, idents, _ = cv2.aruco.ArucoDetector(BOOK, settings()).detectMarkers(page)
    theirs = {int(ident): one[0] for ident, one in zip(idents.ravel(), corners, strict=True)}
    ours = dict(codes_of(page, squares_in(page, settings())))
    assert sorted(ours) == sorted(theirs) == list(range(first, first + 16))
    for ident, one in ours.items():
        assert one == pytest.approx(theirs[ident], abs=1e-4)


def test_marks_of_no_sheet_of_ours_are_none():
    page = page_of(range(OURS + 100, OURS + 116), np.random.default_rng(1))
    assert codes_of(page, squares_in(page, settings())) == []


def test_one_cell_may_be_hidden_and_no_more_than_the_codes_bear():
    grey = cv2.copyMakeBorder(
        cv2.aruco.generateImageMarker(BOOK, 37, 70), 20, 20, 20, 20, cv2.BORDER_CONSTANT, value=230
    )
    square = (SQUARE * 70 + 20 - 0.5).astype(np.float32)[None]

    def hidden(cells):
        other = grey.copy()
        for row, column in cells:
            at = slice(20 + 10 * row, 30 + 10 * row), slice(20 + 10 * column, 30 + 10 * column)
            other[at] = 255 - other[at]
        return [ident for ident, _ in codes_of(other, square)]

    assert hidden([]) == [37]
    assert hidden([(2, 3)]) == [37]
    assert hidden([(2, 3), (4, 4)]) == []
    assert hidden([(0, 1), (0, 2), (6, 3)]) == []


def test_any_two_marks_of_ours_differ_in_more_cells_than_may_be_misread():
    bits = [
        cv2.aruco.Dictionary.getBitsFromByteList(BOOK.bytesList[k : k + 1], 5)
        for k in range(VERSION * IDENTS_PER_VERSION)
    ]
    every = np.array([np.rot90(one, turn).ravel() for one in bits for turn in range(4)], int)
    apart = (every[:, None] != every[None]).sum(axis=2) + 25 * np.eye(len(every), dtype=int)
    assert apart.min() >= 3


def test_paper_without_squares_has_no_marks():
    blank = np.full((200, 300), 240, np.uint8)
    assert codes_of(blank, squares_in(blank, settings())) == []
