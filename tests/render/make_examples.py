"""Make the example images: photographs that an invented workshop might take, rendered.

    python -m tests.render.make_examples [FOLDER]

The Hollow Weir Dye Room does not exist. The sheet comes from ``python -m dyeshade sheet``; colours
are mixtures of published spectra near what such dyeings look like (no measurement of real dyeings).
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

from .example_pieces import COTTON, WOOL, skein_piece, spectrum_near, swatch_piece
from .ink import random_print
from .photograph import Rendered, render
from .pieces import Piece
from .scene import Scene
from .sheet import Sheet, load_sheet

ROOT = Path(__file__).resolve().parent.parent.parent

# One workshop, one print of each sheet: photos that are added later show the same ones.
SERIALS = {"six": "EPWD-HCBT", "one": "W6RT-D6QJ"}

_WITH_SERIAL = """
import sys
from dyeshade.work import make_sheet
make_sheet.new_serial = lambda: sys.argv[1]
from dyeshade.cli import main
sys.exit(main(sys.argv[2:]))
"""

# The check standard: a matt tile that lies in this cell of five photos.
TILE_CELL = "E"
TILE_LAB = (56.0, -14.0, -12.0)
TILE_WORDS = "the check standard, a matt tile"

# The same madder bath three times, shades invented: two pieces, two pieces and one.
REPEATS = (
    ("A", 1, (41.5, 33.5, 14.5)),
    ("B", 1, (42.3, 33.0, 14.0)),
    ("C", 2, (39.0, 33.2, 15.8)),
    ("D", 2, (39.6, 34.0, 16.4)),
    ("F", 3, (43.4, 31.4, 12.6)),
)


def print_sheet(cells: str, folder: Path, px_per_mm: float, serial: str = "") -> Sheet:
    """A sheet from the program's own command, run as anyone would; with a serial that is given."""
    pdf, layout = folder / f"{cells}.pdf", folder / f"{cells}.json"
    program = ["-c", _WITH_SERIAL, serial] if serial else ["-m", "dyeshade"]
    command = [sys.executable, *program, "sheet", "--paper", "A4", "--cells", cells]
    command += ["--out", str(pdf), "--layout", str(layout)]
    subprocess.run(command, check=True, cwd=ROOT, capture_output=True)
    return load_sheet(pdf, layout, px_per_mm)


def example_scenes(six: Sheet, one: Sheet) -> dict[str, tuple[Scene, dict[str, str]]]:
    """File name to scene and to what lies in each cell."""
    cells = [str(c["name"]) for c in six.layout["cells"]]
    six_print, one_print = (random_print(np.random.default_rng(s), 0.02) for s in (41, 42))
    # One workshop, one camera, one window.
    base = Scene(
        six,
        printed=six_print,
        print_seed=5,
        camera="Canon EOS 200D",
        camera_seed=7,
        look="mild",
        curve="hill",
        curve_strength=0.9,
        light_from_deg=205,
        light_height_deg=52,
        flare=0.006,
        noise=0.007,
        exposure=0.88,
        sharpen=0.35,
        denoise=0.5,
        long_side_px=3000,
        quality=88,
        table="wood",
    )
    out: dict[str, tuple[Scene, dict[str, str]]] = {}

    def add(name: str, scene: Scene, words: dict[str, str]) -> None:
        out[name] = (scene, words)

    first = list(WOOL)[:6]
    add(
        "ph_series_wool.jpg",
        base.with_(
            pieces=tuple(
                skein_piece(c, WOOL[ph], 100 + ph) for c, ph in zip(cells, first, strict=True)
            ),
            seed=101,
            light="daylight 5900",
            ambient_light="daylight 5600",
            light_factor=1.22,
            white_error=(1.03, 0.98),
            tilt_deg=7,
            tilt_towards_deg=30,
            turn_deg=1.5,
            taken=dt.datetime(2025, 3, 14, 11, 20),
        ),
        {c: f"cochineal, wool skein, pH {ph}" for c, ph in zip(cells, first, strict=True)},
    )
    add(
        "ph_series_cotton.jpg",
        base.with_(
            pieces=tuple(
                swatch_piece(c, COTTON[ph], 200 + ph) for c, ph in zip(cells, first, strict=True)
            ),
            seed=102,
            light="daylight 6200",
            ambient_light="daylight 5800",
            light_factor=1.3,
            white_error=(0.97, 1.04),
            tilt_deg=12,
            tilt_towards_deg=120,
            turn_deg=-3,
            strands_over=1,
            orientation=6,
            taken=dt.datetime(2025, 3, 14, 11, 34),
        ),
        {c: f"cochineal, cotton swatch, pH {ph}" for c, ph in zip(cells, first, strict=True)},
    )
    last = [9, 10]
    add(
        "ph_series_alkaline.jpg",
        base.with_(
            pieces=(
                *(
                    skein_piece(c, WOOL[ph], 100 + ph)
                    for c, ph in zip(cells[:2], last, strict=True)
                ),
                *(
                    swatch_piece(c, COTTON[ph], 200 + ph)
                    for c, ph in zip(cells[2:], last, strict=False)
                ),
                tile(),
            ),
            seed=103,
            light="daylight 6000",
            ambient_light="daylight 5700",
            light_factor=1.18,
            primaries="Display P3",
            tilt_deg=9,
            tilt_towards_deg=250,
            turn_deg=91,
            taken=dt.datetime(2025, 3, 14, 11, 47),
        ),
        {c: f"cochineal, wool skein, pH {ph}" for c, ph in zip(cells[:2], last, strict=True)}
        | {c: f"cochineal, cotton swatch, pH {ph}" for c, ph in zip(cells[2:], last, strict=False)}
        | {TILE_CELL: TILE_WORDS},
    )
    out |= _one_piece(base, cells[1])
    out |= _repeats(base)
    hank = Piece(
        str(one.layout["cells"][0]["name"]),
        "hank",
        spectrum_near(83, -2, 54),
        size=(0.46, 0.86),
        strand_mm=1.7,
        height_mm=9,
        angle_deg=2,
        seed=301,
    )
    add(
        "whole_skein_weld.jpg",
        base.with_(
            sheet=one,
            printed=one_print,
            print_seed=6,
            pieces=(hank,),
            seed=104,
            light="daylight 5600",
            ambient_light="daylight 5300",
            light_factor=1.25,
            white_error=(1.05, 0.97),
            exposure=0.82,
            tilt_deg=6,
            tilt_towards_deg=300,
            turn_deg=0.8,
            table="grey",
            taken=dt.datetime(2025, 6, 3, 16, 5),
        ),
        {hank.cell: "weld, whole wool skein"},
    )
    return out


def _one_piece(base: Scene, cell: str) -> dict[str, tuple[Scene, dict[str, str]]]:
    """One piece three times: dry, after a vinegar rinse, half a year later."""
    what = "madder on wool, skein HW-27"
    steps = [
        ("hw27_1_dry.jpg", (41, 33, 14), "dry", (2025, 3, 15, 10, 5), "daylight 6100", 1.15),
        ("hw27_2_vinegar.jpg", (44, 38, 26), "after a vinegar rinse", (2025, 3, 17, 10, 40),
         "daylight 5800", 1.28),
        ("hw27_3_half_a_year_later.jpg", (47, 34, 24), "half a year later",
         (2025, 9, 16, 12, 15), "daylight 6400", 1.2),
    ]  # fmt: skip
    out = {}
    for k, (name, lab, state, taken, light, factor) in enumerate(steps):
        scene = base.with_(
            # On the second day the tile was not laid out.
            pieces=(
                skein_piece(cell, lab, 270, angle_deg=(1.0, -2.0, 0.5)[k]),
                *([] if k == 1 else [tile()]),
            ),
            seed=110 + k,
            light=light,
            ambient_light="daylight 5600",
            light_factor=factor,
            white_error=((1.0, 1.0), (1.04, 0.96), (0.98, 1.05))[k],
            tilt_deg=(5, 10, 8)[k],
            tilt_towards_deg=(60, 200, 330)[k],
            turn_deg=(0.5, 2.0, -1.5)[k],
            leaf_over=k == 2,
            taken=dt.datetime(*taken),
        )
        beside = {} if k == 1 else {TILE_CELL: TILE_WORDS}
        out[name] = (scene, {cell: f"{what}, {state}"} | beside)
    return out


def tile() -> Piece:
    """The check standard, always the same."""
    return Piece(
        TILE_CELL, "flat", spectrum_near(*TILE_LAB), size=(0.7, 0.7), height_mm=3, seed=501
    )


def _repeats(base: Scene) -> dict[str, tuple[Scene, dict[str, str]]]:
    """Five skeins of three equal baths on two days, the check standard beside them."""
    days = [
        ("repeats_madder_1.jpg", (2025, 4, 2, 10, 30), "daylight 5900", 1.18, (1.02, 0.99)),
        ("repeats_madder_2.jpg", (2025, 4, 5, 14, 10), "daylight 6300", 1.24, (0.97, 1.03)),
    ]
    out = {}
    for k, (name, taken, light, factor, white) in enumerate(days):
        skeins = tuple(
            skein_piece(cell, lab, 510 + number, angle_deg=(-0.8, 1.2)[k])
            for number, (cell, _, lab) in enumerate(REPEATS)
        )
        scene = base.with_(
            pieces=(*skeins, tile()),
            seed=141 + k,
            light=light,
            ambient_light="daylight 5600",
            light_factor=factor,
            white_error=white,
            tilt_deg=(6, 9)[k],
            tilt_towards_deg=(150, 20)[k],
            turn_deg=(-0.7, 1.1)[k],
            long_side_px=2600,
            quality=84,
            taken=dt.datetime(*taken),
        )
        words = {cell: f"madder on wool, skein of bath {bath}" for cell, bath, _ in REPEATS}
        out[name] = (scene, words | {TILE_CELL: TILE_WORDS})
    return out


def refused_scenes(scenes: dict[str, tuple[Scene, dict[str, str]]]) -> dict[str, Scene]:
    good = scenes["ph_series_wool.jpg"][0]
    return {
        "sheet_cut_off.jpg": good.with_(
            fill=4.4, aim_mm=(-62.0, -98.0), seed=121, long_side_px=2400
        ),
        "too_blurred.jpg": good.with_(blur_px=16.0, seed=122, long_side_px=2400),
    }


def _facts(done: Rendered, words: dict[str, str]) -> dict[str, Any]:
    scene = done.scene
    return {
        "camera": scene.camera,
        "light": scene.light,
        "taken": scene.taken.isoformat(),
        "serial": scene.sheet.layout["serial"],
        "samples": {
            name: {"what": words[name], "lab": [round(float(v), 2) for v in cell["lab"]]}
            for name, cell in done.truth["cells"].items()
        },
    }


def make_examples(folder: Path) -> dict[str, Any]:
    """Write all example images and ``truth.json`` into a folder; returns what truth.json holds."""
    (folder / "refused").mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as place:
        six, one = (
            print_sheet(cells, Path(place), 10.5, serial) for cells, serial in SERIALS.items()
        )
    scenes = example_scenes(six, one)
    photos = {}
    for name, (scene, words) in scenes.items():
        done = render(scene)
        done.save(folder / name)
        photos[name] = _facts(done, words)
        print(f"{name}: {len(done.data) / 1e6:.2f} MB")
    for name, scene in refused_scenes(scenes).items():
        done = render(scene)
        done.save(folder / "refused" / name)
        print(f"refused/{name}: {len(done.data) / 1e6:.2f} MB")
    place = folder / "truth.json"
    # What `make_tagged` wrote of its photo stays.
    known = json.loads(place.read_text(encoding="utf-8")) if place.exists() else {}
    truth = known | {
        "note": "Renders of an invented workshop. True CIELAB of the visible cloth.",
        "white": "D65",
        "observer": "2",
        "photos": photos,
    }
    text = json.dumps(truth, indent=1, ensure_ascii=False)
    place.write_text(text + "\n", encoding="utf-8")
    return truth


if __name__ == "__main__":
    make_examples(Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "example_images")
