"""Numerical libraries are told of their threads before they are there to count them."""

import os
import subprocess
import sys

import pytest

from dyeshade.threads import LIBRARIES, one_thread_each

_STARTED = """
import os, sys
for library in {libraries}:
    os.environ.pop(library, None)
from dyeshade import __main__
assert "numpy" not in sys.modules
class Told:
    def find_spec(self, name, path=None, target=None):
        if name == "numpy":
            print([os.environ.get(library) for library in {libraries}])
            raise SystemExit
sys.meta_path.insert(0, Told())
sys.argv = ["dyeshade", *{words}]
__main__.main()
"""


@pytest.mark.parametrize("words", [[], ["measure", "photo.jpg"]])
def test_window_and_commands_start_with_one_thread_each(words):
    code = _STARTED.format(libraries=LIBRARIES, words=words)
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == str(["1"] * len(LIBRARIES))


def test_who_wants_more_threads_keeps_them(monkeypatch):
    monkeypatch.setenv(LIBRARIES[0], "4")
    monkeypatch.delenv(LIBRARIES[1], raising=False)
    one_thread_each()
    assert [os.environ[library] for library in LIBRARIES] == ["4", "1"]
