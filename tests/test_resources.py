"""The files that come along are found from a checkout, an editable install and a wheel."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

import dyeshade
from dyeshade.resources import resource_path

CHECKOUT = Path(dyeshade.__file__).resolve().parent.parent
NAME = "schemas/measure.schema.json"
ASK = (
    "import site, sys; site.addsitedir(sys.argv[1]); sys.path.insert(0, sys.argv[1]);"
    "import json, dyeshade; from dyeshade.resources import resource_path;"
    "print(json.dumps([dyeshade.__file__, str(resource_path(sys.argv[2]))]))"
)


def asked(folder):
    """Where a fresh Python that sees this folder finds the package and a resource."""
    done = subprocess.run(
        [sys.executable, "-I", "-S", "-c", ASK, folder, NAME],
        capture_output=True,
        text=True,
        check=True,
        cwd=folder,
    )
    return [Path(path) for path in json.loads(done.stdout)]


def installed(folder, *what):
    pip = [sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--no-build-isolation"]
    alone = ["--no-index", "--disable-pip-version-check", "--root-user-action=ignore"]
    subprocess.run([*pip, *alone, "--target", folder, *what], check=True, cwd=folder)


def test_from_a_checkout():
    package, resource = asked(CHECKOUT)
    assert package.parent.parent == CHECKOUT
    assert resource == CHECKOUT / "resources" / NAME


def test_from_an_editable_install_the_living_file_is_found(tmp_path):
    installed(tmp_path, "--editable", CHECKOUT)
    package, resource = asked(tmp_path)
    assert package.parent.parent == CHECKOUT
    assert resource == CHECKOUT / "resources" / NAME


def test_from_a_wheel_every_file_is_there(tmp_path):
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", tmp_path / "built"]
    subprocess.run(build, check=True, cwd=CHECKOUT, capture_output=True)
    (wheel,) = (tmp_path / "built").glob("dyeshade-*.whl")
    home = tmp_path / "installed"
    home.mkdir()
    installed(home, wheel)
    package, resource = asked(home)
    assert package == home / "dyeshade" / "__init__.py"
    root = home / "dyeshade" / "_resources"
    assert resource == root / NAME
    ours = CHECKOUT / "resources"
    for path in ours.rglob("*"):
        if path.is_file():
            assert (root / path.relative_to(ours)).read_bytes() == path.read_bytes()


def test_a_broken_installation_says_what_is_missing():
    with pytest.raises(FileNotFoundError, match="no-such-file"):
        resource_path("no-such-file")
