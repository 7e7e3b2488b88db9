"""Measurements as the floor below yields them, for the tests of their wording."""

from datetime import datetime, timedelta, timezone

import numpy as np

from dyeshade.errors import Notice
from dyeshade.measure.result import Measurement, Sample, Shade, ShadeShare, SheetSeen

PHOTO, COMMON = np.diag([0.2, 0.3, 0.4]), np.diag([0.5, 0.6, 0.7])


def sample(name="A1", lab=(52.0, 10.0, 33.0), u95=2.1, **changes):
    lab = np.array(lab, dtype=float)
    parts = {
        "srgb": (150, 116, 69),
        "in_gamut": True,
        "shades": (ShadeShare(lab, 1.0),),
        "notices": (),
    }
    return Sample(name, Shade(lab, PHOTO, COMMON, u95), **(parts | changes))


def two_shades():
    parts = (
        ShadeShare(np.array([60.0, 5.0, 40.0]), 0.7),
        ShadeShare(np.array([30.0, 20.0, 10.0]), 0.3),
    )
    return sample(
        "B2",
        in_gamut=False,
        shades=parts,
        notices=(Notice("darker_than_greys"),),
    )


def with_sheet():
    return Measurement(
        photo="weld.jpg",
        taken=datetime(2026, 3, 2, 11, 20, 5, tzinfo=timezone(timedelta(hours=1))),
        camera="Maker Model",
        sheet=SheetSeen("A4", "six", "K7QF-3M9T", 1, 0.0123456),
        light="window",
        samples=(sample(), two_shades()),
        notices=(Notice("light_assumed", {"light": "window"}),),
    )


def by_hand():
    return Measurement("card.png", None, None, None, "led", (sample("weld on wool"),))
