"""How many threads numerical libraries may start."""

import os

LIBRARIES = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS")
"""Variables by which they are told."""


def one_thread_each() -> None:
    """Let numerical libraries work without threads of their own, unless the user said otherwise.

    To be called before numpy is imported. What is solved here is small: threads would wait for each
    other all the while, turning, which costs more than the work itself; side by side they would
    fight.
    """
    for library in LIBRARIES:
        os.environ.setdefault(library, "1")
