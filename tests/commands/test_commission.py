"""``dyeshade commission``: agree on a shade, judge dyeings, list what they came to."""

import json

import jsonschema
import pytest

from dyeshade.library.library import Library
from dyeshade.resources import resource_path
from tests.commands.conftest import Run

SCHEMA = json.loads(resource_path("schemas/commission.schema.json").read_text(encoding="utf-8"))


def test_a_commission_from_agreeing_to_its_result(
    run: Run, workshop: Library, capsys: pytest.CaptureFixture[str]
) -> None:
    workshop.close()
    place = ("--library", workshop.folder)
    assert run("commission", "list", *place) == 0
    assert "no commission yet" in capsys.readouterr().out
    terms = ("--what", "shawl", "--for", "the mill shop", "--due", "2026-06-01", "--weight", 350)
    assert run("commission", "agree", "W-001", *terms, *place) == 0
    told = capsys.readouterr().out
    assert told.startswith("commission-001, shawl for the mill shop: L* 78.0")
    assert "350 g of fibre" in told
    assert "due on 1 June 2026" in told
    assert run("commission", "judge", "commission-001", "W-003", *place) == 0
    assert "W-003: met, ΔE00 0.0 (0 to" in capsys.readouterr().out
    assert run("commission", "list", "--json", *place) == 0
    (record,) = map(json.loads, capsys.readouterr().out.splitlines())
    jsonschema.Draft202012Validator(SCHEMA).validate(record)
    assert (record["verdict"], record["of_piece"]) == ("met", "W-001")
    assert run("commission", "judge", "commission-009", "W-003", *place) == 1
    assert "no commission commission-009" in capsys.readouterr().err
