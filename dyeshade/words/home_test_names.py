"""What home fastness tests are called. Light to import: refusals say it too."""

from __future__ import annotations

from collections.abc import Mapping

TESTS: Mapping[str, str] = {
    "light": "light",
    "wash": "washing",
    "acid_dip": "an acid dip",
    "alkaline_dip": "an alkaline dip",
    "rubbing": "rubbing",
}
"""Words for each of `dyeshade.insight.fastness.TESTS`."""
