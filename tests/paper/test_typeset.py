"""Names are set whole, in any script, and measured as another library measures them."""

import unicodedata

import numpy as np
import pypdfium2
import pytest
from PIL import Image, ImageDraw, ImageFont

from dyeshade.paper.faces import font_file
from dyeshade.paper.page import POINT_MM, Page
from dyeshade.paper.right_to_left import as_seen, is_right_to_left, joined
from dyeshade.paper.shaping import clusters, is_shaped
from dyeshade.paper.typeset import (
    NOT_THERE,
    balanced,
    missing_in,
    plain_words,
    set_line,
    width_mm,
    wrapped,
)

# Words for turmeric, wool or silk, and some whose letters join or change places.
SHAPED_NAMES = [
    "हल्दी से रंगा ऊन, क्षत्रिय कुर्ता",
    "হলুদে রাঙানো পশম, স্ত্রী কৃষ্ণচূড়া",
    "ਹਲਦੀ ਨਾਲ ਰੰਗੀ ਉੱਨ",
    "હળદરથી રંગેલું ઊન, પ્રશ્ન",
    "ହଳଦୀରେ କରା ପଶମ ରଙ୍ଗ",
    "மஞ்சள் சாயமிட்ட கொழுந்து",
    "పసుపుతో రంగు వేసిన స్త్రీ",
    "ಅರಿಶಿನ ಬಣ್ಣದ ಉಣ್ಣೆ ಶ್ರೀ",
    "മഞ്ഞൾ ചായം മുക്കിയ സ്ത്രീ",
    "කහ පාට ලොම් ශ්\u200dරී",
    "နနွင်းဆိုးသိုးမွှေး မြန်မာ",
    "រោមចៀមជ្រលក់រមៀត ខ្មែរ",
    "སྒོག་སྐྱའི་བལ་ རྒྱུ",
    "ꦧꦠꦶꦏ꧀ꦏꦸꦚꦶꦠ꧀",
    "ᬩᬮᬶ ᬓᬸᬦᬶᬢ᭄",
    "ຜ້າໄໝຍ້ອມສີຂີ້ໝິ້ນ",
    "ที่ผ้าไหมย้อมสีขมิ้น น้ำ",
]
NAMES = [
    "A hank of the long-winded Hollow Weir blanket wool, dyed for the exhibition and twice again",
    "Donaudampfschifffahrtsgesellschaftskapitänswollknäuel",
    "Żółty – жёлтый клубок – κίτρινο μαλλί",
    "Vải lụa nhuộm vàng hoa hòe",
    "藍染めの絹糸、二度目の浴",
    "钰婷与昕怡的黄柏丝绸",
    "쪽빛 비단 두 번째",
    "ผ้าไหมย้อมสีขมิ้นครั้งที่สอง",
    "צמר צהוב (12) weld",
    "صوف أصفر ١٢ weld",
    "Ոսկեգույն ბამბა",
    "ɗan ƙasa, àdìrẹ ẹlẹ́kọ",
    "በእርድ የተቀባ ሱፍ",
    *SHAPED_NAMES,
]


FINE = 4.0


def shaped_font(face):
    return ImageFont.truetype(str(font_file(face)), 1000, layout_engine=1)


def measured_mm(text) -> float:
    """A run's width as FreeType measures it, without kerning, which a PDF has not."""
    words = text.words.removeprefix("\u202d")
    if is_shaped(words, text.face):
        return shaped_font(text.face).getlength(words) / 1000 * text.points * POINT_MM
    font = ImageFont.truetype(str(font_file(text.face)), 1000, layout_engine=0)
    return sum(font.getlength(c) for c in words) / 1000 * text.points * POINT_MM


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("width", [12.0, 40.0])
@pytest.mark.parametrize("wrap", [wrapped, balanced])
def test_a_name_is_wrapped_whole_and_never_wider_than_its_place(name, width, wrap):
    lines = wrap(name, "serif", 10.0, width)
    read = plain_words(name)
    read = joined(read) if is_right_to_left(read) else read
    assert "".join("".join(lines).split()) == "".join(read.split())
    for line in lines:
        assert sum(map(measured_mm, set_line(line, "serif", 10.0, 0.0, 0.0))) <= width + 0.1


@pytest.mark.parametrize("name", NAMES)
def test_every_script_has_a_font(name):
    assert missing_in(name) == ""
    assert all(NOT_THERE not in part.words for part in set_line(name, "sans", 8.0, 0.0, 0.0))


@pytest.mark.parametrize("name", SHAPED_NAMES)
def test_letters_that_change_are_drawn_as_another_program_draws_them(name):
    word = name.split()[-1]
    (part,) = set_line(word, "sans", 30.0, 0.0, 0.0)
    page = Page((100.0, 40.0), "", "sans")
    page.text(10.0, 20.0, part.words, 30.0, part.face)
    drawn, ours = drawn_words(page.to_pdf(), FINE)
    assert drawn == word  # and copied as it was typed
    font = ImageFont.truetype(str(font_file(part.face)), 30.0 * FINE, layout_engine=1)
    theirs = Image.new("L", (ours.shape[1], ours.shape[0]), 255)
    at = (10.0 / POINT_MM * FINE, 20.0 / POINT_MM * FINE)
    ImageDraw.Draw(theirs).text(at, word, fill=0, font=font, anchor="ls", features=["-locl"])
    both = [255.0 - ours.ravel(), 255.0 - np.asarray(theirs, float).ravel()]
    # Not shaped they correlate by 0.27 to 0.96; what is left of 1 is smoothing.
    assert np.corrcoef(both)[0, 1] > 0.968


def drawn_words(pdf: bytes, scale: float):
    document = pypdfium2.PdfDocument(pdf)
    try:
        page = document[0]
        words = page.get_textpage().get_text_bounded().strip()
        return words, np.asarray(page.render(scale=scale).to_pil().convert("L"), float)
    finally:
        document.close()


@pytest.mark.parametrize("name", SHAPED_NAMES)
def test_no_line_ends_within_a_letter(name):
    for word in plain_words(name).replace(",", "").split():
        (part,) = set_line(word, "sans", 10.0, 0.0, 0.0)
        units = {one for one, _ in clusters(part.words, part.face)}
        for line in wrapped(word, "sans", 10.0, 6.0):
            assert {one for one, _ in clusters(line, part.face)} <= units


def test_thai_vowels_stay_with_the_consonant_that_they_are_written_before():
    for line in wrapped("เสื้อแดงโทนใหม่ไหม", "sans", 10.0, 5.0):
        assert line[-1] not in "เแโใไ"


def test_a_non_joiner_parts_persian_letters_and_is_not_seen():
    apart, together = joined("می\u200cشود"), joined("میشود")
    assert apart != together
    assert len(apart) == len(together)


def test_runs_of_several_fonts_stand_side_by_side():
    parts = set_line("絹 wool", "sans", 10.0, 5.0, 0.0)
    assert len(parts) > 1
    ends = [part.x_mm + measured_mm(part) for part in parts]
    assert [part.x_mm for part in parts[1:]] == pytest.approx(ends[:-1], abs=0.02)
    assert ends[-1] - 5.0 == pytest.approx(width_mm("絹 wool", "sans", 10.0), abs=0.02)


def test_a_latin_word_is_set_in_one_font():
    parts = set_line("ɗan ƙasa wool", "serif", 10.0, 0.0, 0.0)
    faces = {word: {part.face for part in parts if word in part.words} for word in ("ƙasa", "wool")}
    assert faces["ƙasa"] == {"more"}
    assert faces["wool"] == {"serif"}


def test_a_character_that_no_font_has_is_told_and_leaves_a_box():
    assert missing_in("ᠡᠯ wool ᠡᠯ") == "ᠡᠯ"
    words = "".join(part.words for part in set_line("wool ᠡ", "serif", 10.0, 0.0, 0.0))
    assert words == f"wool {NOT_THERE}"


def test_lines_end_where_people_end_them():
    assert wrapped("weld-dyed wool", "sans", 10.0, 13.0) == ("weld-", "dyed", "wool")
    # A no-break space keeps a number with its unit.
    assert wrapped("alum 12\xa0%", "sans", 10.0, 11.0) == ("alum", "12\xa0%")
    assert wrapped("", "sans", 10.0, 11.0) == ()
    assert wrapped("one\n two\t", "sans", 10.0, 100.0) == ("one two",)


def test_a_heading_of_two_lines_has_no_single_word_left_over():
    name = "weld and chamomile sampler 2"
    width = width_mm(name, "serif", 10.0) - 0.5
    assert wrapped(name, "serif", 10.0, width)[-1] == "2"
    assert balanced(name, "serif", 10.0, width) == ("weld and chamomile", "sampler 2")


# UAX 9, 3.4 "Reordering resolved levels": its examples, where capitals stand for Arabic or Hebrew.
@pytest.mark.parametrize(
    ("read", "seen"),
    [
        ("car means CAR.", "car means RAC."),
        ("CAR MEANS car.", ".car SNAEM RAC"),
    ],
)
def test_letters_from_right_to_left_are_seen_so(read, seen):
    # From Latin capitals to letters that run from right to left, one for one.
    hebrew = {ord("A") + n: chr(0x5D0 + n) for n in range(26)}
    assert as_seen(read.translate(hebrew)) == seen.translate(hebrew)


def test_numbers_and_brackets_between_hebrew_words_keep_their_sense():
    # Worked out by UAX 9 by hand: the number keeps its order, the bracket is mirrored (L4).
    assert as_seen("אב (12) גד") == "דג (12) בא"
    assert as_seen("weld (אב) 50%") == "weld (בא) 50%"


def test_arabic_letters_are_joined():
    # The Unicode Standard, 9.2: waw joins to the right only, so feh after it begins anew.
    names = ["SAD INITIAL", "WAW FINAL", "FEH ISOLATED"]
    letters = [rf"ARABIC LETTER {name} FORM" for name in names]
    assert [unicodedata.name(letter) for letter in joined("صوف")] == letters
    (ligature,) = joined("لا")
    assert unicodedata.name(ligature) == "ARABIC LIGATURE LAM WITH ALEF ISOLATED FORM"
    assert joined("weld 12") == "weld 12"
