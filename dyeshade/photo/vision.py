"""The one place that imports cv2; everybody else takes `cv2` from here.

opencv-python points Qt to plugins and fonts of its own by environment variables when it is
imported, and PySide6 would then load the wrong ones. They are put back here.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

QT_VARIABLES: Final = ("QT_QPA_PLATFORM_PLUGIN_PATH", "QT_QPA_FONTDIR")


@contextmanager
def _environment_kept() -> Iterator[None]:
    before = {name: os.environ.get(name) for name in QT_VARIABLES}
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value


with _environment_kept():
    import cv2

# Damaged files are reported by dyeshade in its own words; cv2 would write to stderr as well.
cv2.utils.logging.setLogLevel(cv2.utils.logging.LOG_LEVEL_SILENT)


def use_threads(count: int) -> None:
    """How many threads cv2 may use in this process.

    Photos measured side by side, one worker each, want 1: cv2 would otherwise start as many
    threads in every worker as there are cores.

    Parameters
    ----------
    count : int
        1 or more.

    Raises
    ------
    ValueError
        Below 1 (cv2 itself takes zero and less to mean other things).
    """
    if count < 1:
        raise ValueError(f"at least one thread, not {count}")
    # A count of 1 still wakes cv2's pool; 0 runs on the calling thread alone.
    cv2.setNumThreads(0 if count == 1 else count)


__all__ = ["QT_VARIABLES", "cv2", "use_threads"]
