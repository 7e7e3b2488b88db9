"""Texts come out of a table as they went in, and none begins as a formula."""

from hypothesis import given
from hypothesis import strategies as st

from dyeshade.exchange.text_cells import text_cell

RUN = tuple("=+-@\t\r＝＋－＠")


def text_of_cell(cell: str) -> str:
    """As who reads the table gets the text back."""
    hidden = cell.startswith("'") and cell.lstrip("'").startswith(RUN)
    return cell[1:] if hidden else cell


@given(st.text(alphabet="'=+-@\t\r weld木=", max_size=5))
def test_any_text_comes_back(text: str):
    cell = text_cell(text)
    assert text_of_cell(cell) == text
    assert not cell.startswith(("=", "+", "-", "@", "\t", "\r"))


def test_other_texts_stay_as_they_are():
    assert [text_cell(one) for one in ("weld", "'tis", "3-ply", "")] == [
        "weld",
        "'tis",
        "3-ply",
        "",
    ]
