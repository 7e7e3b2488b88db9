"""A regions file is read as drawn; whatever is wrong in it is said with its place."""

import json

import jsonschema
import numpy as np
import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.resources import resource_path
from dyeshade.words.refusals import refusal_text
from dyeshade.work.regions_file import read_regions

SQUARE = [[10, 10], [60, 10], [60, 60], [10, 60]]
GREY = {"corners": SQUARE, "reflectance": 0.18}
SAMPLE = {"name": "weld on wool", "corners": SQUARE}
GOOD = {"greys": [GREY], "samples": [SAMPLE]}


def schema():
    return json.loads(resource_path("schemas/regions.schema.json").read_text(encoding="utf-8"))


def written(folder, contents):
    path = folder / "regions.json"
    path.write_text(contents if isinstance(contents, str) else json.dumps(contents), "utf-8")
    return path


def test_greys_and_samples_are_read_as_drawn(tmp_path):
    regions = read_regions(written(tmp_path, GOOD))
    assert regions.greys[0].reflectance == 0.18
    assert regions.samples[0].name == "weld on wool"
    np.testing.assert_array_equal(regions.samples[0].corners, SQUARE)
    jsonschema.validate(GOOD, schema(), jsonschema.Draft202012Validator)


def test_corners_may_go_round_either_way(tmp_path):
    turned = {"greys": [{**GREY, "corners": SQUARE[::-1]}], "samples": [SAMPLE]}
    assert read_regions(written(tmp_path, turned)).greys[0].corners[0].tolist() == [10, 60]


def test_a_file_saved_with_a_byte_order_mark_is_read(tmp_path):
    path = tmp_path / "regions.json"
    path.write_text(json.dumps(GOOD), encoding="utf-8-sig")
    assert len(read_regions(path).samples) == 1


OUTSIDE_THE_SCHEMA = [
    ([], "regions_not_object", "one object"),
    ({"samples": [SAMPLE]}, "regions_no_greys", "greys"),
    ({"greys": [], "samples": [SAMPLE]}, "regions_no_greys", "greys"),
    ({"greys": [GREY]}, "regions_no_samples", "samples"),
    ({**GOOD, "gray": 1}, "regions_unknown", "gray"),
    ({"greys": [GREY, 7], "samples": [SAMPLE]}, "regions_corners", "grey 2"),
    ({"greys": [{**GREY, "corners": SQUARE[:3]}], "samples": [SAMPLE]}, "regions_corners", "four"),
    ({"greys": [{"corners": SQUARE}], "samples": [SAMPLE]}, "regions_reflectance", "grey 1"),
    ({"greys": [{**GREY, "reflectance": 18}], "samples": [SAMPLE]}, "regions_reflectance", "0.18"),
    ({"greys": [{**GREY, "reflectance": 0}], "samples": [SAMPLE]}, "regions_reflectance", "above"),
    ({"greys": [{**GREY, "reflectance": True}], "samples": [SAMPLE]}, "regions_reflectance", "1"),
    ({"greys": [{**GREY, "name": "x"}], "samples": [SAMPLE]}, "regions_unknown", "name"),
    ({"greys": [GREY], "samples": [{"corners": SQUARE}]}, "regions_name", "sample 1"),
    ({"greys": [GREY], "samples": [{**SAMPLE, "name": " "}]}, "regions_name", "sample 1"),
]


@pytest.mark.parametrize(("contents", "code", "said"), OUTSIDE_THE_SCHEMA)
def test_what_the_schema_forbids_is_refused_in_words(tmp_path, contents, code, said):
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(contents, schema(), jsonschema.Draft202012Validator)
    with pytest.raises(DyeshadeError) as caught:
        read_regions(written(tmp_path, contents))
    assert caught.value.code == code
    assert said in refusal_text(caught.value)


CROSSED = [[10, 10], [60, 60], [60, 10], [10, 60]]
FLAT = [[10, 10], [20, 10], [30, 10], [40, 10]]
BEYOND_THE_SCHEMA = [
    ('{"greys": [', "regions_not_json", "line 1"),
    ('{"greys": [{"corners": [[NaN,1],[2,1],[2,2],[1,2]]}]}', "regions_no_samples", "samples"),
    (json.dumps(GOOD).replace("[60, 60]", "[NaN, 60]"), "regions_corners", "grey 1"),
    (
        json.dumps(GOOD).replace("[60, 60]", f"[{10**400}, 60]"),
        "regions_corners",
        "grey 1",
    ),
    ("[" * 100_000, "regions_unreadable", "odd"),
    ({"greys": [{**GREY, "corners": CROSSED}], "samples": [SAMPLE]}, "regions_crossed", "order"),
    ({"greys": [GREY], "samples": [{**SAMPLE, "corners": FLAT}]}, "regions_crossed", "sample 1"),
    ({"greys": [GREY], "samples": [SAMPLE, SAMPLE]}, "regions_same_name", "weld on wool"),
    ({"greys": [GREY], "samples": [{**SAMPLE, "name": "a\u001bb"}]}, "regions_name", "sample 1"),
]


@pytest.mark.parametrize(("contents", "code", "said"), BEYOND_THE_SCHEMA)
def test_what_no_schema_can_tell_is_refused_in_words(tmp_path, contents, code, said):
    with pytest.raises(DyeshadeError) as caught:
        read_regions(written(tmp_path, contents))
    assert caught.value.code == code
    assert said in refusal_text(caught.value)


def test_a_file_that_is_not_there_or_is_no_text_is_refused(tmp_path):
    with pytest.raises(DyeshadeError, match="regions_missing"):
        read_regions(tmp_path / "none.json")
    with pytest.raises(DyeshadeError, match="regions_unreadable"):
        read_regions(tmp_path)
    (tmp_path / "photo.json").write_bytes(b"\xff\xd8\xff\xe0")
    with pytest.raises(DyeshadeError, match="regions_unreadable"):
        read_regions(tmp_path / "photo.json")
