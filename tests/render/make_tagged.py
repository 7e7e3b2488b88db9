"""Make the example photo of six tagged skeins, and write its truth beside the others'.

    python -m tests.render.make_tagged [FOLDER]

Sheet and tags come from the program's own commands, ``sheet`` and ``tags``; the skeins are the
invented Hollow Weir Dye Room's, as in ``make_examples``.
"""

from __future__ import annotations

import datetime as dt
import json
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .example_pieces import skein_piece
from .ink import random_print
from .make_examples import ROOT, print_sheet
from .photograph import render
from .scene import Scene
from .sheet import Sheet
from .tag import Tag, printed_tags

NAME = "tagged/six_tagged_skeins.jpg"

FIRST = 19

# What was dyed, about which shade, and how its tag lies: across and down from the cell's middle in
# mm, and turned by so many degrees. Shades are invented.
SKEINS = (
    ("weld", (78, -4, 58), (14, 20, 8)),
    ("dyer's chamomile", (62, 8, 48), (-13, 18, -6)),
    ("cochineal", (42, 34, 15), (12, -20, 172)),
    ("madder, exhaust bath", (46, 26, 30), (0, 8, 3)),
    ("walnut hull", (34, 10, 16), (16, 22, -25)),
    ("madder", (52, 38, 36), (-2, 26, 90)),
)


def print_tags(count: int, folder: Path) -> dict[str, NDArray[np.floating]]:
    """Tags from the program's own command, by the code that stands on them."""
    pdf = folder / "tags.pdf"
    # The numbers before are those of the other example photos' pieces.
    for new in (FIRST - 1, count):
        command = [sys.executable, "-m", "dyeshade", "tags", "--library", str(folder / "shades")]
        command += ["--new", str(new), "--fibre", "wool", "--out", str(pdf)]
        subprocess.run(command, check=True, cwd=ROOT, capture_output=True)
    return printed_tags(pdf)


def tagged_scene(six: Sheet, tags: dict[str, NDArray[np.floating]], **changes: Any) -> Scene:
    """Six wound skeins, each with its tag lying on it and beside it."""
    cells = [str(c["name"]) for c in six.layout["cells"]]
    lying = tuple(
        Tag(cell, tags[code], 16.0, (x, y), angle, 6.0)
        for cell, code, (_, _, (x, y, angle)) in zip(cells, sorted(tags), SKEINS, strict=True)
    )
    pieces = tuple(
        skein_piece(cell, lab, 400 + number)
        for number, (cell, (_, lab, _)) in enumerate(zip(cells, SKEINS, strict=True))
    )
    return Scene(
        six,
        pieces,
        lying,
        seed=131,
        printed=random_print(np.random.default_rng(41), 0.02),
        print_seed=5,
        camera="Canon EOS 200D",
        camera_seed=7,
        look="mild",
        curve="hill",
        curve_strength=0.9,
        light="daylight 6000",
        ambient_light="daylight 5700",
        light_factor=1.2,
        light_from_deg=205,
        light_height_deg=52,
        flare=0.006,
        noise=0.007,
        exposure=0.86,
        sharpen=0.35,
        denoise=0.5,
        tilt_deg=6,
        tilt_towards_deg=80,
        turn_deg=-1.2,
        long_side_px=3000,
        quality=86,
        table="wood",
        taken=dt.datetime(2025, 4, 22, 10, 50),
    ).with_(**changes)


def make_tagged(folder: Path) -> None:
    """Write the photo into a folder, and its truth into the folder's ``truth.json``."""
    with tempfile.TemporaryDirectory() as place:
        six = print_sheet("six", Path(place), 10.5)
        tags = print_tags(len(SKEINS), Path(place))
    scene = tagged_scene(six, tags)
    done = render(scene)
    (folder / NAME).parent.mkdir(exist_ok=True)
    done.save(folder / NAME)
    print(f"{NAME}: {len(done.data) / 1e6:.2f} MB")
    path = folder / "truth.json"
    truth = json.loads(path.read_text(encoding="utf-8"))
    facts = {
        "camera": scene.camera,
        "light": scene.light,
        "taken": scene.taken.isoformat(),
        "serial": six.layout["serial"],
        "samples": {
            cell: {
                "what": f"{what}, wool skein",
                "piece": code,
                "lab": [round(float(v), 2) for v in done.truth["cells"][cell]["lab"]],
            }
            for cell, code, (what, _, _) in zip(
                sorted(done.truth["cells"]), sorted(tags), SKEINS, strict=True
            )
        },
    }
    truth["tagged"] = {NAME: facts}
    text = json.dumps(truth, indent=1, ensure_ascii=False)
    path.write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    make_tagged(Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "example_images")
