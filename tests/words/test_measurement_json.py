"""The JSON line keeps its contract."""

import json

import jsonschema
import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.resources import resource_path
from dyeshade.words.measurement_json import as_line, measured, refused
from tests.words import measurements

SCHEMA = json.loads(resource_path("schemas/measure.schema.json").read_text(encoding="utf-8"))
VALID = jsonschema.Draft202012Validator(SCHEMA)


@pytest.mark.parametrize("name", ["layout", "measure", "regions"])
def test_the_schemas_are_schemas(name):
    text = resource_path(f"schemas/{name}.schema.json").read_text(encoding="utf-8")
    jsonschema.Draft202012Validator.check_schema(json.loads(text))


def read_back(record):
    line = as_line(record)
    assert "\n" not in line
    VALID.validate(json.loads(line))
    return json.loads(line)


def test_a_measured_photo():
    line = read_back(measured("folder/weld.jpg", measurements.with_sheet()))
    assert line["photo"] == "folder/weld.jpg"
    assert line["taken"] == "2026-03-02T11:20:05+01:00"
    assert line["sheet"] == {
        "paper": "A4",
        "cells": "six",
        "serial": "K7QF-3M9T",
        "version": 1,
        "residual": 0.0123,
    }
    assert (line["white"], line["observer"]) == ("D65", "2")
    first, second = line["samples"]
    assert first["lab"] == [52.0, 10.0, 33.0]
    assert first["covariance"]["photo"][1] == [0.0, 0.3, 0.0]
    assert first["covariance"]["common"][2][2] == 0.7
    assert first["flags"] == []
    assert second["flags"] == ["darker_than_greys"]
    assert [part["share"] for part in second["shades"]] == [0.7, 0.3]
    assert [told["code"] for told in line["warnings"]] == ["light_assumed", "darker_than_greys"]
    assert line["warnings"][1]["text"].startswith("B2: ")


def test_a_photo_with_greys_drawn_by_hand_has_no_sheet():
    line = read_back(measured("card.png", measurements.by_hand()))
    assert line["sheet"] is None
    assert line["taken"] is None
    assert line["camera"] is None


def test_a_refused_photo():
    assert read_back(refused("x.jpg", DyeshadeError("photo_missing"))) == {
        "photo": "x.jpg",
        "error": {"code": "photo_missing", "text": "There is no such file."},
    }


def test_any_name_of_a_file_fits_into_ascii():
    line = as_line(refused("färberwau \udcff.jpg", DyeshadeError("photo_missing")))
    assert line.isascii()
    assert json.loads(line)["photo"] == "färberwau \udcff.jpg"


def test_a_number_that_is_none_crashes_rather_than_being_written():
    sample = measurements.sample(u95=float("nan"))
    broken = measurements.Measurement("x", None, None, None, "led", (sample,))
    with pytest.raises(ValueError, match="JSON"):
        as_line(measured("x", broken))


def test_the_schema_tells_a_broken_line():
    line = json.loads(as_line(measured("x", measurements.with_sheet())))
    del line["samples"][0]["u95"]
    assert not VALID.is_valid(line)
    assert not VALID.is_valid({"photo": "x"})
