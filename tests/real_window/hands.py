"""Mouse and keyboard on a display without a screen, and a camera for what is seen on it."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

from PIL import ImageGrab

ROOT = Path(__file__).parents[2]
PATIENCE_S = 120.0
NEEDED = ("Xvfb", "xdotool")


def missing() -> list[str]:
    """Programs that this needs and that are not here."""
    return [name for name in NEEDED if shutil.which(name) is None]


class Hands:
    """A window on a display of its own, and hands before it.

    Parameters
    ----------
    home : Path
        A new home folder, so that nothing of the person's own is touched.
    library : Path
    """

    def __init__(self, home: Path, library: Path) -> None:
        read, write = os.pipe()
        self._x = subprocess.Popen(
            ["Xvfb", "-displayfd", str(write), "-screen", "0", "1280x860x24", "-nolisten", "tcp"],
            pass_fds=[write],
            stderr=subprocess.DEVNULL,
        )
        os.close(write)
        with os.fdopen(read) as told:
            self.display = ":" + told.readline().strip()
        self._env = {
            **os.environ,
            "DISPLAY": self.display,
            "QT_QPA_PLATFORM": "xcb",
            "HOME": str(home),
            "XDG_CONFIG_HOME": str(home / "config"),
            "XDG_DATA_HOME": str(home / "data"),
            "PYTHONPATH": str(ROOT),
        }
        self._host = subprocess.Popen(
            [sys.executable, "-m", "tests.real_window.host", str(library)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            cwd=ROOT,
            env=self._env,
        )
        assert self._hear() == "open"

    def where(self, what: str, words: str, nth: int = 0) -> tuple[int, int]:
        """Where something stands, as soon as it does; the first of its name unless told."""
        end = time.monotonic() + PATIENCE_S
        while time.monotonic() < end:
            found = self._ask(f"{what} {words}")
            assert isinstance(found, list)
            if found:
                return int(found[nth][0]), int(found[nth][1])
            time.sleep(0.1)
        raise AssertionError(f"there is no {what} “{words}” to be seen")

    def click(self, words: str, what: str = "widget", nth: int = 0) -> None:
        """Click on something."""
        x, y = self.where(what, words, nth)
        self._do("mousemove", x, y, "click", 1)
        time.sleep(0.15)

    def drag(self, start: tuple[int, int], end: tuple[int, int]) -> None:
        """Drag with the left button held."""
        self._do("mousemove", *start, "mousedown", 1)
        steps = 6
        for step in range(1, steps + 1):
            x = start[0] + (end[0] - start[0]) * step // steps
            y = start[1] + (end[1] - start[1]) * step // steps
            self._do("mousemove", x, y)
            time.sleep(0.03)
        self._do("mouseup", 1)
        time.sleep(0.2)

    def type(self, text: str) -> None:
        """Type on the keyboard."""
        self._do("type", "--delay", 12, text)
        time.sleep(0.1)

    def key(self, *keys: str) -> None:
        """Press keys, as "ctrl+s", one after the other."""
        self._do("key", "--delay", 40, *keys)
        time.sleep(0.15)

    def fill(self, field: str, text: str, nth: int = 0) -> None:
        """Click into a field, put a text in place of what it holds, and go on to the next."""
        self.click(field, nth=nth)
        self.key("ctrl+a")
        self.type(text)
        self.key("Tab")

    def photograph(self, path: Path) -> None:
        """Keep what is seen."""
        time.sleep(0.4)
        path.parent.mkdir(parents=True, exist_ok=True)
        ImageGrab.grab(xdisplay=self.display).save(path)

    def close(self) -> None:
        """Close the window as a person does, and clear up; once closed it stays so."""
        if self._host.poll() is not None:
            return
        self.key("ctrl+q")
        try:
            self._host.wait(30)
        finally:
            self._host.kill()
            self._host.communicate()
            self._x.terminate()
            self._x.wait(10)

    def _ask(self, question: str) -> object:
        assert self._host.stdin is not None
        self._host.stdin.write(question + "\n")
        self._host.stdin.flush()
        return self._hear()

    def _hear(self) -> object:
        assert self._host.stdout is not None
        line = self._host.stdout.readline()
        assert line, "the window is gone"
        return json.loads(line)

    def _do(self, *words: object) -> None:
        subprocess.run(
            ["xdotool", *map(str, words)], env=self._env, check=True, stdout=subprocess.DEVNULL
        )
