"""``dyeshade bath amounts``. The workshop's figures are invented."""

import json
import subprocess
import sys

import jsonschema
import pytest

from dyeshade import cli
from dyeshade.resources import resource_path

VALID = jsonschema.Draft202012Validator(
    json.loads(resource_path("schemas/bath_amounts.schema.json").read_text(encoding="utf-8"))
)
WELD_ON_WOOL = (
    *("--fibre", "W-014: wool 100 g", "--fibre", "W-015: wool 140 g"),
    *("--dyestuff", "weld dried 2:1", "--yield", "weld dried 20 %"),
    *("--mordant", "alum 15 %", "--mordant", "cream of tartar 6 % on wool"),
    *("--liquor", "30:1"),
)


def run(*arguments):
    return cli.main(["bath", "amounts", *arguments])


def record(capsys, *arguments):
    assert run(*arguments, "--json") == 0
    (line,) = capsys.readouterr().out.splitlines()
    found = json.loads(line)
    VALID.validate(found)
    return found


def test_the_schema_is_one():
    jsonschema.Draft202012Validator.check_schema(VALID.schema)
    assert not VALID.is_valid({"fibre_g": 240})


def test_a_bath_reads_as_a_table(capsys):
    assert run(*WELD_ON_WOOL, "--have", "weld fresh 1.2 kg") == 0
    told = capsys.readouterr().out.splitlines()
    assert told[:12] == [
        "240 g (8.47 oz) of fibre, dry: 2 pieces",
        "",
        "  weld, dried      480 g (1 lb 0.9 oz)   2:1",
        "    or fresh       2.4 kg (5 lb 4.7 oz)",
        "  alum             36 g (1.27 oz)        15 % wof",
        "  cream of tartar  14.4 g (0.508 oz)     6 % of the wool",
        "  water            7.2 L (1.9 US gal)    30:1",
        "",
        (
            "weld, dried: 480 g (1 lb 0.9 oz) needed, 240 g (8.47 oz) at hand: 240 g (8.47 oz) "
            "lacking;"
        ),
        "  it is enough for 120 g (4.23 oz) of fibre.",
        "",
        "Cautions:",
    ]
    assert "safety data sheet" in told[12]


def test_a_bath_for_programs(capsys):
    found = record(capsys, *WELD_ON_WOOL)
    assert found["fibre_g"] == 240
    weld, alum, tartar, water = found["lines"]
    assert (weld["planned"], weld["also"]) == (480, [{"form": "fresh", "grams": 2400}])
    assert (alum["planned"], tartar["planned"], water["planned"]) == (36, 14.4, 7.2)
    assert water["unit"] == "L"
    assert found["pots"] == []
    assert found["warnings"] == []
    codes = [one["code"] for one in found["cautions"]]
    assert codes[0] == "caution_comes_first"
    assert "caution_mordants" in codes


def test_pots_exhaust_baths_and_what_there_is(capsys):
    found = record(
        capsys,
        *WELD_ON_WOOL,
        *("--pot", "enamel 6 L", "--exhaust", "silk 50 g, 40 %", "--exhaust", "silk 25 g, 50 %"),
        *("--have", "weld dried 120 g"),
    )
    assert [pot["fibre_g"] for pot in found["pots"]] == [100, 140]
    assert [pot["lines"][1]["planned"] for pot in found["pots"]] == [15, 21]
    first, second = found["exhaust_baths"]
    assert (first["dyestuffs"][0]["left_g"], second["dyestuffs"][0]["left_g"]) == (192, 96)
    assert second["dyestuffs"][0]["ratio_left"] == 3.84
    (weld,) = found["at_hand"]
    assert (weld["needed_g"], weld["left_g"], weld["lacking_g"]) == (480, 120, 360)
    assert (weld["enough"], weld["enough_for_fibre_g"]) == (False, 60)


def test_enough_for_240_g_at_two_to_one(capsys):
    there = ("--have", "weld dried 300 g", "--have", "weld fresh 1 kg")
    (weld,) = record(capsys, *WELD_ON_WOOL, *there)["at_hand"]
    assert weld["enough"] is True
    assert weld["take"] == [{"form": "dried", "grams": 300}, {"form": "fresh", "grams": 900}]
    arguments = ("--fibre", "wool 100 g", "--dyestuff", "weld dried 2:1", *there)
    found = record(capsys, *arguments)
    assert [one["code"] for one in found["warnings"]] == ["lot_not_counted"]
    assert found["at_hand"][0]["left_g"] == 300


def test_loose_fibre_is_shared_out_equally(capsys):
    arguments = ("--fibre", "wool 1 kg", "--liquor", "1:30", "--pot", "20 L", "--loose")
    assert [pot["fibre_g"] for pot in record(capsys, *arguments)["pots"]] == [500, 500]


def test_a_pot_without_a_liquor_ratio_is_not_passed_over_in_silence(capsys):
    found = record(capsys, "--fibre", "wool 1 kg", "--pot", "enamel 3 L")
    assert [one["code"] for one in found["warnings"]] == ["pot_without_liquor"]


def test_spoons_are_those_that_the_dyer_has(capsys):
    arguments = ("--fibre", "wool 100 g", "--mordant", "alum 15 %", "--mordant", "moss 2 %")
    assert record(capsys, *arguments)["lines"][0]["level_spoons"] is None
    us = record(capsys, *arguments, "--spoon", "us")["lines"][0]["level_spoons"]
    metric = record(capsys, *arguments, "--spoon", "metric")["lines"][0]["level_spoons"]
    assert (us["count"], us["spoon"]) == (3.5, "US tsp")
    assert metric["spoon"] == "metric tsp"
    assert metric["low_g"] < 15 < metric["high_g"]
    assert run(*arguments, "--spoon", "us") == 0
    assert "about 3 1/2 level US tsp" in capsys.readouterr().out


def test_ten_spoons_weighed_replace_the_range_of_tables(capsys):
    arguments = ("--fibre", "wool 100 g", "--mordant", "alum 15 %", "--spoon", "metric")
    table = record(capsys, *arguments)["lines"][0]["level_spoons"]
    own = record(capsys, *arguments, "--ten", "alum 50 g")["lines"][0]["level_spoons"]
    assert (own["count"], own["grams"]) == (3, 15)
    assert own["high_g"] - own["low_g"] < table["high_g"] - table["low_g"]
    fine = record(capsys, *arguments, "--ten", "alum 50 g", "--balance", "0.1 g")
    fine = fine["lines"][0]["level_spoons"]
    assert fine["high_g"] - fine["low_g"] < own["high_g"] - own["low_g"]


def test_ten_spoons_of_which_kind_is_asked(capsys):
    with pytest.raises(SystemExit) as ended:
        run("--fibre", "wool 100 g", "--ten", "alum 50 g")
    assert ended.value.code == 2
    assert "which spoons were weighed" in capsys.readouterr().err


def test_units_that_the_dyer_uses_come_first(capsys):
    assert run("--fibre", "wool 1 lb 4 oz", "--liquor", "30:1", "--units", "us") == 0
    told = capsys.readouterr().out
    assert told.startswith("1 lb 4 oz (567 g) of fibre, dry: 1 piece\n")
    assert "4.49 US gal (17 L)" in told


def test_what_is_unusual_is_told_by_the_dyers_own_range(capsys):
    arguments = ("--fibre", "wool 100 g", "--mordant", "iron 5 %")
    assert [one["code"] for one in record(capsys, *arguments)["warnings"]] == ["outside_range"]
    own = record(capsys, *arguments, "--usual", "iron 1 to 6 % on wool")
    assert own["warnings"] == []


@pytest.mark.parametrize(
    ("arguments", "code", "told"),
    [
        (["--fibre", "wool 12 lbb"], 2, '--fibre: There is no unit "lbb"'),
        (["--fibre", "wool -2 g"], 2, "--fibre: An amount is never below 0"),
        (["--fibre", "wool 2 kg", "--pot", "0 L"], 2, "--pot: An amount above 0 is needed"),
        (["--fibre", "wool 2 kg", "--liquor", "soup"], 2, '--liquor: There is no ratio in "soup"'),
        (["--fibre", "wool 2 kg", "--have", "weld 2 kg"], 2, "--have: There is no ratio for weld"),
        (["--fibre", "wool 2 kg", "--exhaust", "silk 50 g"], 2, "--exhaust: There should be"),
        (["--fibre", "wool 2 kg", "--mordant", "chrome 2 %"], 1, "Not supported: chrome."),
        (["--fibre", "wool 2 kg", "--liquor", "30", "--pot", "9 L"], 1, "The piece wool (2000 g)"),
        (
            ["--fibre", "wool 1 kg", "--spoon", "us", "--ten", "alum 0 g"],
            2,
            '--ten: An amount above 0 is needed, and "0 g" is nothing.',
        ),
    ],
)
def test_what_cannot_be_is_answered_in_a_sentence(arguments, code, told, capsys):
    assert run(*arguments, "--json") == code
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.startswith(told)
    assert captured.err.count("\n") == 1


def test_help_answers_without_what_is_slow_to_import():
    slow = ["cv2", "numpy", "scipy", "colour", "PIL", "PySide6", "reportlab"]
    ask = (
        "import sys, dyeshade.commands.bath_amounts\n"
        f"sys.exit(str([name for name in {slow} if name in sys.modules]))"
    )
    done = subprocess.run([sys.executable, "-c", ask], capture_output=True, text=True, check=False)
    assert done.stderr.strip() == "[]"
