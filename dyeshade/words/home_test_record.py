"""Home tests that were set up: lines for people, and plain values for JSON."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from datetime import datetime

from dyeshade.words.dye_words import day_words
from dyeshade.words.home_test_words import (
    CAUTIONS,
    HOME_TEST,
    ONE_PHOTO,
    SET_UP,
    TESTS,
    beside_words,
    due_words,
    kept_test_words,
    plan_words,
    reminder_words,
)
from dyeshade.work.home_tests_kept import KeptTest, days_of

_WIDE = 90


def how_lines(kind: str) -> list[str]:
    """How a test is done at home, and what to mind."""
    lines = [f"Home test of {TESTS[kind]}"]
    for number, step in enumerate((*SET_UP[kind], ONE_PHOTO), 1):
        lines += textwrap.wrap(
            step, _WIDE, initial_indent=f"  {number}. ", subsequent_indent="     "
        )
    if CAUTIONS[kind]:
        lines.append("Mind:")
        for caution in CAUTIONS[kind]:
            lines += textwrap.wrap(caution, _WIDE, initial_indent="  - ", subsequent_indent="    ")
    return [*lines, *textwrap.wrap(HOME_TEST, _WIDE)]


def set_up_lines(test: KeptTest) -> list[str]:
    """What was set up, how it is done, and when its photos are due."""
    record = test.record
    return [
        f"{kept_test_words(test)}, begun on {day_words(record.begun)}",
        *textwrap.wrap(plan_words(record.begun, days_of(record)), _WIDE),
        "",
        *how_lines(record.kind),
    ]


def listed_lines(tests: Sequence[KeptTest], now: datetime) -> list[str]:
    """Tests that were set up, a line for each."""
    if not tests:
        return ["No home test was set up yet."]
    return [f"{kept_test_words(one)}; {_how_far(one)}{due_words(one, now)}" for one in tests]


def due_lines(tests: Sequence[KeptTest], now: datetime) -> list[str]:
    """What is to be photographed, a sentence for each test."""
    if not tests:
        return ["No photo of a home test is due."]
    return [reminder_words(one, now) for one in tests]


def _how_far(test: KeptTest) -> str:
    beside = beside_words(test)
    count = len(test.photos)
    photos = "no photo yet" if count == 0 else f"{count} photo{'s' if count > 1 else ''}"
    return "".join(f"{words}, " for words in (beside, photos) if words)


def home_test_record(test: KeptTest, now: datetime) -> dict[str, object]:
    """A test that was set up, ready for `json.dumps`."""
    record = test.record
    return {
        "piece": test.piece,
        "home_test": record.kind,
        "certificate": False,
        "begun": record.begun.isoformat(),
        "ended": None if record.ended is None else record.ended.isoformat(),
        "white_cloth": record.white,
        "blue_wools": list(record.blue_wools or ()),
        "photo_days": list(days_of(record)),
        "photos": [one.isoformat() for one in test.photos],
        "due": None if test.due is None else test.due.isoformat(),
        "due_now": test.due is not None and test.due.date() <= now.date(),
        "note": record.note,
    }
