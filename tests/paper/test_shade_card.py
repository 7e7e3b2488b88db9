"""A shade card's pages, read back with libraries that did not write them."""

import struct
from dataclasses import replace
from io import BytesIO
from itertools import pairwise

import colour
import numpy as np
import pdfplumber
import pypdf
import pytest
from PIL import Image, ImageCms

from dyeshade.errors import DyeshadeError
from dyeshade.paper.card_layout import card_pdf, write_card_pdf
from dyeshade.paper.faces import font_of
from dyeshade.paper.shade_card import Card
from dyeshade.words.shade_card import CARD_WORDS
from tests.paper.cards import a_shade, laid, printed, shades

MM = 72 / 25.4
WITHIN_MM = 0.2
# ISO 216 and ANSI/ASME Y14.1.
PAPERS = {"A4": (210.0, 297.0), "Letter": (8.5 * 25.4, 11 * 25.4)}
LONG = "The blanket wool of the late summer, dyed for the exhibition, and then once again " * 3


def pages_of(pdf: bytes):
    return pdfplumber.open(BytesIO(pdf)).pages


def box_mm(thing) -> np.ndarray:
    """Left, top, right, bottom."""
    return np.array([float(thing[edge]) / MM for edge in ("x0", "top", "x1", "bottom")])


def filled(page, channels: int) -> list[np.ndarray]:
    return [
        box_mm(rect)
        for rect in page.rects
        if rect["fill"] and len(np.atleast_1d(rect["non_stroking_color"])) == channels
    ]


def colours_of(page) -> list[np.ndarray]:
    """The swatches' sRGB, 0..255; greys have one channel."""
    used = [np.atleast_1d(rect["non_stroking_color"]) for rect in page.rects]
    return [np.round(one * 255, 1) for one in used if len(one) == 3]


def letters(text: str) -> str:
    return "".join(text.split())


@pytest.mark.parametrize("paper", PAPERS)
def test_pages_are_of_exact_size_and_print_at_100_per_cent(paper):
    document = pypdf.PdfReader(BytesIO(printed(shades(20), paper=paper)))
    assert len(document.pages) > 1
    for page in document.pages:
        for box in (page.mediabox, page.cropbox):
            size = float(box.width) / MM, float(box.height) / MM
            assert size == pytest.approx(PAPERS[paper], abs=0.01)
    assert document.viewer_preferences.print_scaling == "/None"


def test_every_font_is_embedded_and_the_words_can_be_read():
    listed = [
        a_shade(name="Żółty жёлтый κίτρινο", in_gamut=False),
        a_shade(name="藍染め 쪽빛 ขมิ้น", exhaust_number=1, earlier=(("madder",),)),
        a_shade(afters=(("dip", "iron liquor"),), notes=("moved by 2.1 in 90 days",)),
    ]
    document = pypdf.PdfReader(BytesIO(printed(listed, title="Weld", maker="Hollow Weir")))
    (page,) = document.pages
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
    assert len(fonts) >= 4
    assert all("/FontFile2" in font["/FontDescriptor"] for font in fonts)
    told = letters(page.extract_text())
    for shade in listed:
        caption = CARD_WORDS.caption(shade)
        for said in (caption.heading, *caption.lines):
            assert letters(said) in told
    for said in ("Weld", "Hollow Weir", "sure to about 2", "pH 8.8 of the bath at end"):
        assert letters(said) in told


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(("swatch", "columns"), [("small", 4), ("middle", 3), ("large", 2)])
@pytest.mark.parametrize("tie", [False, True])
def test_swatches_stand_in_columns_each_in_an_equal_neutral_surround(paper, swatch, columns, tie):
    count = columns + 1
    pdf = printed(shades(count), paper=paper, swatch=swatch, fibre_place=tie, title="Weld")
    (page,) = pages_of(pdf)
    colours, greys = np.array(filled(page, 3)), np.array(filled(page, 1))
    assert len(colours) == len(greys) == count
    sizes = colours[:, 2:] - colours[:, :2]
    assert np.ptp(sizes, axis=0) == pytest.approx(0, abs=0.01)
    # The same width of grey on all four sides of every swatch.
    edges = np.abs(colours - greys)
    assert np.ptp(edges) < 0.01
    assert edges.min() > 2.0
    # Columns fill the page between equal margins, and the last shade begins a second row.
    assert greys[:columns, 1] == pytest.approx(greys[0, 1], abs=0.01)
    assert greys[0, 0] == pytest.approx(PAPERS[paper][0] - greys[columns - 1, 2], abs=0.01)
    assert np.ptp(greys[1:columns, 0] - greys[: columns - 1, 2]) < 0.01
    assert greys[columns, 0] == pytest.approx(greys[0, 0], abs=0.01)
    assert greys[columns, 1] > greys[0, 3]


def test_pages_are_drawn_where_the_preview_has_them():
    card = laid(shades(14), swatch="middle", fibre_place=True)
    for page, drawn in zip(pages_of(card_pdf(card)), card.pages, strict=True):
        for kind, name in ((3, "rect"), (1, "surround")):
            expected = [getattr(swatch, name) for swatch in drawn.swatches]
            boxes = np.array(filled(page, kind))
            asked = np.array([(x, y, x + w, y + h) for x, y, w, h in expected])
            assert boxes == pytest.approx(asked, abs=WITHIN_MM)


def test_colours_are_those_of_the_shades():
    (page,) = pages_of(printed([a_shade(srgb=(214, 200, 74))]))
    (told,) = colours_of(page)
    assert told == pytest.approx([214, 200, 74], abs=0.1)


def test_the_output_intent_is_srgb():
    document = pypdf.PdfReader(BytesIO(printed([a_shade()])))
    (intent,) = document.trailer["/Root"]["/OutputIntents"]
    stream = intent["/DestOutputProfile"].get_object()
    assert stream["/N"] == 3
    profile = ImageCms.ImageCmsProfile(BytesIO(stream.get_data()))
    # The primaries of IEC 61966-2-1 as colour-science has them, for D50 by Bradford as in ICC.1.
    space = colour.RGB_COLOURSPACES["sRGB"]
    white = colour.xy_to_XYZ(space.whitepoint)
    # ICC.1:2010, 7.2.16: the illuminant of the connection space.
    d50 = np.array([0.9642, 1.0, 0.8249])
    adapt = colour.adaptation.matrix_chromatic_adaptation_VonKries(white, d50, "Bradford")
    expected = adapt @ space.matrix_RGB_to_XYZ
    told = profile.profile
    primaries = [told.red_primary[0], told.green_primary[0], told.blue_primary[0]]
    columns = np.array(primaries).T
    assert columns == pytest.approx(expected, abs=5e-4)
    # The curve: 8-bit grey 128 has L* 53.6 by IEC 61966-2-1 and CIE 15 (colour-science).
    y = space.cctf_decoding(128 / 255)
    lab = ImageCms.createProfile("LAB")
    one = Image.new("RGB", (1, 1), (128, 128, 128))
    seen = ImageCms.profileToProfile(one, profile, lab, outputMode="LAB").getpixel((0, 0))
    assert seen[0] / 255 * 100 == pytest.approx(
        float(colour.colorimetry.lightness(100 * y)), abs=0.4
    )
    # ICC.1:2010, 7.2: "acsp" at byte 36, class "mntr" at 12, and its own length first.
    data = stream.get_data()
    assert (data[36:40], data[12:16]) == (b"acsp", b"mntr")
    assert struct.unpack(">I", data[:4])[0] == len(data)


@pytest.mark.parametrize("count", [1, 7, 60])
def test_a_shade_stands_whole_on_one_page(count):
    seen = []
    for page in pages_of(printed(shades(count), swatch="small", title="Weld")):
        here = [round(rgb[0]) for rgb in colours_of(page)]
        words = page.extract_text().replace("\xa0", " ")
        assert all(f"piece W-{n:03d}" in words for n in here)
        assert words.count("piece W-") == len(here)
        seen += here
    assert seen == list(range(count))


@pytest.mark.parametrize(
    "card", [{}, {"two_sided": True}, {"fibre_place": True, "paper": "Letter"}]
)
def test_five_hundred_shades_fill_pages_without_touching(card):
    # Captions of all heights, so that some rows would fit on a page only just not.
    listed = [replace(one, name="of Hollow Weir " * (n % 11)) for n, one in enumerate(shades(500))]
    pages = laid(listed, swatch="small", title="Weld", maker="Hollow Weir", **card).pages
    fronts = [page for page in pages if not page.back]
    assert [s.place for page in fronts for s in page.swatches] == list(range(500))
    for page in fronts:
        boxes = np.array([s.cell for s in page.swatches])
        assert boxes[:, 1].min() > 15.0
        foot = min(t.baseline_mm for t in page.words if t.words.startswith("L*, a*, b*:"))
        assert (boxes[:, 1] + boxes[:, 3]).max() < foot - 3.0
        rows = sorted({(y, y + h) for _, y, _, h in boxes})
        assert all(above[1] < below[0] for above, below in pairwise(rows))


@pytest.mark.parametrize("swatch", ["small", "middle", "large"])
@pytest.mark.parametrize("name", [LONG, "w" * 300, "藍" * 150])
def test_long_names_wrap_and_are_never_cut(swatch, name):
    pages = pages_of(printed([a_shade(name=name), a_shade()], swatch=swatch))
    (page,) = pages
    right = page.chars and max(float(char["x1"]) for char in page.chars) / MM
    assert right < 210.0 - 15.0
    second = min(box[0] for box in filled(page, 1)[1:])
    first = page.crop((0, 0, (second - 1.0) * MM, page.height))
    assert letters(name) in letters(first.extract_text())


@pytest.mark.parametrize(
    ("paper", "swatch", "tie", "back"),
    [
        ("A4", "small", False, True),
        ("Letter", "middle", True, False),
        ("A4", "large", True, True),
        ("Letter", "large", True, True),
    ],
)
def test_no_full_page_stays_empty_below_its_shades(paper, swatch, tie, back):
    card = {"swatch": swatch, "fibre_place": tie, "two_sided": back}
    pages = laid(shades(40), title="Weld", maker="Hollow Weir", paper=paper, **card).pages
    fronts = [page for page in pages if not page.back]
    heights = {round(one.rect[3], 6) for page in fronts for one in page.swatches}
    assert len(heights) == 1
    for page in fronts[:-1]:
        end = max(one.cell[1] + one.cell[3] for one in page.swatches)
        # The foot takes some 22 mm of it.
        assert page.paper_mm[1] - end < 60


def test_a_caption_too_high_for_a_page_is_set_smaller():
    (page,) = pages_of(printed([a_shade(name=LONG * 20)], swatch="small"))
    assert letters(LONG * 20) in letters(page.extract_text())
    assert max(float(char["bottom"]) for char in page.chars) / MM < 297.0 - 10.0


def test_a_long_title_stands_whole_on_the_first_page_and_shortened_on_the_others():
    title = "Weld and madder, spring baths, of the Hollow Weir Dye Room " * 12
    first, second, *_ = pages_of(printed(shades(14), title=title, maker=LONG * 30))
    assert letters(title) + letters(LONG * 30) in letters(first.extract_text())
    assert letters("Weld and madder, spring baths") in letters(second.extract_text())
    running = second.extract_text().splitlines()[0]
    assert running.endswith("…")
    assert max(float(char["x1"]) for char in second.chars) / MM < 210.0 - 15.0


def test_the_file_tells_title_and_maker():
    told = pypdf.PdfReader(BytesIO(printed([a_shade()], title="Weld жёлтый", maker="Hollow Weir")))
    assert (told.metadata.title, told.metadata.author) == ("Weld жёлтый", "Hollow Weir")


def test_holes_are_7_mm_wide_beside_their_swatches():
    (page,) = pages_of(printed(shades(3), fibre_place=True))
    outlines = [box_mm(r) for r in page.rects if r["stroke"]]
    assert len(outlines) == 3
    for outline in outlines:
        inside = [
            box
            for box in map(box_mm, page.lines)
            if (box[:2] > outline[:2]).all() and (box[2:] < outline[2:]).all()
        ]
        edges = np.array(inside)
        hole = (*edges.min(axis=0)[:2], *edges.max(axis=0)[2:])
        assert hole[2] - hole[0] == pytest.approx(7.0, abs=WITHIN_MM)
        assert hole[3] - hole[1] == pytest.approx(7.0, abs=WITHIN_MM)


@pytest.mark.parametrize(("swatch", "panels"), [("small", 4), ("middle", 3), ("large", 2)])
def test_folded_where_it_is_marked_a_cut_card_has_equal_panels(swatch, panels):
    (page,) = pages_of(printed(shades(2), swatch=swatch, fibre_place=True))
    upright = [b for b in map(box_mm, page.lines) if b[2] - b[0] < 0.01 and b[3] - b[1] < 5.1]
    # Above the trimmed page, which begins 10 mm below the paper's edge.
    places = sorted({round(b[0], 2) for b in upright if b[3] < 10.0})
    assert len(places) == panels + 1
    assert np.ptp(np.diff(places)) < WITHIN_MM
    swatches = filled(page, 1)
    assert all(not box[0] < place < box[2] for box in swatches for place in places)


def test_baths_on_the_back_stand_behind_their_swatches():
    front, back = pages_of(printed(shades(2), two_sided=True))
    assert not back.rects
    assert "alum" not in front.extract_text()
    words = back.extract_words()
    for number, box in enumerate(filled(front, 1)):
        (left,) = [float(w["x0"]) / MM for w in words if w["text"] == f"W-{number:03d}"]
        # Turned over its long edge, left is right.
        behind = 210.0 - box[2], 210.0 - box[0]
        assert behind[0] <= left < behind[1]
    assert "alum" in back.extract_text()


def test_a_shade_beyond_srgb_is_marked_and_the_mark_explained():
    plain, marked = (
        pages_of(printed([a_shade(in_gamut=inside)]))[0].extract_text() for inside in (True, False)
    )
    assert plain.count("◊") == 0
    assert marked.count("◊") == 2
    assert "◊ More vivid than sRGB can show" in marked.replace("\xa0", " ")


def test_the_same_card_gives_the_same_file():
    assert printed(shades(3), title="Weld") == printed(shades(3), title="Weld")


def test_other_cards_before_it_leave_no_trace_in_a_file():
    names = [a_shade(name=name) for name in ("हल्दी", "क्षत्रिय", "ẹlẹ́kọ")]
    first = printed(names[:1] + names[2:])
    # As another run of the program would read it anew.
    font_of("devanagari").unregister()
    printed(names[1:])
    assert printed(names[:1] + names[2:]) == first


def test_a_card_without_shades_is_one_page_with_its_title():
    (page,) = pages_of(printed([], title="Weld"))
    assert "Weld" in page.extract_text()


def test_what_no_font_has_is_told():
    assert laid([a_shade(name="ᠡᠯ")]).missing == "ᠡᠯ"
    assert laid([a_shade()]).missing == ""


def test_a_folder_that_is_not_there_is_told(tmp_path):
    with pytest.raises(DyeshadeError, match="cannot_write"):
        write_card_pdf(laid([a_shade()]), tmp_path / "none" / "card.pdf")


def test_an_unknown_paper_is_our_mistake():
    with pytest.raises(ValueError, match="A3"):
        Card(paper="A3")
