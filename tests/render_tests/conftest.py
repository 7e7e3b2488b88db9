"""One small sheet for all tests of the renderer."""

from __future__ import annotations

import pytest

from tests.render import Sheet, stand_in_sheet


@pytest.fixture(scope="session")
def sheet() -> Sheet:
    return stand_in_sheet(px_per_mm=4)
