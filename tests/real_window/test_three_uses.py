"""The three uses, by mouse and keyboard, in a real window, by somebody who opens no terminal."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader

from dyeshade.cli import main
from dyeshade.library.find import find_shades
from dyeshade.library.library import open_library
from tests.real_window.hands import Hands, missing

EXAMPLES = Path(__file__).parents[2] / "example_images"
DRY, VINEGAR = EXAMPLES / "hw27_1_dry.jpg", EXAMPLES / "hw27_2_vinegar.jpg"

# `.ci/run` installs both; a person's desktop may lack them.
pytestmark = pytest.mark.skipif(
    bool(missing()), reason=f"a display of its own needs {', '.join(missing())}"
)


@pytest.fixture
def hands(tmp_path: Path) -> Iterator[Hands]:
    """A real window before a person with an empty library."""
    home = tmp_path / "home"
    home.mkdir()
    found = Hands(home, tmp_path / "library")
    yield found
    found.close()


def chosen_in_dialog(hands: Hands, path: Path) -> None:
    hands.click("fileNameEdit")
    hands.key("ctrl+a")
    hands.type(str(path))
    hands.key("Return")


def test_measured_rinsed_and_put_on_a_card(
    hands: Hands, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pictures = Path(os.environ.get("DYESHADE_SCREENSHOTS", tmp_path / "pictures"))

    def look(name: str) -> None:
        hands.photograph(pictures / f"{name}.png")

    look("1 start")
    # A finished skein, dry.
    hands.click("Measure photos…")
    chosen_in_dialog(hands, DRY)
    # The skein, and the check standard beside it, which stays without a piece.
    hands.where("text", "2 samples belong to no piece yet")
    hands.fill("Piece", "HW-27")
    hands.fill("Fibre", "wool")
    hands.fill("Mordant", "alum")
    hands.fill("Mordant in per cent of the weight of fibre", "12")
    hands.click("Describe…")
    hands.fill("Dyestuff", "madder")
    hands.fill("Per cent of the weight of fibre", "50")
    hands.fill("pH of the bath at end", "6,9")
    look("2 bath")
    hands.click("Keep")
    look("3 measuring")
    hands.click("As corrected")
    hands.key("ctrl+s")
    hands.where("text", "1 reading is in the library: HW-27.")
    look("4 saved")

    # The same skein, after a vinegar rinse.
    hands.key("ctrl+o")
    chosen_in_dialog(hands, VINEGAR)
    hands.where("row", "hw27_2_vinegar.jpg: 1 sample")
    hands.where("text", "2 samples belong to no piece yet")
    hands.fill("Piece", "HW-27")
    hands.click("Treatments…")
    hands.click("Add a treatment")
    # The new line begins as a rinse, since the piece was in its bath before.
    hands.fill("Bath or substance", "white vinegar", nth=-1)
    hands.fill("pH", "4.5", nth=-1)
    look("5 treatments")
    hands.click("OK")
    hands.click("State")
    hands.type("after a r")
    hands.key("Return")
    look("6 rinsed")
    hands.key("ctrl+s")
    hands.click("Show in the library")
    hands.where("row", "HW-27")
    hands.where("text", "Moved by")
    look("7 library")

    # A plain shade card of both.
    hands.click("HW-27", "row")
    hands.key("ctrl+a")
    hands.click("Make a shade card")
    hands.fill("Title", "Madder, before and after")
    look("8 card")
    card = tmp_path / "card.pdf"
    hands.click("Save the card as PDF…")
    chosen_in_dialog(hands, card)
    hands.where("text", "2 shades on 1 page")
    hands.click("The sheet")
    look("9 sheet")
    hands.click("Look", "menu")
    hands.click("Dark", "menu")
    for name in ("Start", "Measuring", "The library", "Shade card", "The sheet"):
        hands.click(name)
        look(f"dark {name}")
    hands.close()

    text = PdfReader(card).pages[0].extract_text()
    assert "Madder, before and after" in text
    assert text.count("HW-27") == 2
    with open_library(tmp_path / "library") as library:
        first, second = find_shades(library)
    assert (first.reading.state, second.reading.state) == ("dry", "after_rinse")
    assert (first.conditions.ph("bath_end"), second.conditions.ph("rinse")) == (6.9, 4.5)
    for shade, photo in ((first, DRY), (second, VINEGAR)):
        assert main(["measure", str(photo), "--json"]) == 0
        sample = json.loads(capsys.readouterr().out)["samples"][0]
        assert [round(value, 4) for value in shade.reading.lab] == sample["lab"]
        assert round(shade.reading.u95, 4) == sample["u95"]
