"""Codes in pictures are found and read, or said to be unreadable; what is none is no code."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
import zxingcpp
from numpy.typing import NDArray

from dyeshade.sheet.code_corners import corner_patterns
from dyeshade.sheet.read_tags import codes_in, find_tags_in_region, tag_seen
from dyeshade.sheet.tag import BOTTOM, LEFT, RIGHT, TOP, tag_text

Picture = NDArray[np.uint8]
SIDE_PX = 112
CORNERS = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])


def code(text: str) -> Picture:
    """A code drawn by a library that the program does not use, without its quiet zone."""
    barcode = zxingcpp.create_barcode(text, zxingcpp.BarcodeFormat.QRCode)
    picture = np.array(barcode.to_image(scale=1, add_quiet_zones=False))
    size = (SIDE_PX, SIDE_PX)
    return np.asarray(cv2.resize(picture, size, interpolation=cv2.INTER_NEAREST))


def laid(
    picture: Picture, text: str, at: tuple[float, float], turn: float, smeared: bool = False
) -> NDArray[np.float64]:
    """Lay a tag on a picture; gives where the code's own corners are."""
    drawn = code(text)
    if smeared:
        # The corner patterns stay, what it says goes.
        drawn[8 * SIDE_PX // 21 :, 8 * SIDE_PX // 21 :] = 120
    scale = SIDE_PX
    tag = np.full((round((BOTTOM - TOP) * scale), round((RIGHT - LEFT) * scale)), 235, np.uint8)
    down, across = round(-TOP * scale), round(-LEFT * scale)
    tag[down : down + SIDE_PX, across : across + SIDE_PX] = np.clip(drawn, 30, 235)
    matrix = cv2.getRotationMatrix2D((across + SIDE_PX / 2, down + SIDE_PX / 2), turn, 1.0)
    matrix[:, 2] += np.array(at) - [across + SIDE_PX / 2, down + SIDE_PX / 2]
    size = picture.shape[1], picture.shape[0]
    seen = cv2.warpAffine(tag, matrix, size, flags=cv2.INTER_AREA)
    mask = cv2.warpAffine(np.full_like(tag, 255), matrix, size)
    picture[mask > 127] = seen[mask > 127]
    own = CORNERS * SIDE_PX + [across - 0.5, down - 0.5]
    return np.asarray(own @ matrix[:, :2].T + matrix[:, 2])


def cloth(seed: int = 1) -> Picture:
    """Something as busy as yarn."""
    rng = np.random.default_rng(seed)
    noise = cv2.GaussianBlur(rng.normal(size=(600, 640)).astype(np.float32), (3, 1), 0)
    stripes = 30 * np.sin(np.arange(640) / 2.0)
    return np.clip(120 + stripes + 40 * noise, 0, 255).astype(np.uint8)


@pytest.mark.parametrize("turn", [0, 8, 93, 172, 250])
def test_a_tag_is_read_however_it_is_turned_and_its_corners_are_its_own(turn: float) -> None:
    picture = cloth()
    corners = laid(picture, tag_text("W-014"), (300, 280), turn)
    ((text, found),) = codes_in(picture)
    assert text == tag_text("W-014")
    assert np.abs(found - corners).max() < 4.0


def test_two_tags_are_two() -> None:
    picture = cloth()
    for piece, x in (("W-014", 160), ("W-015", 470)):
        laid(picture, tag_text(piece), (x, 280), 4)
    assert {text for text, _ in codes_in(picture)} == {tag_text("W-014"), tag_text("W-015")}


def test_a_tag_in_shadow_and_out_of_focus_is_read() -> None:
    picture = cloth()
    laid(picture, tag_text("HW-27"), (300, 280), 15)
    shadow = np.linspace(0.25, 1.0, 640)[None, :]
    picture = cv2.GaussianBlur((picture * shadow).astype(np.uint8), (0, 0), 1.6)
    assert [text for text, _ in codes_in(picture)] == [tag_text("HW-27")]


@pytest.mark.parametrize("turn", [0, 20])
def test_a_code_with_something_on_it_is_seen_and_not_guessed(turn: float) -> None:
    picture = cloth()
    laid(picture, tag_text("W-014"), (300, 280), turn, smeared=True)
    assert [text for text, _ in codes_in(picture)] == [""]


def test_a_code_of_something_else_is_read_as_what_it_says() -> None:
    picture = cloth()
    laid(picture, "x" * 14, (300, 280), 0)
    assert [text for text, _ in codes_in(picture)] == ["x" * 14]


@pytest.mark.parametrize("seed", range(3))
def test_yarn_is_no_code(seed: int) -> None:
    assert codes_in(cloth(seed)) == []


@pytest.mark.parametrize("turn", [0, 45, 200])
@pytest.mark.parametrize("px_per_mm", [4.0, 8.0])
def test_at_a_glance_a_code_is_told_from_yarn(turn: float, px_per_mm: float) -> None:
    picture = cloth()
    assert not len(corner_patterns(_as_seen(picture, px_per_mm), px_per_mm))
    laid(picture, tag_text("W-014"), (300, 280), turn, smeared=turn == 45)
    shadow = np.where(np.arange(640) < 310, 0.3, 1.0)[None, :]
    picture = cv2.GaussianBlur((picture * shadow).astype(np.uint8), (0, 0), 2.0)
    assert len(corner_patterns(_as_seen(picture, px_per_mm), px_per_mm))


def _as_seen(picture: Picture, px_per_mm: float) -> Picture:
    """A picture of 8 pixels a mm at another scale."""
    scale = px_per_mm / 8.0
    return cv2.resize(picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)


@pytest.mark.parametrize("larger", [1, 3])
def test_in_a_photo_without_a_sheet_tags_are_found_where_they_are(larger: int) -> None:
    part = cloth()
    corners = laid(part, tag_text("W-014"), (300, 280), 12)
    part = part.repeat(larger, axis=0).repeat(larger, axis=1)
    photo = np.full((part.shape[0] + 200, part.shape[1] + 100), 128, np.uint8)
    photo[150 : 150 + part.shape[0], 40 : 40 + part.shape[1]] = part
    rows, columns = slice(150, 150 + part.shape[0]), slice(40, 40 + part.shape[1])
    (seen,) = find_tags_in_region(photo, rows, columns)
    assert seen.piece == "W-014"
    expected = (corners + 0.5) * larger - 0.5 + [40, 150]
    assert np.abs(seen.corners - expected).max() < 5.0 * larger


def test_a_tag_covers_its_paper_and_a_rim() -> None:
    corners = CORNERS * 14.0 + [50.0, 60.0]
    seen = tag_seen(tag_text("W-014"), corners, rim=1.5)
    assert (seen.piece, seen.readable) == ("W-014", True)
    expected = np.array([[LEFT, TOP], [RIGHT, TOP], [RIGHT, BOTTOM], [LEFT, BOTTOM]]) * 14.0
    expected += [50.0, 60.0] + 1.5 * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
    assert seen.outline == pytest.approx(expected)


def test_a_code_of_something_else_names_no_piece() -> None:
    seen = tag_seen("a web address", CORNERS * 14.0)
    assert (seen.piece, seen.readable) == (None, True)
