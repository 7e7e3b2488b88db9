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

from dyeshade.cie.lab import lab_to_lch, xyz_to_lab
from dyeshade.cie.rgb_spaces import SRGB, srgb_decode
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
            picture = document[0].render(scale=PX_PER_MM / MM).to_pil().convert("RGB")
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
        "if this is not 100 mm, print at 100 %",
        "matte, from 160 g, never laminated",
        "white backing",
        "one window, lamps off, no sun",
        "from 60 cm",
    ):
        assert expected in words


def test_boxes_stand_where_the_layout_says(page):
    with pdfplumber.open(BytesIO(page.pdf)) as document:
        rects = document.pages[0].rects
    filled = {
        tuple(round(float(v) / MM, 2) for v in (r["x0"], r["top"], r["x1"], r["bottom"])): r
        for r in rects
        if r["fill"]
    }
    ink, paper = page.layout.ink_reflectance, page.layout.paper_reflectance
    for patch in page.layout.patches:
        place = tuple(round(float(v), 2) for v in (*patch.corners[0], *patch.corners[2]))
        (grey,) = np.atleast_1d(filled[place]["non_stroking_color"])
        # A plain print, with the decoding curve of IEC 61966-2-1.
        light = grey / 12.92 if grey <= 0.04045 else ((grey + 0.055) / 1.055) ** 2.4
        assert ink + (paper - ink) * light == pytest.approx(patch.reflectance, abs=2e-5)
    for colour in page.layout.colours:
        place = tuple(round(float(v), 2) for v in (*colour.corners[0], *colour.corners[2]))
        assert len(filled[place]["non_stroking_color"]) == 3


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


def test_cells_are_empty_inside_a_thin_cut_line(page):
    for cell in page.layout.cells:
        assert page.part(cell, grow_mm=-0.1).min() == 255
        around = page.part(cell, grow_mm=0.2)[..., 0]
        for edge in (around[:4], around[-4:], around[:, :4].T, around[:, -4:].T):
            assert (edge.min(axis=0) < 220).mean() > 0.99


def test_bare_paper_is_bare(page):
    # 1 mm, less the pixel or two that a raster adds to an edge.
    for spot in paper_spots(page.layout):
        assert page.part(spot, grow_mm=0.8).min() == 255, spot


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
    grey = cv2.cvtColor(page.picture, cv2.COLOR_RGB2GRAY)
    corners, idents, _ = cv2.aruco.ArucoDetector(book).detectMarkers(grey)
    found = {int(i): c[0] / PX_PER_MM for i, c in zip(np.ravel(idents), corners, strict=True)}
    assert set(found) == {mark.ident for mark in page.layout.marks}
    for mark in page.layout.marks:
        box = Box("mark", mark.x_mm, mark.y_mm, mark.size_mm, mark.size_mm)
        assert found[mark.ident] == pytest.approx(box.corners, abs=0.2)


def test_code_tells_the_serial(page):
    code = page.part(page.layout.serial_code, grow_mm=3.3)
    assert cv2.QRCodeDetector().detectAndDecode(code)[0] == SERIAL


def test_labels_are_large_letters(page):
    with pdfplumber.open(BytesIO(page.pdf)) as document:
        large = [char for char in document.pages[0].chars if char["size"] > 20]
    assert sorted(char["text"] for char in large) == [cell.name for cell in page.layout.cells]


def test_colours_are_spread_over_hue_lightness_and_chroma():
    assert len(set(PATCH_COLOURS)) == 24
    light = srgb_decode(np.array(PATCH_COLOURS) / 255)
    lch = lab_to_lch(xyz_to_lab(light @ SRGB.to_xyz.T))
    hues = np.sort(lch[:, 2])
    assert np.diff([*hues, hues[0] + 360]).max() < 25
    assert np.ptp(lch[:, 0]) > 50
    assert np.ptp(lch[:, 1]) > 50
    # Each half of the page holds all kinds, whichever half is in shade.
    for half in (lch[::2], lch[1::2], lch[:12], lch[12:]):
        assert np.diff([*np.sort(half[:, 2]), half[:, 2].min() + 360]).max() < 90
        assert np.ptp(half[:, 0]) > 40


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
