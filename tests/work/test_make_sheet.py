"""A sheet is made with its page and its layout, which is the contract with other programs."""

import json

import jsonschema
import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.resources import resource_path
from dyeshade.sheet.serial import check_serial
from dyeshade.work.make_sheet import make_sheet

SCHEMA = json.loads(resource_path("schemas/layout.schema.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("cells", ["six", "one"])
@pytest.mark.parametrize("colours", [False, True])
def test_page_and_layout_are_written(tmp_path, paper, cells, colours):
    page, layout = tmp_path / "sheet.pdf", tmp_path / "sheet.json"
    made = make_sheet(paper, cells, colours, page, layout)
    told = json.loads(layout.read_text(encoding="utf-8"))
    jsonschema.validate(told, SCHEMA, jsonschema.Draft202012Validator)
    assert page.read_bytes().startswith(b"%PDF-")
    assert told["serial"] == made.serial
    assert len(told["cells"]) == {"six": 6, "one": 1}[cells]
    assert bool(told["colours"]) == colours


def test_every_sheet_has_a_serial_of_its_own(tmp_path):
    serials = {make_sheet("A4", "six", False, tmp_path / "s.pdf").serial for _ in range(3)}
    assert len(serials) == 3
    assert all(check_serial(serial) for serial in serials)


def test_a_folder_that_is_not_there_is_told(tmp_path):
    with pytest.raises(DyeshadeError, match="cannot_write"):
        make_sheet("A4", "six", False, tmp_path / "none" / "sheet.pdf")
    with pytest.raises(DyeshadeError, match="cannot_write"):
        make_sheet("A4", "six", False, tmp_path / "s.pdf", tmp_path / "none" / "sheet.json")
