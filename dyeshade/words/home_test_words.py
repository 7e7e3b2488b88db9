"""Home fastness tests said to people: how they are set up, what they wait for, what to mind.

Light to import, for the window's start.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from dyeshade.insight.fastness_days import is_before
from dyeshade.words.bath_cautions import BATH_AMOUNT_CAUTIONS
from dyeshade.words.dye_words import day_words, listed
from dyeshade.words.home_test_names import TESTS as TESTS
from dyeshade.words.sentences import counted, fill

if TYPE_CHECKING:
    from dyeshade.work.home_tests import Part
    from dyeshade.work.home_tests_kept import KeptTest

HOME_TEST = (
    "A home test, not a certificate: light, soap and rubbing are yours, not a laboratory's. Grades "
    "run from 5 (no change) to 1."
)

ONE_PHOTO = (
    "Both halves in one photo: what camera, sheet and light do to the one they do to the other, so "
    "that it cancels."
)

SET_UP: Mapping[str, tuple[str, ...]] = {
    "light": (
        (
            "Lay the piece over two cells of the sheet and photograph it: so you know that its "
            "halves are alike."
        ),
        "Cover one half with card that no light goes through, tightly, and leave the other bare.",
        (
            "Lay blue wool references beside it, half covered by the same card, if you have "
            "them (ISO 105-B)."
        ),
        "Put it into one window and leave it there; behind glass it fades less than out of doors.",
        (
            "For each photo take the card off, lay both halves on the sheet again, then cover "
            "the same half as before."
        ),
    ),
    "wash": (
        "Cut a sample of the piece in two and keep one half dry and dark.",
        (
            "Sew undyed white cloth to the other half, if you want to see whether it stains; "
            "keep some of that cloth back as well."
        ),
        "Wash that half as you would wash the cloth, with soap that has no optical brightener.",
        "Let it dry for a day, lay both halves on the sheet, and the white cloth beside them.",
    ),
    "acid_dip": (
        "Cut a sample of the piece in two and keep one half dry.",
        "Dip the other for some minutes into lukewarm water with white vinegar, and read its pH.",
        "Rinse it, let it dry for a day, and lay both halves on the sheet.",
    ),
    "alkaline_dip": (
        "Cut a sample of the piece in two and keep one half dry.",
        (
            "Dip the other for a minute or two into lukewarm water with a pinch of washing "
            "soda, and read its pH. A dye that turns with pH tells most of itself in this test."
        ),
        "Rinse it, let it dry for a day, and lay both halves on the sheet.",
    ),
    "rubbing": (
        (
            "Wrap white cloth round a finger and rub it to and fro ten times over one half of "
            "the piece, always alike; dry, or wetted and wrung out."
        ),
        (
            "Let it dry if it was wet. Lay the rubbed place of the cloth and a clean one on the "
            "sheet, and both halves of the piece."
        ),
    ),
}
"""How each of `dyeshade.insight.fastness.TESTS` is set up at home (common practice, no source)."""


def _plain(code: str) -> str:
    """A caution of the bath room that applies here as well."""
    return fill(BATH_AMOUNT_CAUTIONS, code, {})


CAUTIONS: Mapping[str, tuple[str, ...]] = {
    "light": (),
    "wash": ("Hot water scalds, and wool felts in it.",),
    "acid_dip": (
        _plain("caution_comes_first"),
        (
            "Vinegar stings in eyes and throat, the more the stronger it is: air the room, no "
            "essence. Never together with bleach: poisonous gas rises from it at once. Never "
            "into the soda of the other dip: it foams up."
        ),
        _plain("caution_not_for_food"),
    ),
    "alkaline_dip": (
        _plain("caution_comes_first"),
        _plain("caution_alkali"),
        (
            "A pinch in half a litre is enough, lukewarm; never lye or lime for this test. Silk "
            "and wool may lose their handle all the same: dip a sample, not the cloth."
        ),
        _plain("caution_not_for_food"),
    ),
    "rubbing": (),
}
"""What to mind in each of them (common practice, no source)."""

HALVES: Mapping[str, tuple[str, str]] = {
    "light": ("covered half", "bare half"),
    "wash": ("half kept back", "washed half"),
    "acid_dip": ("half kept back", "dipped half"),
    "alkaline_dip": ("half kept back", "dipped half"),
    "rubbing": ("half not rubbed", "rubbed half"),
}
"""What the untreated and the treated half of a piece are called in each of them."""


def part_words(kind: str, part: Part) -> str:
    """A part of a test as in "bare half" or "blue wool 4, covered"."""
    if part.what == "piece":
        return HALVES[kind][part.treated]
    if part.what == "white":
        return "white cloth, where it touched the piece" if part.treated else "white cloth, clean"
    return f"blue wool {part.blue_wool}, {'bare' if part.treated else 'covered'}"


def kept_test_words(test: KeptTest) -> str:
    """A test as in "HW-12, madder skein: light"."""
    who = f"{test.piece}, {test.name}" if test.name else test.piece
    return f"{who}: {TESTS[test.record.kind]}"


def beside_words(test: KeptTest) -> str:
    """What else belongs into its photo, as in "with the white cloth and blue wools 3 and 4"; ""."""
    wools = [str(one) for one in test.record.blue_wools or ()]
    beside = ["the white cloth"] if test.record.white else []
    if wools:
        beside.append(f"blue wool{'s' if len(wools) > 1 else ''} {listed(wools)}")
    return f"with {listed(beside)}" if beside else ""


def due_words(test: KeptTest, now: datetime) -> str:
    """When the next photo is due, as in "day 8, due today"; what became of the test otherwise."""
    if test.record.ended is not None:
        return f"ended on {day_words(test.record.ended)}"
    if test.due is None:
        return "all its photos are taken"
    day = (test.due.date() - test.record.begun.date()).days
    late = (now.date() - test.due.date()).days
    if late > 0:
        today = (now.date() - test.record.begun.date()).days
        return f"photo due since {day_words(test.due)}, today is day {today}"
    if late == 0:
        when = "due today"
    else:
        when = f"due tomorrow, {day_words(test.due)}" if late == -1 else f"on {day_words(test.due)}"
    return f"photo of day {day} {when}"


def reminder_words(test: KeptTest, now: datetime) -> str:
    """What to photograph, in a sentence."""
    beside = beside_words(test)
    halves = ", ".join(filter(None, (f"Photograph {test.piece}", "both halves", beside)))
    return f"{halves}, on the sheet ({TESTS[test.record.kind]}; {due_words(test, now)})."


def reminders_words(tests: Sequence[KeptTest], now: datetime, most: int = 3) -> list[str]:
    """What to photograph, a sentence for each test, and how many more there are."""
    told = [reminder_words(one, now) for one in tests[:most]]
    if len(tests) > most:
        more = len(tests) - most
        told.append(f"{counted(more, 'other test waits', 'other tests wait')} for a photo as well.")
    return told


def plan_words(begun: datetime, days: Sequence[int]) -> str:
    """When photos are taken, as in "on days 1, 2 and 4: 2, 3 and 5 March 2026"."""
    if list(days) == [0]:
        return "Photograph it the same day."
    dates = [begun + timedelta(days=day) for day in days]
    shown = [day_words(one) for one in dates]
    if len(shown) > 4:
        shown = [*shown[:3], f"and so on until {shown[-1]}"]
        return f"Photograph it on {', '.join(shown)}."
    return f"Photograph it on {listed(shown)}."


def taken_words(test: KeptTest, taken: datetime | None) -> str:
    """When a photo was taken, as a test counts the days."""
    if taken is None:
        return (
            "The photo does not say when it was taken. Give its date beneath the photo first; else "
            "that of keeping it counts."
        )
    if is_before(test.record.kind, test.record.begun, taken):
        return (
            f"The photo is of {day_words(taken)}, before the test: it shows both halves as they "
            "were."
        )
    day = (taken.date() - test.record.begun.date()).days
    return f"The photo is of {day_words(taken)}, day {day} of the test."
