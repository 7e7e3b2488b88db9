"""A file that describes pieces and baths is read whole, or says where it is wrong."""

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.resources import resource_path
from dyeshade.words.refusals import refusal_text
from dyeshade.work.pieces_file import read_pieces
from dyeshade.work.said import SaidAddition, SaidDye, SaidTreatment

VALID = jsonschema.Draft202012Validator(
    json.loads(resource_path("schemas/pieces.schema.json").read_text(encoding="utf-8"))
)
WHOLE: dict[str, Any] = {
    "note": "for people",
    "baths": [
        {
            "code": "bath-001",
            "dyestuffs": [
                {"name": "weld", "part": "tops", "form": "fresh", "ratio": 2, "origin": "garden"}
            ],
            "exhaust_of": "bath-000",
            "started": "2026-03-01",
            "water": "rain water",
            "vessel": "steel pot",
            "liquor_ratio": 30,
            "temperature_c": 80,
            "minutes": 60,
            "additions": [{"substance": "washing soda", "amount": 2, "unit": "g", "ph_after": 8.4}],
            "ph": {"extraction": 6, "bath_start": 8.4, "bath_end": 8},
            "note": "cloudy",
        }
    ],
    "samples": [
        {
            "sample": "A",
            "photo": "weld.jpg",
            "piece": "W-001",
            "name": "first skein",
            "fibre": "wool",
            "fibre_make": "2-ply yarn",
            "mordant": "alum",
            "mordant_percent_wof": 12,
            "weight_g": 50,
            "bath": "bath-001",
            "treatments": [
                {"kind": "mordant", "substance": "alum", "amount": 12, "unit": "% wof"},
                {"kind": "overdye", "bath": "bath-002"},
                {"kind": "dip", "started": "2026-03-02T08:30", "ph": 4, "minutes": 5},
            ],
            "state": "after_rinse",
            "read": "2026-03-03T10:15:07",
            "note": "uneven",
        },
        {"sample": "B"},
    ],
}


def read(folder: Path, contents: object) -> Any:
    file = folder / "pieces.json"
    file.write_text(contents if isinstance(contents, str) else json.dumps(contents), "utf-8")
    return read_pieces(file)


def test_all_of_it_is_read(tmp_path: Path) -> None:
    VALID.validate(WHOLE)
    found = read(tmp_path, WHOLE)
    (bath,) = found.baths
    assert bath.dyes == (SaidDye("weld", "tops", "fresh", 2.0, "garden"),)
    assert bath.additions == (SaidAddition("washing soda", 2.0, "g", 8.4),)
    assert bath.phs == (("extraction", 6.0), ("bath_start", 8.4), ("bath_end", 8.0))
    assert (bath.exhaust_of, bath.started) == ("bath-000", datetime(2026, 3, 1))
    first, second = found.samples
    assert (first.sample, first.photo, first.said.piece) == ("A", "weld.jpg", "W-001")
    assert first.said.treatments[2] == SaidTreatment(
        "dip", started=datetime(2026, 3, 2, 8, 30), ph=4.0, minutes=5.0
    )
    assert first.said.read == datetime(2026, 3, 3, 10, 15, 7)
    assert (second.sample, second.photo, second.said.piece) == ("B", "", "")
    for entry, made in ((WHOLE["samples"][0], first.said), (WHOLE["baths"][0], bath)):
        blank = {name for name in vars(made) if getattr(made, name) in ("", None, ())}
        assert not blank, entry


def changed(place: list[str | int], value: object) -> dict[str, Any]:
    whole: Any = json.loads(json.dumps(WHOLE))
    at = whole
    for step in place[:-1]:
        at = at[step]
    at[place[-1]] = value
    return dict(whole)


@pytest.mark.parametrize(
    ("place", "value", "told"),
    [
        (["sample"], [], '"sample" in the file means nothing'),
        (["samples"], {}, '"samples" in the file must be a list'),
        (["samples", 1], 3, '"sample 2" in it must be an object'),
        (["samples", 1, "sample"], "", '"sample" in sample 2 must be a text in one line'),
        (["samples", 1], {}, 'sample 2 needs "sample"'),
        (["samples", 0, "state"], "damp", '"state" in sample 1 must be one of wet, dry'),
        (["samples", 0, "weight_g"], 0, '"weight_g" in sample 1 must be a number above 0'),
        (["samples", 0, "weight_g"], True, '"weight_g" in sample 1 must be a number above 0'),
        (["samples", 0, "read"], "soon", '"read" in sample 1 must be a time, as'),
        (["samples", 0, "treatments", 0, "bath"], "b", '"kind" in treatment 1 of sample 1'),
        (["samples", 0, "treatments", 0, "ph"], 5, '"kind" in treatment 1 of sample 1'),
        (["samples", 0, "treatments", 2, "ph"], 15, "must be a pH from 0 to 14"),
        (["baths", 0, "ph", "rinse"], 5, '"rinse" in ph of bath 1 means nothing'),
        (["baths", 0, "dyestuffs", 0, "form"], "raw", "must be one of fresh, dried, extract"),
        (["baths", 0, "additions", 0], {}, 'addition 1 of bath 1 needs "substance"'),
        (["samples", 1], {"sample": "A", "photo": "weld.jpg"}, "describes weld.jpg A twice"),
    ],
)
def test_what_is_wrong_is_said_with_its_place(
    tmp_path: Path, place: list[str | int], value: object, told: str
) -> None:
    wrong = changed(place, value)
    with pytest.raises(DyeshadeError) as refused:
        read(tmp_path, wrong)
    assert told in refusal_text(refused.value)
    # What a schema cannot say: one sample twice, and which treatments have a bath or a pH.
    if "twice" not in told and '"kind"' not in told and "a time" not in told:
        assert not VALID.is_valid(wrong)


@pytest.mark.parametrize(
    ("contents", "code"),
    [("[1,", "pieces_not_json"), ("[" * 100000, "pieces_unreadable"), ("{}", "pieces_lacks")],
)
def test_a_file_that_is_none_is_refused(tmp_path: Path, contents: str, code: str) -> None:
    with pytest.raises(DyeshadeError) as refused:
        read(tmp_path, contents)
    assert refused.value.code == code


def test_a_missing_file_or_a_folder_is_told(tmp_path: Path) -> None:
    for path, code in ((tmp_path / "none.json", "pieces_missing"), (tmp_path, "pieces_unreadable")):
        with pytest.raises(DyeshadeError) as refused:
            read_pieces(path)
        assert refused.value.code == code
