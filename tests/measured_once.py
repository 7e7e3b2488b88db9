"""What is measured in the example photos is measured once in a run of the tests, and remembered.

For tests to which the numbers are given, or which look at what is done with them. That photos are
measured in processes of their own, and what comes out, is looked at by those that measure anew:
``tests/test_example_images.py``, ``tests/work/test_measure_photos.py``, ``tests/test_cli.py``.
"""

from __future__ import annotations

import hashlib
import os
import pickle
import time
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

import pytest

from dyeshade.work.side_by_side import Finished

Found = TypeVar("Found")

PATIENCE_S = 120.0
"""How long one test process waits for what another has begun; after that it works it out itself."""


def memory_of(factory: pytest.TempPathFactory) -> Path:
    """A folder that all processes of this run share, and no other run."""
    base = factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        # Each worker has a folder of its own in the run's.
        base = base.parent
    folder = base / "measured once"
    folder.mkdir(exist_ok=True)
    return folder


def once(folder: Path, asked: object, photo: str, make: Callable[[], Found]) -> Found:
    """What `make` gives, made by the first process that asks for it.

    Parameters
    ----------
    folder : Path
        Of `memory_of`.
    asked : object
        All that the result depends on beside the photo's bytes; pickled.
    photo : str
        The photo's path. What is not there is not remembered.
    make : callable
        Its result is pickled.
    """
    try:
        content = Path(photo).read_bytes()
    except OSError:
        return make()
    key = hashlib.sha256(pickle.dumps(asked) + content).hexdigest()
    kept, begun = folder / key, folder / f"{key}.begun"
    try:
        os.close(os.open(begun, os.O_CREAT | os.O_EXCL))
    except FileExistsError:
        until = time.monotonic() + PATIENCE_S
        while begun.exists() and not kept.exists() and time.monotonic() < until:
            time.sleep(0.02)
        return pickle.loads(kept.read_bytes()) if kept.exists() else make()
    try:
        found = make()
        half = folder / f"{key}.half"
        half.write_bytes(pickle.dumps(found))
        half.replace(kept)
    except BaseException:
        begun.unlink()
        raise
    return found


def measuring_here(folder: Path) -> Callable[..., Iterator[Finished[Any]]]:
    """Stands in for `run_each` in `measure_photos`: in this process, and each photo once."""

    def run(
        job: partial[Any], photos: Sequence[str], workers: int | None = None
    ) -> Iterator[Finished[Any]]:
        for number, photo in enumerate(photos):
            asked = (job.func.__qualname__, photo, job.keywords)
            yield Finished(number, once(folder, asked, photo, partial(job, photo)))

    return run
