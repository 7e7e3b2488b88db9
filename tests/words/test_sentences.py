"""Everything that the floors below can state has a sentence, and every sentence is needed."""

import string

import pytest

from dyeshade.errors import DyeshadeError, Notice
from dyeshade.library.tables import TABLES as TABLES_OF_THE_LIBRARY
from dyeshade.measure.lights import KINDS
from dyeshade.words.cautions import CAUTIONS, caution_text
from dyeshade.words.lights import LIGHTS
from dyeshade.words.record_names import RECORD_NAMES
from dyeshade.words.refusals import REFUSALS, refusal_text
from tests.words.raised import stated

TABLES = {"DyeshadeError": REFUSALS, "Notice": CAUTIONS}


@pytest.mark.parametrize("kind", TABLES)
def test_every_code_has_a_sentence_and_every_sentence_a_code(kind):
    codes = {one.code for one in stated(kind)}
    assert codes == set(TABLES[kind])


@pytest.mark.parametrize("kind", TABLES)
def test_whoever_states_a_code_gives_the_facts_of_its_sentence(kind):
    for one in stated(kind):
        sentence = TABLES[kind].get(one.code)
        if isinstance(sentence, str) and one.facts is not None:
            needed = {name for _, name, _, _ in string.Formatter().parse(sentence) if name}
            assert needed <= one.facts, f"{one.place}: {one.code} lacks {needed - one.facts}"


@pytest.mark.parametrize("table", TABLES.values())
def test_sentences_are_sentences(table):
    for code, sentence in table.items():
        if isinstance(sentence, str):
            assert sentence[0].isupper() or sentence[0] == "{", code
            assert sentence.endswith("."), code
            assert "  " not in sentence, code


def test_a_refusal_says_what_is_wrong_and_what_to_do():
    text = refusal_text(DyeshadeError("too_few_marks", seen=1, needed=4))
    assert text == (
        "Only 1 mark of the reference sheet could be seen, and 4 are needed. "
        "Take the whole sheet into the photo and keep yarn off its marks."
    )


def test_sizes_and_bytes_of_a_photo_that_is_too_large_are_told_apart():
    pixels = refusal_text(DyeshadeError("photo_too_large", width=40000, height=9, most=1))
    assert "40000 x 9 pixels" in pixels
    assert "file" in refusal_text(DyeshadeError("photo_too_large", bytes=1 << 40))


def test_a_caution_about_one_sample_names_it():
    notice = Notice("darker_than_greys")
    assert caution_text(notice, "B2").startswith("B2: It is darker than the darkest grey")


def test_cautions_with_numbers_of_their_own_agree_in_number():
    assert caution_text(Notice("more_sheets", {"others": 1})).startswith(
        "1 more reference sheet is"
    )
    assert caution_text(Notice("more_sheets", {"others": 2})).startswith("2 more reference sheets")
    assert caution_text(Notice("few_greys", {"greys": 1})).startswith("Only 1 grey was drawn")


def test_every_light_has_its_words_and_an_assumed_one_is_named():
    assert set(LIGHTS) == set(KINDS)
    assert "daylight from a window" in caution_text(Notice("light_assumed", {"light": "window"}))


def test_a_code_without_a_sentence_is_our_mistake_and_crashes():
    with pytest.raises(KeyError):
        refusal_text(DyeshadeError("never_heard_of"))


def test_kinds_of_records_are_told_in_words_and_with_what_to_do_next():
    assert set(RECORD_NAMES) == set(TABLES_OF_THE_LIBRARY)
    used = DyeshadeError("still_used", kind="bath", id=3, by="bath_dyestuff", count=2)
    assert refusal_text(used) == (
        "This bath cannot be removed: 2 dyestuffs of baths need it. Remove those first, or leave "
        "it."
    )
    for code in ("record_gone", "changed_elsewhere"):
        told = refusal_text(DyeshadeError(code, kind="sheet_reading", id=3))
        assert "measured sheet" in told
        assert "_" not in told
    lost = refusal_text(DyeshadeError("piece_unknown", piece="X-1", near=[]))
    assert lost.endswith("Look up its id there, or keep the piece first.")
