"""What every test finds: no screen, one thread to each numerical library."""

import os
from pathlib import Path

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
# Tests run side by side; a thread pool in each of them would only get in the others' way.
for _variable in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
    os.environ.setdefault(_variable, "1")


@pytest.fixture(scope="session")
def measured_before(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where `tests.measured_once` keeps what was measured in this run."""
    from tests.measured_once import memory_of

    return memory_of(tmp_path_factory)


@pytest.fixture
def photos_measured_once(monkeypatch: pytest.MonkeyPatch, measured_before: Path) -> None:
    """Photos are measured in this process, and each of them once in a run of the tests."""
    from dyeshade.work import measure_photos
    from tests.measured_once import measuring_here

    monkeypatch.setattr(measure_photos, "run_each", measuring_here(measured_before))
