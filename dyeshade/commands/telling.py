"""How commands end, and what they say to people besides their results."""

from __future__ import annotations

import sys

ALL_DONE, SOME_NOT, WRONG_USAGE = 0, 1, 2
INTERRUPTED = 130


class WrongUsage(Exception):  # noqa: N818 - what a person did, as the exit code calls it
    """A command that was called wrongly in a way that its parser can't know."""


def tell(text: str) -> None:
    """Words for people, off the way of what programs read."""
    print(text, file=sys.stderr)


class ProgressBar:
    """How far the photos are, in one line that is wiped again; nothing where nobody watches."""

    def __init__(self) -> None:
        self._watched = sys.stderr.isatty()
        self._wide = 0

    def show(self, done: int, count: int) -> None:
        """Draw it for `done` of `count` photos."""
        if not self._watched or done == count:
            return
        filled = 24 * done // count
        text = f"[{'#' * filled}{'.' * (24 - filled)}] {done} of {count} photos"
        print("\r" + text, end="", file=sys.stderr, flush=True)
        self._wide = len(text)

    def clear(self) -> None:
        """Wipe it, so that other lines can be written."""
        if self._wide:
            print("\r" + " " * self._wide + "\r", end="", file=sys.stderr, flush=True)
            self._wide = 0
