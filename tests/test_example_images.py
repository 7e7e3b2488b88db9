"""The main job on the example images: every piece is read, and the stated uncertainty holds."""

import json
from pathlib import Path

import jsonschema
import pytest

import dyeshade
from dyeshade import cli
from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.resources import resource_path

IMAGES = Path(dyeshade.__file__).resolve().parent.parent / "example_images"
# Made by the renderer of the photos, not by what reads them.
TRUTH = json.loads((IMAGES / "truth.json").read_text(encoding="utf-8"))["photos"]
SCHEMA = json.loads(resource_path("schemas/measure.schema.json").read_text(encoding="utf-8"))


def measured(capsys, paths):
    code = cli.main(["measure", "--json", *map(str, paths)])
    lines = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    for line in lines:
        jsonschema.Draft202012Validator(SCHEMA).validate(line)
    return code, lines


def test_every_piece_is_read_within_its_uncertainty(capsys):
    photos = sorted(IMAGES.glob("*.jpg"))
    assert {path.name for path in photos} == set(TRUTH)
    code, lines = measured(capsys, photos)
    assert code == 0
    shares = []
    for line in lines:
        truth = TRUTH[Path(line["photo"]).name]
        assert line["sheet"]["serial"] == truth["serial"]
        assert line["taken"].startswith(truth["taken"])
        assert {sample["name"] for sample in line["samples"]} == set(truth["samples"])
        for sample in line["samples"]:
            true = truth["samples"][sample["name"]]["lab"]
            shares.append(float(ciede2000(sample["lab"], true)) / sample["u95"])
    within = sum(share <= 1 for share in shares)
    assert within >= 0.9 * len(shares)
    assert max(shares) <= 1.5


def test_photos_beyond_help_are_refused_with_their_reason(capsys):
    code, lines = measured(capsys, sorted((IMAGES / "refused").glob("*.jpg")))
    assert code == 1
    reasons = {Path(line["photo"]).stem: line["error"]["code"] for line in lines}
    assert reasons == {"sheet_cut_off": "too_few_marks", "too_blurred": "too_blurred"}


@pytest.mark.parametrize("path", sorted(IMAGES.glob("*.jpg")), ids=lambda path: path.stem)
def test_images_say_that_they_are_renders(path):
    assert b"Render" in path.read_bytes()[:4096]
