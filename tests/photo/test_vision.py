"""The import of cv2 leaves no trace that Qt would stumble over."""

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

from dyeshade.photo import vision

ROOT = Path(__file__).parents[2]
PRINT = (
    "import os; from dyeshade.photo.vision import QT_VARIABLES;"
    "print([os.environ.get(name) for name in QT_VARIABLES])"
)


@pytest.mark.parametrize("value", [None, "mine"])
def test_qts_variables_are_as_they_were(value):
    surroundings = {k: v for k, v in os.environ.items() if k not in vision.QT_VARIABLES}
    if value is not None:
        surroundings |= dict.fromkeys(vision.QT_VARIABLES, value)
    done = subprocess.run(
        [sys.executable, "-c", PRINT],
        cwd=ROOT,
        env=surroundings,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.strip() == str([value, value])
    assert done.stderr == ""


def test_variables_are_put_back_whatever_cv2_does(monkeypatch):
    # On some systems cv2 sets none of them; this does what it does on the others.
    first, second = vision.QT_VARIABLES
    monkeypatch.setenv(first, "mine")
    monkeypatch.delenv(second, raising=False)
    with vision._environment_kept():
        os.environ[first] = "cv2's"
        os.environ[second] = "cv2's"
    assert os.environ[first] == "mine"
    assert second not in os.environ


def test_nobody_else_imports_cv2():
    for path in (ROOT / "dyeshade").rglob("*.py"):
        if path.name == "vision.py" and path.parent.name == "photo":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                assert all(alias.name.split(".")[0] != "cv2" for alias in node.names), path
            if isinstance(node, ast.ImportFrom):
                assert (node.module or "").split(".")[0] != "cv2", path


def test_one_thread_where_photos_are_measured_side_by_side():
    before = vision.cv2.getNumThreads()
    try:
        vision.use_threads(1)
        assert vision.cv2.getNumThreads() == 1
        vision.use_threads(2)
        assert vision.cv2.getNumThreads() == 2
    finally:
        vision.cv2.setNumThreads(before)


def test_less_than_one_thread_is_our_mistake():
    with pytest.raises(ValueError, match="at least one"):
        vision.use_threads(0)
