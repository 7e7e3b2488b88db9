"""The layout as JSON is a contract with other programs."""

import json
from itertools import product

import jsonschema
import pytest

from dyeshade.resources import resource_path
from dyeshade.sheet.layout import build_layout
from dyeshade.sheet.layout_json import layout_from_json, layout_to_json

KINDS = list(product(("A4", "Letter"), ("six", "one"), (False, True)))


@pytest.mark.parametrize(("paper", "cells", "colours"), KINDS)
def test_layout_comes_back_from_its_json(paper, cells, colours):
    layout = build_layout(paper, cells, colours, "K7QF-3M9G")
    values = json.loads(json.dumps(layout_to_json(layout)))
    back = layout_from_json(values)
    assert layout_to_json(back) == values
    assert (back.paper, back.cells_kind, back.with_colours) == (paper, cells, colours)
    assert back.serial_code == layout.serial_code
    for one, two in zip(back.patches, layout.patches, strict=True):
        assert one.name == two.name
        assert one.reflectance == two.reflectance
        assert one.corners == pytest.approx(two.corners, abs=1e-4)


@pytest.mark.parametrize(("paper", "cells", "colours"), KINDS)
def test_json_follows_its_schema(paper, cells, colours):
    schema = json.loads(resource_path("schemas/layout.schema.json").read_text(encoding="utf-8"))
    values = layout_to_json(build_layout(paper, cells, colours, "K7QF-3M9G"))
    jsonschema.validate(values, schema, jsonschema.Draft202012Validator)


def test_json_holds_what_the_contract_names_and_nothing_else():
    values = layout_to_json(build_layout("A4", "six", True, "K7QF-3M9G"))
    assert list(values) == [
        "schema",
        "paper_mm",
        "serial",
        "paper_reflectance",
        "ink_reflectance",
        "patches",
        "colours",
        "cells",
        "marks",
    ]
    assert set(values["patches"][0]) == {"name", "x_mm", "y_mm", "w_mm", "h_mm", "reflectance"}
    assert set(values["colours"][0]) == {"name", "x_mm", "y_mm", "w_mm", "h_mm"}
    assert set(values["marks"][0]) == {"ident", "x_mm", "y_mm", "size_mm"}


def test_another_schema_is_refused():
    values = layout_to_json(build_layout("A4", "six", False)) | {"schema": "dyeshade-layout-9"}
    with pytest.raises(ValueError, match="dyeshade-layout-9"):
        layout_from_json(values)
