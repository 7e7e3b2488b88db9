"""The signals kept with a measurement tell all that is needed to solve its light again."""

import json
from pathlib import Path

import numpy as np

from dyeshade.measure.greys import fit_greys
from dyeshade.measure.light_field import field_for_page
from dyeshade.measure.photo_to_shade import measure_photo
from dyeshade.measure.propagate import lab_of
from dyeshade.measure.regions import HandGrey, HandSample, Regions
from dyeshade.measure.result import Measurement
from dyeshade.measure.signals import PatchSignals
from dyeshade.measure.typical_colours import typical_colours
from dyeshade.measure.with_sheet import grey_signals
from dyeshade.photo.read import read_photo
from dyeshade.sheet.layout import build_layout, paper_spots

ROOT = Path(__file__).parents[2]


def square(x, y):
    return np.array([[x - 9, y - 9], [x + 9, y - 9], [x + 9, y + 9], [x - 9, y + 9]], float)


def test_the_shade_comes_out_again_from_what_is_kept():
    photo = read_photo(ROOT / "example_images" / "hw27_1_dry.jpg")
    measured = measure_photo(photo, light="window")
    text = json.dumps(measured.signals(), allow_nan=False)
    assert len(text) < 20_000
    kept = json.loads(text)
    patches = kept["patches"]
    assert measured.sheet is not None
    layout = build_layout(measured.sheet.paper, measured.sheet.cells, False)
    assert patches["name"] == [box.name for box in (*layout.patches, *paper_spots(layout))]
    column = {name: np.array(patches[name], float) for name in patches if name != "name"}
    mean = column["mean"]
    seen = PatchSignals(
        column["place"],
        mean,
        column["spread"],
        column["clipped"],
        column["pixels"].astype(int),
        column["patchy"],
    )
    signals = grey_signals(layout, seen, kept["full_scale"] == 255)
    fit = fit_greys(signals, field_for_page(layout.paper_mm))
    sample = measured.samples[0]
    told = kept["samples"][sample.name]
    reflectance = fit.reflectance(np.array(told["signal"]), np.array(told["place"]))
    to_xyz = np.array(kept["to_xyz"])
    colours = typical_colours(to_xyz, kept["rendered"], "window")
    lab = lab_of(reflectance, fit.white, to_xyz, kept["rendered"], colours)
    assert np.allclose(lab, sample.shade.lab, atol=0.05)


def test_greys_drawn_by_hand_are_kept_as_well():
    photo = read_photo(ROOT / "tests" / "data" / "chart_photo_1.png")
    # The white and a grey of the chart in this photograph, and its first colour.
    greys = (HandGrey(square(712, 460), 0.9), HandGrey(square(711, 245), 0.03))
    drawn = Regions(greys, (HandSample("brown", square(579, 456)),))
    measured = measure_photo(photo, drawn)
    kept = measured.signals()
    assert kept is not None
    assert kept["unit"] == "px"
    assert kept["patches"]["name"] == ["grey-1", "grey-2"]
    assert kept["patches"]["place"] == [[712.0, 460.0], [711.0, 245.0]]
    assert kept["patches"]["patchy"] == [None, None]
    assert list(kept["samples"]) == ["brown"]


def test_what_has_no_signals_keeps_none():
    assert Measurement("x", None, None, None, "window", ()).signals() is None
