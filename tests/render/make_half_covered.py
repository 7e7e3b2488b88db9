"""Make the example photo of a home test of light, and write its truth beside the others'.

    python -m tests.render.make_half_covered [FOLDER]

The sheet comes from the program's own command; the skein is the invented Hollow Weir Dye Room's.
How much it and the blue wool references have faded is invented as well.
"""

from __future__ import annotations

import datetime as dt
import json
import sys
import tempfile
from pathlib import Path

import numpy as np

from .example_pieces import skein_piece, swatch_piece
from .ink import random_print
from .make_examples import ROOT, SERIALS, print_sheet
from .photograph import render
from .scene import Scene
from .sheet import Sheet

NAME = "home_test/half_covered_day_8.jpg"

# What lies in each cell, the piece that it is, and about which shade; all of it invented.
HALVES = (
    ("madder skein, covered half", "W-030", (50, 36, 30)),
    ("madder skein, bare half", "W-030", (54, 31, 27)),
    ("blue wool 3, covered", "blue wool 3", (44, -3, -30)),
    ("blue wool 3, bare", "blue wool 3", (49, -3, -24)),
    ("blue wool 4, covered", "blue wool 4", (42, 0, -32)),
    ("blue wool 4, bare", "blue wool 4", (44, 0, -29)),
)


def half_covered_scene(six: Sheet) -> Scene:
    """Both halves of a skein, with two blue wool references below them."""
    cells = [str(c["name"]) for c in six.layout["cells"]]
    pieces = tuple(
        # One yarn, wound twice: the halves differ in nothing but their light.
        (skein_piece(cell, lab, 500) if row < 2 else swatch_piece(cell, lab, 510 + row // 2))
        for row, (cell, (_, _, lab)) in enumerate(zip(cells, HALVES, strict=True))
    )
    return Scene(
        six,
        pieces,
        seed=151,
        printed=random_print(np.random.default_rng(41), 0.02),
        print_seed=5,
        camera="Canon EOS 200D",
        camera_seed=7,
        look="mild",
        curve="hill",
        curve_strength=0.9,
        light="daylight 6100",
        ambient_light="daylight 5700",
        light_factor=1.24,
        light_from_deg=205,
        light_height_deg=52,
        flare=0.006,
        noise=0.007,
        exposure=0.87,
        sharpen=0.35,
        denoise=0.5,
        tilt_deg=7,
        tilt_towards_deg=140,
        turn_deg=1.1,
        long_side_px=3000,
        quality=86,
        table="wood",
        taken=dt.datetime(2025, 10, 9, 11, 5),
    )


def make_half_covered(folder: Path) -> None:
    """Write the photo into a folder, and its truth into the folder's ``truth.json``."""
    with tempfile.TemporaryDirectory() as place:
        six = print_sheet("six", Path(place), 10.5, SERIALS["six"])
    scene = half_covered_scene(six)
    done = render(scene)
    (folder / NAME).parent.mkdir(exist_ok=True)
    done.save(folder / NAME)
    print(f"{NAME}: {len(done.data) / 1e6:.2f} MB")
    path = folder / "truth.json"
    truth = json.loads(path.read_text(encoding="utf-8"))
    cells = done.truth["cells"]
    truth["home_test"] = {
        NAME: {
            "camera": scene.camera,
            "light": scene.light,
            "taken": scene.taken.isoformat(),
            "serial": six.layout["serial"],
            "samples": {
                cell: {
                    "what": what,
                    "piece": piece,
                    "lab": [round(float(v), 2) for v in cells[cell]["lab"]],
                }
                for cell, (what, piece, _) in zip(sorted(cells), HALVES, strict=True)
            },
        }
    }
    text = json.dumps(truth, indent=1, ensure_ascii=False)
    path.write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    make_half_covered(Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "example_images")
