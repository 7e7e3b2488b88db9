"""README tells what the program does, command by command, and its set-up commands hold together."""

import argparse
import re
import subprocess
from pathlib import Path

import dyeshade
from dyeshade.cli import _parser

ROOT = Path(dyeshade.__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")


def commands_of_the_parser(parser=None, before=""):
    """Commands by name, and questions below them as "bath amounts"."""
    found = {}
    for action in (parser or _parser())._actions:
        if isinstance(action, argparse._SubParsersAction):
            for name, command in action.choices.items():
                found[before + name] = command
                found |= commands_of_the_parser(command, f"{before}{name} ")
    return found


def test_every_command_and_option_is_in_the_readme():
    for name, command in commands_of_the_parser().items():
        assert f"dyeshade {name}" in README
        for action in command._actions:
            for option in set(action.option_strings) - {"-h", "--help"}:
                assert option in README, f"{name} {option}"
            for choice in action.choices or ():
                assert choice in README, f"{name} {choice}"


def test_every_option_in_the_readme_is_there():
    known = {
        option
        for command in commands_of_the_parser().values()
        for action in command._actions
        for option in action.option_strings
    }
    told = set(re.findall(r"`(--[a-z][a-z-]*)", README))
    assert told
    assert told <= known


def test_files_that_the_readme_names_are_there():
    named = set(re.findall(r"(?:resources|tests)/[\w/.-]+", README))
    assert "resources/install/system-libraries.sh" in named
    for name in named:
        assert (ROOT / name).exists(), name


def test_the_checks_run_the_test_command_of_the_readme():
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    (pattern,) = re.findall(r"grep -E '([^']+)' README.md", ci)
    found = subprocess.run(
        ["grep", "-cE", pattern, "README.md"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert found.stdout == "1\n"


def test_the_top_level_holds_what_it_should():
    listed = {path.name for path in ROOT.iterdir()}
    assert listed >= {
        "DEVELOPERS.md",
        "LICENSE",
        "README.md",
        "dyeshade",
        "example_images",
        "pyproject.toml",
        "resources",
        "tests",
    }
