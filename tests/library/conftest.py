"""An empty library, and one of the Hollow Weir Dye Room, invented like all that is in it."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from dyeshade.library.library import Library, create_library
from tests.library.workshop import fill


@pytest.fixture
def library(tmp_path: Path) -> Iterator[Library]:
    with create_library(tmp_path / "shades") as made:
        yield made


@pytest.fixture
def workshop(library: Library) -> Library:
    fill(library)
    library.forget_undo()
    return library
