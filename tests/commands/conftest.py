"""Commands run in this process, on measurements that are made up where no photo need be read."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from dyeshade import cli
from dyeshade.errors import DyeshadeError
from dyeshade.work import measure_photos
from dyeshade.work.measure_photos import PhotoOutcome
from tests.library.conftest import library, workshop
from tests.work.saving import measured, photo_file

__all__ = ["library", "workshop"]

Run = Callable[..., int]


@pytest.fixture
def run() -> Run:
    return lambda *arguments: cli.main([str(one) for one in arguments])


@pytest.fixture
def photos(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Path, Path]:
    """Two photos of two samples each, which seem to be measured."""

    def seem(paths: list[str], *_: object, **__: object) -> Iterator[PhotoOutcome]:
        for path in paths:
            known = Path(path).is_file()
            yield PhotoOutcome(
                path, measured("A", "B") if known else DyeshadeError("photo_missing")
            )

    monkeypatch.setattr(measure_photos, "measure_photos", seem)
    return photo_file(tmp_path, "one.jpg"), photo_file(tmp_path, "two.jpg")
