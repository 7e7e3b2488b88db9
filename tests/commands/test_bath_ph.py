"""``dyeshade bath ph``. The bath is invented."""

import json

import jsonschema
import pytest

from dyeshade import cli
from dyeshade.bath.additives import SODAS, SOLIDS
from dyeshade.resources import resource_path
from dyeshade.words.bath_ph import ADDITIVES, WHICH_SODA, additive_name


def schema(name):
    text = resource_path(f"schemas/{name}.schema.json").read_text(encoding="utf-8")
    return jsonschema.Draft202012Validator(json.loads(text))


ANSWERS, LOGS = schema("bath_ph"), schema("bath_log")
LOG = {
    "litres": 6,
    "water": {"alkalinity_mg_l": 120, "ph": 7.6},
    "holds": [{"add": "alum", "amount": 0.5}],
    "temperature_c": 50,
    "fibre": "protein",
    "target": 8.3,
    "have": [
        {"add": "soda_anhydrous_stock", "percent": 10, "step": 1},
        {"add": "soda_anhydrous", "by": "quarter_teaspoon", "step": 1.2},
        {"add": "vinegar", "percent": 5},
    ],
    "checks": [{"known_ph": 7, "ph": 7.1, "with": "meter"}],
    "steps": [
        {"read": [{"ph": 5.2}, {"ph": 5.0}]},
        {
            "add": "soda_anhydrous",
            "amount": 1.2,
            "measured": "spoon",
            "read": [{"ph": 5.8}, {"ph": 6.0, "with": "meter", "error": 0.1}],
        },
    ],
}


def run(*arguments):
    return cli.main(["bath", "ph", *arguments])


def answer(capsys, *arguments):
    assert run(*arguments, "--json") == 0
    (line,) = capsys.readouterr().out.splitlines()
    found = json.loads(line)
    ANSWERS.validate(found)
    return found


def written(folder, **changed):
    path = folder / "bath.json"
    path.write_text(json.dumps({**LOG, **changed}), encoding="utf-8")
    return str(path)


def test_the_schemas_are_some():
    for one in (ANSWERS, LOGS):
        jsonschema.Draft202012Validator.check_schema(one.schema)
    LOGS.validate(LOG)
    assert not LOGS.is_valid({**LOG, "stirred": True})
    assert not ANSWERS.is_valid({"ph": 7})


def test_every_additive_has_its_name():
    assert set(ADDITIVES) == {one.name for one in SOLIDS} | {"vinegar"}
    assert set(WHICH_SODA) == {one.name for one in SODAS}
    assert additive_name("citric_anhydrous_stock").startswith("stock solution of citric acid")


def test_vinegar_in_water_is_sour(capsys):
    found = answer(capsys, "--litres", "5", "--add", "vinegar:5=100", "--temperature", "80")
    assert found["asked"] == "result"
    assert 3.1 < found["ph_25_c"] < 3.4
    assert found["temperature_c"] == 80.0


def test_hardness_may_be_given_in_degrees(capsys):
    german = answer(
        capsys, "--litres", "5", "--alkalinity", "5.6", "--degrees", "german", "--water-ph", "7.2"
    )
    mg_l = answer(capsys, "--litres", "5", "--alkalinity", "99.95", "--water-ph", "7.2")
    assert german["capacity_mol_l"] == pytest.approx(mg_l["capacity_mol_l"], rel=1e-3)


def test_it_tells_how_much_reaches_a_ph_and_that_a_quarter_teaspoon_jumps(capsys):
    asked = ("--litres", "3", "--alkalinity", "20", "--reach", "9", "--with", "soda_anhydrous")
    found = answer(capsys, *asked, "--quarter-teaspoon", "1.2")
    assert found["ph_25_c"] == pytest.approx(9.0, abs=0.001)
    assert found["amounts"][0]["unit"] == "g"
    assert "quarter_teaspoon_jumps" in [one["code"] for one in found["cautions"]]
    assert run(*asked) == 0
    told = capsys.readouterr().out
    assert "washing soda" in told
    assert "cooled drop" in told
    assert "carbonate holds least" in told


def test_it_tells_what_holds_a_ph(capsys):
    found = answer(
        capsys, "--litres", "5", "--hold", "9.8", "--with", "soda_decahydrate", "--liquor-ph", "6"
    )
    assert [one["add"] for one in found["amounts"]] == ["soda_decahydrate", "hydrogen_carbonate"]
    assert found["cautions"] == []
    assert run("--litres", "5", "--hold", "8.6") == 0
    assert "carbonate holds least" in capsys.readouterr().out


def test_a_log_tells_what_to_add_next(capsys, tmp_path):
    found = answer(capsys, "--log", written(tmp_path))
    assert found["action"] == "add"
    assert found["amounts"][0]["add"].startswith("soda_anhydrous")
    assert found["now"]["low"] < 6.0 < found["now"]["high"]
    assert found["after"]["median"] <= 8.35
    assert (found["floor"], found["ceiling"]) == (3.0, 9.0)
    fewest, most = found["additions_to_come"]
    assert 1 <= fewest <= most


def test_a_log_of_a_bath_gone_too_far_tells_the_way_back(capsys, tmp_path):
    steps = [*LOG["steps"], {"add": "soda_anhydrous", "amount": 8, "read": [{"ph": 9.9}] * 2}]
    path = written(tmp_path, steps=steps)
    found = answer(capsys, "--log", path)
    assert found["way_back"]["amount"]["add"] == "vinegar"
    assert found["way_back"]["salts_g"] > 0
    assert run("--log", path) == 0
    assert "went about" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("--litres", "0"), "no bath"),
        (("--litres", "5", "--reach", "15", "--with", "vinegar"), "no pH 15"),
        (("--litres", "5", "--water-ph", "15"), "There is no pH 15."),
        (
            ("--litres", "5", "--reach", "9", "--with", "soda_opened", "--quarter-teaspoon", "0"),
            "0 is no amount to measure in",
        ),
        (("--litres", "5", "--add", "lye=3"), "no additive lye"),
        (("--litres", "5", "--add", "alum=-3"), "no amount to add"),
        (("--litres", "5", "--temperature", "120"), "no temperature"),
        (("--litres", "5", "--reach", "9", "--with", "vinegar:5"), "leads away"),
        (("--litres", "5", "--hold", "6"), "not at 6"),
        (("--log", "nowhere.json"), "no file"),
    ],
)
def test_what_cannot_be_answered_is_told_in_a_sentence(capsys, arguments, told):
    assert run(*arguments) == 1
    caught = capsys.readouterr()
    assert told in caught.err
    assert caught.out == ""


@pytest.mark.parametrize(
    "arguments",
    [
        (),
        ("--litres", "5", "--reach", "9"),
        ("--litres", "5", "--reach", "9", "--hold", "9"),
        ("--litres", "5", "--add", "alum"),
        ("--litres", "5", "--add", "vinegar:x=3"),
        ("--litres", "5", "--hold", "9", "--with", "vinegar"),
    ],
)
def test_a_question_put_wrongly_is_wrong_usage(arguments):
    with pytest.raises(SystemExit) as ended:
        run(*arguments)
    assert ended.value.code == 2


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        ({"litres": "six"}, 'the file needs a number as "litres"'),
        ({"litres": 10**400}, 'the file needs a number as "litres"'),
        ({"steps": []}, "the liquor as it was"),
        ({"steps": [{"add": "alum", "amount": 1}]}, "the liquor as it was"),
        ({"steps": [{}, {"read": []}]}, '"add" in every step'),
        ({"steps": [{"read": [{"ph": "sour"}]}]}, 'steps 1, read 1 needs a number as "ph"'),
        ({"fibre": "glass"}, "protein or silk or cellulose"),
        ({"stirred": True}, 'no "stirred"'),
        ({"have": {}}, "have needs a list"),
        ({"target": 9.8}, "not between"),
        ({"steps": [{}]}, "No pH was read yet"),
    ],
)
def test_a_log_that_is_wrong_is_told_where(capsys, tmp_path, changed, told):
    assert run("--log", written(tmp_path, **changed)) == 1
    assert told in capsys.readouterr().err


def test_a_log_that_is_no_json_is_told(capsys, tmp_path):
    path = tmp_path / "bath.json"
    path.write_text("{", encoding="utf-8")
    assert run("--log", str(path)) == 1
    assert "no JSON" in capsys.readouterr().err


def test_strong_vinegar_is_warned_of_in_every_answer(capsys, tmp_path):
    strong = ["--litres", "5", "--alkalinity", "120", "--add", "vinegar:30=1"]
    have = [{"add": "vinegar", "percent": 25}, LOG["have"][1]]
    for asked in (
        strong,
        ["--litres", "5", "--alkalinity", "120", "--reach", "5", "--with", "vinegar:25"],
        ["--log", written(tmp_path, have=have)],
    ):
        codes = [one["code"] for one in answer(capsys, *asked)["cautions"]]
        assert codes.count("caution_strong_vinegar") == 1
    mild = answer(capsys, *strong[:-1], "vinegar:5=1")["cautions"]
    assert "caution_strong_vinegar" not in [one["code"] for one in mild]
