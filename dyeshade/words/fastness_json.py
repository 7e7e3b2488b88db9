"""What home fastness tests came to, as plain values for JSON."""

from __future__ import annotations

from collections.abc import Sequence

from dyeshade.insight.fastness import BesideBlueWools, HomeStep, HomeTest, Staining
from dyeshade.words.drift_json import DIGITS, change_record, size_record


def home_test_records(piece: str, tests: Sequence[HomeTest]) -> list[dict[str, object]]:
    """Home tests of a piece, one record each."""
    return [
        {
            "piece": piece,
            "home_test": test.kind,
            "certificate": False,
            "begun": None if test.begun is None else test.begun.isoformat(),
            "steps": [_step(step) for step in test.steps],
            "staining": [_stain(one) for one in test.staining],
            "blue_wools": _beside(test.beside_blue_wools),
        }
        for test in tests
    ]


def _step(step: HomeStep) -> dict[str, object]:
    return {
        "read": step.read.isoformat(),
        "in_one_photo": step.in_one_photo,
        **(change_record(step.change) or {}),
        "staining": [_stain(one) for one in step.staining],
        "blue_wools": [
            {"number": number, **(change_record(change) or {})}
            for number, change in step.blue_wools.items()
        ],
    }


def _stain(stain: Staining) -> dict[str, object]:
    return {
        **size_record(stain.size),
        "grade": stain.half,
        "grade_value": round(stain.grade, DIGITS),
        "grade_worst": round(stain.worst, DIGITS),
        "grade_best": round(stain.best, DIGITS),
    }


def _beside(beside: BesideBlueWools | None) -> dict[str, object] | None:
    if beside is None:
        return None
    return {
        "faded_more": beside.faded_more,
        "faded_less": beside.faded_less,
        "alike": list(beside.alike),
    }
