"""The set-up script does nothing where all is there, and names what is missing where it may not."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from dyeshade.resources import resource_path

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="wheels bring all elsewhere")

SCRIPT = resource_path("install/system-libraries.sh")
TOOLS = ("sh", "uname", "id", "echo", "find", "head", "python3", "env")


def machine(folder, libraries, installs=False):
    """A search path with the plain tools, and an `ldconfig` and perhaps `apt-get` of our own."""
    tools = folder / "tools"
    tools.mkdir()
    for name in TOOLS:
        # Ours rather than the one on the path: that may be a wrapper that needs more tools.
        found = os.path.realpath(sys.executable) if name == "python3" else shutil.which(name)
        assert found
        (tools / name).symlink_to(found)
    told = "".join(f"\\t{name} (libc6,x86-64) => /lib/{name}\\n" for name in libraries)
    (tools / "ldconfig").write_text(f"#!/bin/sh\nprintf '{told}'\n")
    if installs:
        (tools / "apt-get").write_text(f'#!/bin/sh\necho "$@" >> "{folder}/asked"\n')
        # Whoever runs the tests is root here.
        (tools / "id").unlink()
        (tools / "id").write_text("#!/bin/sh\necho 0\n")
    for name in ("ldconfig", "apt-get", "id"):
        if (tools / name).exists() and not (tools / name).is_symlink():
            (tools / name).chmod(0o755)
    fonts = folder / "home" / ".fonts"
    fonts.mkdir(parents=True)
    (fonts / "a.ttf").touch()
    return {"PATH": str(tools), "HOME": str(folder / "home")}


def run(environment):
    shell = Path(environment["PATH"]) / "sh"
    return subprocess.run(
        [shell, SCRIPT],
        env=environment,
        capture_output=True,
        text=True,
        check=False,
        stdin=subprocess.DEVNULL,
    )


def all_libraries():
    words = SCRIPT.read_text(encoding="utf-8").split()
    return [word for word in words if ".so." in word]


def test_where_all_is_there_it_says_and_does_nothing(tmp_path):
    done = run(machine(tmp_path, all_libraries(), installs=True))
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
    assert not (tmp_path / "asked").exists()


def test_where_it_may_not_install_it_names_what_measuring_lacks_and_stops(tmp_path):
    there = [name for name in all_libraries() if name != "libGL.so.1"]
    done = run(machine(tmp_path, there))
    assert done.returncode == 1
    assert "Measuring needs" in done.stderr
    assert done.stderr.splitlines()[0].endswith(": libgl1")


def test_what_only_the_window_lacks_does_not_stop_the_measuring(tmp_path):
    there = [name for name in all_libraries() if name != "libxcb-cursor.so.0"]
    done = run(machine(tmp_path, there))
    assert done.returncode == 0
    assert done.stderr.endswith(": libxcb-cursor0\n")


def test_where_it_may_it_asks_for_just_what_is_missing(tmp_path):
    there = [name for name in all_libraries() if name != "libEGL.so.1"]
    done = run(machine(tmp_path, there, installs=True))
    asked = (tmp_path / "asked").read_text().splitlines()
    assert asked[0] == "update -q"
    assert asked[1] == "install -q -y --no-install-recommends libegl1"
    # This machine's apt-get brings nothing, so what is missing is named after all.
    assert "The window needs" in done.stderr


def test_the_script_is_plain_shell():
    assert SCRIPT.read_text(encoding="utf-8").startswith("#!/bin/sh\n")
    dash = shutil.which("dash") or "sh"
    subprocess.run([dash, "-n", os.fspath(SCRIPT)], check=True)
