"""The printed page, read back with libraries that did not write it."""

import os
from io import BytesIO
from itertools import product

import numpy as np
import pdfplumber
import pypdf
import pypdfium2
import pytest
from pypdf.generic import ContentStream

from dyeshade.cie.rgb_spaces import srgb_decode
from dyeshade.errors import DyeshadeError
from dyeshade.paper.patch_colours import PATCH_COLOURS
from dyeshade.paper.reference_sheet import sheet_pdf, write_sheet_pdf
from dyeshade.photo.vision import cv2
from dyeshade.sheet.layout import Box, Layout, build_layout, paper_spots

KINDS = list(product(("A4", "Letter"), ("six", "one"), (False, True)))
SERIAL = "K7QF-3M9G"
PX_PER_MM = 10
MM = 72 / 25.4


class Printed:
    """One page: its layout, its bytes, its picture at 10 pixels a mm."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.pdf = sheet_pdf(layout)
        document = pypdfium2.PdfDocument(self.pdf)
        try:
            # A picture's size is rounded up; a hair less keeps a page of 2970.0003 from a row more.
            scale = PX_PER_MM / MM * (1 - 1e-6)
            picture = document[0].render(scale=scale).to_pil().convert("RGB")
        finally:
            document.close()
        self.picture = np.asarray(picture)

    def part(self, box: Box, grow_mm: float = 0.0) -> np.ndarray:
        left, top = np.round((box.corners[0] - grow_mm) * PX_PER_MM).astype(int)
        right, bottom = np.round((box.corners[2] + grow_mm) * PX_PER_MM).astype(int)
        return self.picture[max(top, 0) : bottom, max(left, 0) : right]


@pytest.fixture(scope="module", params=KINDS, ids=lambda kind: "-".join(map(str, kind)))
def page(request) -> Printed:
    return Printed(build_layout(*request.param, SERIAL))


def test_page_is_of_exact_size(page):
    document = pypdf.PdfReader(BytesIO(page.pdf))
    assert len(document.pages) == 1
    for box in (document.pages[0].mediabox, document.pages[0].cropbox):
        size = float(box.width) / MM, float(box.height) / MM
        assert size == pytest.approx(page.layout.paper_mm, abs=0.01)
    assert document.pages[0].rotation == 0
    assert document.viewer_preferences.print_scaling == "/None"


def test_printer_can_keep_to_black_ink(page):
    document = pypdf.PdfReader(BytesIO(page.pdf))
    content = ContentStream(document.pages[0].get_contents(), document)
    used = [operator.decode() for _, operator in content.operations]
    assert {"g", "G"} <= set(used)
    # PDF 32000-1:2008, table 74: every other way to set a colour; and shadings, images, forms.
    other = {"CS", "cs", "SC", "SCN", "sc", "scn", "RG", "K", "k", "sh", "Do", "BI"}
    assert not other & set(used)
    assert used.count("rg") == len(page.layout.colours)


def test_text_is_text_in_embedded_fonts(page):
    document = pypdf.PdfReader(BytesIO(page.pdf))
    fonts = document.pages[0]["/Resources"]["/Font"].values()
    assert len(fonts) >= 1
    for font in fonts:
        assert "/FontFile2" in font.get_object()["/FontDescriptor"]
    words = document.pages[0].extract_text()
    for expected in (
        SERIAL,
        "Date",
        "dry, opaque, flat",
        "If this is not 100 mm, print at 100 %.",
        "matte, from 160 g, never laminated",
        "white backing",
        "one window, lamps off, no sun",
        "from 60 cm",
    ):
        assert expected in words


def place_of(box: Box) -> tuple[float, ...]:
    return tuple(round(float(value), 2) for value in (*box.corners[0], *box.corners[2]))


def drawn_rects(page: Printed, kind: str) -> dict[tuple[float, ...], dict]:
    """Filled or stroked rectangles of the PDF by left, top, right, bottom in mm."""
    with pdfplumber.open(BytesIO(page.pdf)) as document:
        rects = [rect for rect in document.pages[0].rects if rect[kind]]
    edges = ("x0", "top", "x1", "bottom")
    return {tuple(round(float(rect[e]) / MM, 2) for e in edges): rect for rect in rects}


def test_patches_stand_where_the_layout_says(page):
    filled = drawn_rects(page, "fill")
    ink, paper = page.layout.ink_reflectance, page.layout.paper_reflectance
    for patch in page.layout.patches:
        (grey,) = np.atleast_1d(filled[place_of(patch)]["non_stroking_color"])
        # A plain print, with the decoding curve of IEC 61966-2-1.
        light = grey / 12.92 if grey <= 0.04045 else ((grey + 0.055) / 1.055) ** 2.4
        assert ink + (paper - ink) * light == pytest.approx(patch.reflectance, abs=2e-5)
    rgbs = [filled[place_of(colour)]["non_stroking_color"] for colour in page.layout.colours]
    asked = np.array(PATCH_COLOURS[: len(rgbs)]).reshape(-1, 3) / 255
    assert np.array(rgbs).reshape(-1, 3) == pytest.approx(asked, abs=1e-4)


def test_marks_are_black_modules_over_their_whole_square(page):
    filled = drawn_rects(page, "fill")
    for mark in page.layout.marks:
        right, bottom = mark.x_mm + mark.size_mm, mark.y_mm + mark.size_mm
        parts = {
            place: rect
            for place, rect in filled.items()
            if mark.x_mm - 0.02 <= place[0] <= right and mark.y_mm - 0.02 <= place[1] <= bottom
        }
        assert all(tuple(np.atleast_1d(r["non_stroking_color"])) == (0,) for r in parts.values())
        edges = np.array(list(parts))
        reach = (*edges.min(axis=0)[:2], *edges.max(axis=0)[2:])
        assert reach == pytest.approx((mark.x_mm, mark.y_mm, right, bottom), abs=0.011)


def test_cut_lines_run_just_outside_the_cells(page):
    stroked = drawn_rects(page, "stroke")
    assert len(stroked) == len(page.layout.cells)
    for cell, (place, rect) in zip(page.layout.cells, sorted_by_row(stroked), strict=True):
        width = float(rect["linewidth"]) / MM
        assert 0.1 <= width <= 0.25
        middle_of_line = np.array(place) + width / 2 * np.array([1, 1, -1, -1])
        assert middle_of_line == pytest.approx(place_of(cell), abs=0.011)


def sorted_by_row(rects: dict) -> list:
    return sorted(rects.items(), key=lambda item: (item[0][1], item[0][0]))


def test_greys_come_out_as_asked_for(page):
    for patch in page.layout.patches:
        inside = page.part(patch, grow_mm=-0.2)
        assert np.ptp(inside) == 0
        light = float(srgb_decode(inside[0, 0, 0] / 255))
        assert 0.035 + (0.88 - 0.035) * light == pytest.approx(patch.reflectance, abs=1e-5)


def test_ruler_is_100_mm_long(page):
    with pdfplumber.open(BytesIO(page.pdf)) as document:
        lines = document.pages[0].lines
    ruler = next(text for text in page.layout.texts if text.name == "ruler")
    inside = [
        line
        for line in lines
        if ruler.y_mm <= line["top"] / MM <= ruler.y_mm + ruler.h_mm and line["x0"] / MM < 140
    ]
    upright = sorted(line["x0"] / MM for line in inside if abs(line["x1"] - line["x0"]) < 0.01)
    assert len(upright) == 101
    assert np.diff(upright) == pytest.approx(np.ones(100), abs=0.01)
    assert upright[-1] - upright[0] == pytest.approx(100, abs=0.02)
    (along,) = [line for line in inside if abs(line["x1"] - line["x0"]) > 1]
    ends = along["x0"] / MM, along["x1"] / MM
    assert ends == pytest.approx((upright[0], upright[-1]), abs=0.01)


def test_cells_are_empty_inside_a_thin_cut_line(page):
    for cell in page.layout.cells:
        assert page.part(cell, grow_mm=-0.1).min() == 255
        around = page.part(cell, grow_mm=0.2)[..., 0]
        for edge in (around[:4], around[-4:], around[:, :4].T, around[:, -4:].T):
            assert (edge.min(axis=0) < 220).mean() > 0.99


def test_bare_paper_is_bare(page):
    # 1 mm, less the pixel that a raster adds to an edge.
    for spot in paper_spots(page.layout):
        assert page.part(spot, grow_mm=0.9).min() == 255, spot


def test_nothing_is_printed_where_the_layout_names_nothing(page):
    rest = page.picture.copy()
    layout = page.layout
    marks = [Box("mark", m.x_mm, m.y_mm, m.size_mm, m.size_mm) for m in layout.marks]
    for box in (*layout.patches, *layout.colours, *layout.texts, layout.serial_code, *marks):
        left, top = np.floor((box.corners[0] - 0.11) * PX_PER_MM).astype(int)
        right, bottom = np.ceil((box.corners[2] + 0.11) * PX_PER_MM).astype(int)
        rest[top:bottom, left:right] = 255
    for cell in layout.cells:
        left, top = np.floor((cell.corners[0] - 0.3) * PX_PER_MM).astype(int)
        right, bottom = np.ceil((cell.corners[2] + 0.3) * PX_PER_MM).astype(int)
        rest[top:bottom, left:right] = 255
    stray = np.argwhere(rest.min(axis=-1) < 255)
    assert len(stray) == 0, stray[:3] / PX_PER_MM


def test_marks_are_found_with_their_idents_and_places(page):
    book = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_5X5_1000)
    how = cv2.aruco.DetectorParameters()
    how.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    grey = cv2.cvtColor(page.picture, cv2.COLOR_RGB2GRAY)
    corners, idents, _ = cv2.aruco.ArucoDetector(book, how).detectMarkers(grey)
    # A pixel's number is its middle.
    found = {
        int(ident): (four[0] + 0.5) / PX_PER_MM
        for ident, four in zip(np.ravel(idents), corners, strict=True)
    }
    assert set(found) == {mark.ident for mark in page.layout.marks}
    for mark in page.layout.marks:
        box = Box("mark", mark.x_mm, mark.y_mm, mark.size_mm, mark.size_mm)
        assert found[mark.ident] == pytest.approx(box.corners, abs=0.1)


def test_each_mark_and_the_code_are_one_shape_without_seams(page):
    document = pypdf.PdfReader(BytesIO(page.pdf))
    content = ContentStream(document.pages[0].get_contents(), document)
    # PDF 32000-1:2008, table 60: operators that fill a path. Shapes filled one by one may show
    # light lines where they touch; parts of one path are one area (8.5.3.3).
    filled = [operator for _, operator in content.operations if operator in (b"f", b"F", b"f*")]
    layout = page.layout
    shapes = len(layout.patches) + len(layout.colours) + len(layout.marks) + 1
    assert len(filled) == shapes
    assert not {b"B", b"B*", b"b", b"b*"} & {operator for _, operator in content.operations}


def test_code_tells_the_serial(page):
    code = page.part(page.layout.serial_code, grow_mm=3.3)
    assert cv2.QRCodeDetector().detectAndDecode(code)[0] == SERIAL


def test_labels_are_large_letters(page):
    with pdfplumber.open(BytesIO(page.pdf)) as document:
        large = [char for char in document.pages[0].chars if char["size"] > 20]
    assert sorted(char["text"] for char in large) == [cell.name for cell in page.layout.cells]


def test_a_sheet_without_serial_leaves_its_places_empty():
    page = Printed(build_layout("A4", "six", False))
    assert page.part(page.layout.serial_code).min() == 255


def test_the_same_sheet_gives_the_same_file():
    layout = build_layout("Letter", "one", True, SERIAL)
    assert sheet_pdf(layout) == sheet_pdf(layout)


def test_a_folder_that_is_not_there_is_told(tmp_path):
    target = tmp_path / "none" / "sheet.pdf"
    with pytest.raises(DyeshadeError) as told:
        write_sheet_pdf(build_layout("A4", "six", False, SERIAL), target)
    assert told.value.code == "cannot_write"
    assert told.value.facts["path"] == str(target)


def test_a_disk_that_refuses_leaves_the_old_page_whole(tmp_path, monkeypatch):
    target = tmp_path / "sheet.pdf"
    target.write_bytes(b"an older page")

    def full(_descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(DyeshadeError, match="cannot_write"):
        write_sheet_pdf(build_layout("A4", "six", False, SERIAL), target)
    assert target.read_bytes() == b"an older page"
    assert os.listdir(tmp_path) == ["sheet.pdf"]


def test_a_page_is_as_readable_as_any_new_file(tmp_path):
    write_sheet_pdf(build_layout("A4", "six", False, SERIAL), tmp_path / "sheet.pdf")
    (tmp_path / "other").write_bytes(b"")
    modes = {(tmp_path / name).stat().st_mode for name in ("sheet.pdf", "other")}
    assert len(modes) == 1
