"""Questions to the library from the command line, for people and for programs."""

import json
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from dyeshade.library.dye_records import Piece, Treatment
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading
from dyeshade.library.treatments import add_treatment
from dyeshade.resources import resource_path
from tests.commands.conftest import Run
from tests.insight.series import turning
from tests.library.workshop import DAY, SILK, WELD, WOOL, a_bath, a_dyed_piece, a_photo, a_reading

SHARP = {
    "covariance_photo": (0.02, 0, 0, 0.02, 0, 0.02),
    "covariance_common": (0.1, 0, 0, 0.1, 0, 0.1),
}


@pytest.fixture
def folder(library: Library) -> Path:
    """Weld dyed along pH on two fibres and repeated, a faded piece, and a tile."""
    with library.edit("demo") as edit:
        code = 1
        for ph in (5.0, 6.0, 7.0, 7.0, 8.0, 9.0):
            bath = a_bath(edit, f"bath-{code:03d}", ph, WELD)
            for fibre, shift in ((WOOL, 0.0), (SILK, 6.0)):
                lab = turning(ph) + np.array([shift + (code % 3) * 0.4, 0.0, 0.0])
                values = {f"lab_{k}": float(v) for k, v in zip("lab", lab, strict=True)}
                a_dyed_piece(
                    edit, f"{fibre.name[0].upper()}-{code:03d}", fibre, bath, **values, **SHARP
                )
                code += 1
        piece = find_piece(edit, "W-001").id
        wash = Treatment(piece, "wash", substance="soap", started=DAY + timedelta(days=20))
        add_treatment(edit, wash)
        washed = a_reading(piece, sample="washed", state="after_wash", lab_l=80.0, **SHARP)
        keep_reading(edit, replace(washed, read=DAY + timedelta(days=30)))
        photo = edit.add(a_photo())
        for sample, state, fade in (("left", "dry", 0.0), ("right", "after_light", 9.0)):
            half = a_reading(
                piece, sample=sample, state=state, lab_b=61.0 - fade, photo_id=photo, **SHARP
            )
            keep_reading(edit, replace(half, method_version=1, read=DAY + timedelta(days=60)))
        tile = edit.add(Piece("TILE-1"))
        for k in range(12):
            shift = 5.0 if k == 11 else 0.3 * (k % 3)
            reading = a_reading(tile, sample=f"T{k}", lab_l=40.0 + shift)
            keep_reading(edit, replace(reading, read=DAY + timedelta(days=k)))
    library.close()
    return library.folder


Asked = pytest.CaptureFixture[str]


def contract(command: str) -> jsonschema.Draft202012Validator:
    path = resource_path(f"schemas/{command.replace('-', '_')}.schema.json")
    return jsonschema.Draft202012Validator(json.loads(path.read_text(encoding="utf-8")))


def records(run: Run, capsys: Asked, folder: Path, *words: str) -> list[dict]:
    assert run(words[0], "--library", folder, "--json", *words[1:]) == 0
    captured = capsys.readouterr()
    assert captured.err == ""
    found = [json.loads(line) for line in captured.out.splitlines()]
    for one in found:
        contract(words[0]).validate(one)
    return found


def told(run: Run, capsys: Asked, folder: Path, *words: str) -> str:
    assert run(words[0], "--library", folder, *words[1:]) == 0
    return " ".join(capsys.readouterr().out.split())


def test_drift(run: Run, capsys: Asked, folder: Path) -> None:
    (found,) = records(run, capsys, folder, "drift", "w-001")
    assert found["piece"] == "W-001"
    assert found["verdict"] in {"moved", "still_moving"}
    first, *others = found["readings"]
    assert first["reading"] == found["base"]
    assert first["since_base"] is None
    assert [one["kind"] for one in others[0]["treatments"]] == ["wash"]
    for one in others:
        change = one["since_base"]
        assert change["low"] <= change["delta_e_2000"] <= change["high"]
        assert 1 <= change["grade_worst"] <= change["grade_value"] <= change["grade_best"] <= 5
    text = told(run, capsys, folder, "drift", "W-001", "--since", str(others[0]["reading"]))
    assert "the others are set beside this one" in text
    assert "wash soap" in text
    assert "the camera" in text


def test_fastness(run: Run, capsys: Asked, folder: Path) -> None:
    found = records(run, capsys, folder, "fastness", "W-001")
    assert [one["home_test"] for one in found] == ["light", "wash"]
    light = found[0]["steps"][0]
    assert light["in_one_photo"]
    assert "less_vivid" in light["ways"]
    assert all(one["certificate"] is False for one in found)
    text = told(run, capsys, folder, "fastness", "W-001", "--test", "light")
    assert "home test of light" in text
    assert "not a certificate" in text


def test_fastness_of_named_readings_with_white_cloth_and_blue_wools(
    run: Run, capsys: Asked, folder: Path
) -> None:
    (drift,) = records(run, capsys, folder, "drift", "W-001")
    ids = [one["reading"] for one in drift["readings"]]
    pair = f"{ids[0]}:{ids[1]}"
    words = ("--test", "light", "--pair", pair, "--white", pair, "--bluewool", f"4={pair}")
    (found,) = records(run, capsys, folder, "fastness", "W-001", *words)
    assert found["staining"][0]["grade"] in {"5", "4-5", "4", "3-4", "3", "2-3", "2", "1-2", "1"}
    assert found["blue_wools"]["alike"] == [4]


def test_ph_series(run: Run, capsys: Asked, folder: Path) -> None:
    wanted = ",".join(f"{value:.1f}" for value in turning(7.5) + np.array([0.4, 0.0, 0.0]))
    words = ("ph-series", "--dyestuff", "weld", "--which-ph", "bath_start", "--wanted", wanted)
    wool, silk, beside = records(run, capsys, folder, *words)
    assert {wool["fibre"], silk["fibre"]} == {"wool", "silk"}
    assert wool["baths"] == 6
    if wool["fibre"] == "silk":
        wool = silk
    assert wool["wanted"]["low"] <= 7.5 <= wool["wanted"]["high"]
    assert len(wool["curve"]) == 61
    assert not any(value["beyond"] for value in wool["curve"])
    assert [one["significant"] for one in beside["beside"]].count(True) >= 5
    text = told(run, capsys, folder, *words, "--fibre", "wool")
    assert "6 baths" in text
    assert "The wanted shade comes nearest at pH 7." in text
    assert "Most would be learnt about the wanted shade" in text


def test_nearest(run: Run, capsys: Asked, folder: Path) -> None:
    found = records(run, capsys, folder, "nearest", "75,-5,60", "--most", "3")
    assert len(found) == 3
    sizes = [one["delta_e_2000"] for one in found]
    assert sizes == sorted(sizes)
    assert all(0 <= one["chance_below"] <= 1 for one in found)
    (silk,) = records(run, capsys, folder, "nearest", "W-007", "--fibre", "silk", "--most", "1")
    assert silk["shade"]["fibre"] == "silk"
    own = records(run, capsys, folder, "nearest", "W-007")
    assert "W-007" not in {one["shade"]["piece"] for one in own}
    for one in own:
        contract("shades").validate(one["shade"])
    assert "within ΔE00 3" in told(run, capsys, folder, "nearest", "#d6c84a", "--tolerance", "3")


def test_repeatability(run: Run, capsys: Asked, folder: Path) -> None:
    (found,) = records(run, capsys, folder, "repeatability", "--dyestuff", "weld")
    assert found["measuring"]["stated"]
    assert found["between_baths"]["sd"] >= 0
    assert {group["fibre"] for group in found["groups"]} >= {"wool", "silk"}
    text = told(run, capsys, folder, "repeatability")
    assert "The smallest difference that you can claim between two baths is" in text


def test_check_standard(run: Run, capsys: Asked, folder: Path) -> None:
    (found,) = records(run, capsys, folder, "check-standard", "TILE-1")
    assert found["warns"]
    assert ["L*", "beyond_limits"] in found["sessions"][-1]["warnings"]
    text = told(run, capsys, folder, "check-standard", "TILE-1")
    assert "The latest session warns" in text


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("drift W-999", "There is no piece W-999"),
        ("drift W-001 --since 99999", "has no reading 99999"),
        ("ph-series --dyestuff cochineal", "No such shade has a pH."),
        ("ph-series --dyestuff weld --which-ph extraction", "a pH of the extraction"),
        ("nearest 300,0,0", "is no colour"),
        ("nearest #12", "is no colour"),
        ("repeatability --fibre linen", "Nothing was dyed twice"),
        ("check-standard W-003", "needed for a chart"),
        ("fastness W-003", "home test yet"),
    ],
)
def test_where_there_is_no_answer_it_says_why(
    run: Run, capsys: Asked, folder: Path, words: str, says: str
) -> None:
    command, *others = words.split()
    assert run(command, "--library", folder, *others) == 1
    captured = capsys.readouterr()
    assert captured.out == ""
    assert says in captured.err


@pytest.mark.parametrize(
    "words",
    [
        "fastness W-001 --pair 1:2",
        "fastness W-001 --test wash --bluewool 3=1:2",
        "fastness W-001 --test light --bluewool 9=1:2",
        "fastness W-001 --test light --pair 1-2",
        "nearest 1,2,3 --most 0",
        "nearest 1,2,3 --tolerance 0",
        "ph-series --dyestuff weld --which-ph any",
        "ph-series",
        "check-standard TILE-1 --learn 2",
        "drift",
    ],
)
def test_wrong_usage_ends_with_2(run: Run, capsys: Asked, words: str) -> None:
    with pytest.raises(SystemExit) as ended:
        run(*words.split())
    assert ended.value.code == 2
    assert capsys.readouterr().out == ""


def test_an_empty_library_has_nothing_near(run: Run, capsys: Asked, library: Library) -> None:
    library.close()
    assert records(run, capsys, library.folder, "nearest", "50,0,0") == []
    assert "There is no shade" in told(run, capsys, library.folder, "nearest", "50,0,0")
