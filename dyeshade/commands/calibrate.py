"""``dyeshade calibrate``: learn a camera or a print once; list and remove what was learnt."""

from __future__ import annotations

import argparse
from argparse import ArgumentTypeError
from typing import TYPE_CHECKING

from dyeshade.commands.options import finite, name, number, whole
from dyeshade.commands.telling import ALL_DONE, SOME_NOT, WrongUsage, tell
from dyeshade.errors import DyeshadeError
from dyeshade.measure.lights import ASSUMED, KINDS
from dyeshade.words.cautions import caution_text
from dyeshade.words.lights import LIGHTS
from dyeshade.words.refusals import refusal_text

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    import numpy as np
    from numpy.typing import NDArray

    from dyeshade.errors import Notice
    from dyeshade.measure.calibrate_sheet import SheetCalibrated
    from dyeshade.measure.calibrations import CameraCalibration, SheetCalibration
    from dyeshade.measure.chart import Chart

_reflectance = number(0, 1, above=True)


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    calibrate = commands.add_parser(
        "calibrate",
        help="learn a camera or a printed sheet once, for surer shades",
        description="Learn how a camera sees from a colour chart, or what a printed reference "
        "sheet reflects. What was learnt is kept in the shade library, and measuring uses it.",
        allow_abbrev=False,
    )
    jobs = calibrate.add_subparsers(title="jobs", required=True, metavar="JOB")
    camera = _job(jobs, "camera", "learn how a camera sees, from a photo of a colour chart")
    camera.add_argument("photo", metavar="PHOTO", help="a photo of the chart")
    _add_chart(camera, required=True)
    _add_light(camera)
    camera.set_defaults(run=_run_camera)
    sheet = _job(jobs, "sheet", "learn what a printed sheet reflects")
    sheet.add_argument("photo", nargs="?", metavar="PHOTO", help="a photo of the sheet")
    _add_chart(sheet, required=False)
    _add_light(sheet)
    sheet.add_argument(
        "--card",
        type=_card,
        metavar="CELL=REFLECTANCE",
        help="a grey or white card lies in this cell and reflects so much, as A=0.18",
    )
    sheet.add_argument(
        "--grey",
        type=_grey,
        action="append",
        metavar="LEVEL=REFLECTANCE",
        help="instead of a photo: a grey of the print as an instrument measured it; LEVEL is 1 "
        "(lightest) to 8, or paper; repeatable",
    )
    sheet.add_argument("--serial", type=name, help="with --grey: number printed on the sheet")
    sheet.add_argument(
        "--paper", choices=("A4", "Letter"), default="A4", help="with --grey (default: A4)"
    )
    sheet.add_argument(
        "--cells", choices=("six", "one"), default="six", help="with --grey (default: six)"
    )
    sheet.set_defaults(run=_run_sheet)
    _job(jobs, "list", "list what was learnt").set_defaults(run=_run_list)
    for called, does, use in (
        ("leave-out", "measure without something that was learnt, and keep it", False),
        ("use", "measure with it again", True),
    ):
        switch = _job(jobs, called, does)
        switch.add_argument("number", type=whole, metavar="NUMBER", help="as the list tells it")
        switch.set_defaults(run=_run_switch, use=use)
    remove = _job(jobs, "remove", "remove something that no reading was made with")
    remove.add_argument("number", type=whole, metavar="NUMBER", help="as the list tells it")
    remove.set_defaults(run=_run_remove)


def _job(
    jobs: argparse._SubParsersAction[argparse.ArgumentParser], called: str, does: str
) -> argparse.ArgumentParser:
    job = jobs.add_parser(
        called, help=does, description=does[0].upper() + does[1:] + ".", allow_abbrev=False
    )
    job.add_argument(
        "--library",
        type=name,
        metavar="LIBRARY",
        help="the folder of the shade library (default: as for measure --save)",
    )
    return job


def _add_chart(job: argparse.ArgumentParser, required: bool) -> None:
    job.add_argument(
        "--chart",
        type=name,
        required=required,
        metavar="CHART",
        help="a CGATS.17 file of published values; or 24 for the chart of 24 patches as made since "
        "November 2014, 24-before-2014 for the older one",
    )
    job.add_argument(
        "--grid", type=_grid, metavar="ROWSxCOLUMNS", help="of a chart whose file does not tell"
    )
    job.add_argument(
        "--corners",
        type=_corners,
        metavar="X,Y,X,Y,X,Y,X,Y",
        help="where the chart is not found by itself: middles of its first patch, the last of the "
        "first row, the last patch, the first of the last row, in pixels of the upright photo",
    )


def _add_light(job: argparse.ArgumentParser) -> None:
    kinds = "; ".join(f"{kind}: {LIGHTS[kind]}" for kind in KINDS)
    job.add_argument(
        "--light",
        choices=KINDS,
        default=ASSUMED,
        metavar="KIND",
        help=f"the light the photo was taken in ({kinds}; default: {ASSUMED})",
    )


def _run_camera(chosen: argparse.Namespace) -> int:
    from dyeshade.words.calibrations import camera_lines

    def learn() -> list[str]:
        from dyeshade.measure.calibrate_camera import calibrate_camera
        from dyeshade.photo.read import read_photo

        chart = _chart(chosen)
        made = calibrate_camera(read_photo(chosen.photo), chart, chosen.light, _points(chosen))
        kept = _keep(chosen, made.calibration)
        return [*camera_lines(made.calibration, kept), *_told(made.notices)]

    return _answer(learn)


def _run_sheet(chosen: argparse.Namespace) -> int:
    from dyeshade.words.calibrations import sheet_lines

    ways = [chosen.chart is not None, chosen.card is not None, chosen.grey is not None]
    if sum(ways) > 1:
        raise WrongUsage("--chart, --card and --grey do not go together")
    if chosen.grey and (chosen.photo is not None or chosen.serial is None):
        raise WrongUsage("--grey takes --serial, and no photo")
    if not chosen.grey and chosen.photo is None:
        raise WrongUsage("give a photo, or --grey and --serial")
    if chosen.serial is not None and not chosen.grey:
        raise WrongUsage("--serial needs --grey: a photo tells the number itself")

    def learn() -> list[str]:
        made = _sheet(chosen)
        kept = _keep(chosen, made.calibration)
        return [*sheet_lines(made.calibration, kept), *_told(made.notices)]

    return _answer(learn)


def _sheet(chosen: argparse.Namespace) -> SheetCalibrated:
    from dyeshade.library.library import open_or_create
    from dyeshade.measure import calibrate_sheet as by
    from dyeshade.photo.read import read_photo
    from dyeshade.sheet.layout import build_layout
    from dyeshade.work.calibrate import calibrations_in
    from dyeshade.work.library_place import library_folder

    if chosen.grey:
        layout = build_layout(chosen.paper, chosen.cells, False, serial=chosen.serial)
        return by.calibrate_sheet_by_values(layout, dict(chosen.grey))
    photo = read_photo(chosen.photo)
    if chosen.chart is not None:
        return by.calibrate_sheet_by_chart(photo, _chart(chosen), _points(chosen))
    with open_or_create(chosen.library or library_folder()) as library:
        known = calibrations_in(library)
    return by.calibrate_sheet_by_photo(photo, chosen.card, chosen.light, known)


def _run_list(chosen: argparse.Namespace) -> int:
    from dyeshade.words.calibrations import list_lines

    def look() -> list[str]:
        from dyeshade.library.library import open_library
        from dyeshade.work.calibrate import kept_calibrations
        from dyeshade.work.library_place import library_folder

        with open_library(chosen.library or library_folder()) as library:
            return list_lines(kept_calibrations(library))

    return _answer(look)


def _run_switch(chosen: argparse.Namespace) -> int:
    from dyeshade.words.calibrations import list_lines

    def switch() -> list[str]:
        from dyeshade.library.library import open_library
        from dyeshade.work.calibrate import kept_calibrations, use_calibration
        from dyeshade.work.library_place import library_folder

        with open_library(chosen.library or library_folder()) as library:
            use_calibration(library, chosen.number, chosen.use)
            kept = kept_calibrations(library)
            return list_lines([one for one in kept if one.record.id == chosen.number])

    return _answer(switch)


def _run_remove(chosen: argparse.Namespace) -> int:
    from dyeshade.words.calibrations import removed_line

    def remove() -> list[str]:
        from dyeshade.library.library import open_library
        from dyeshade.work.calibrate import remove_calibration
        from dyeshade.work.library_place import library_folder

        with open_library(chosen.library or library_folder()) as library:
            return [removed_line(remove_calibration(library, chosen.number))]

    return _answer(remove)


def _answer(job: Callable[[], list[str]]) -> int:
    try:
        lines = job()
    except DyeshadeError as error:
        tell(refusal_text(error))
        return SOME_NOT
    print("\n".join(lines))
    return ALL_DONE


def _keep(chosen: argparse.Namespace, value: CameraCalibration | SheetCalibration) -> int:
    from dyeshade.library.library import open_or_create
    from dyeshade.work.calibrate import keep_calibration
    from dyeshade.work.library_place import library_folder

    with open_or_create(chosen.library or library_folder()) as library:
        return keep_calibration(library, value)


def _chart(chosen: argparse.Namespace) -> Chart:
    from dyeshade.work.calibrate import chart_named

    return chart_named(chosen.chart, chosen.grid)


def _points(chosen: argparse.Namespace) -> NDArray[np.float64] | None:
    import numpy as np

    return None if chosen.corners is None else np.array(chosen.corners).reshape(4, 2)


def _told(notices: Sequence[Notice]) -> list[str]:
    return [caution_text(notice) for notice in notices]


def _corners(text: str) -> list[float]:
    values = [finite(part) for part in text.replace(" ", ",").split(",") if part]
    if len(values) != 8:
        raise ArgumentTypeError("give eight numbers: x,y of four patches")
    return values


def _grid(text: str) -> tuple[int, int]:
    rows, _, columns = text.lower().partition("x")
    if not (rows.isdigit() and columns.isdigit() and int(rows) > 1 and int(columns) > 1):
        raise ArgumentTypeError(f"{text} is not a grid as 4x6")
    return int(rows), int(columns)


def _card(text: str) -> tuple[str, float]:
    cell, equals, value = text.partition("=")
    if not equals or not cell.strip():
        raise ArgumentTypeError("give it as CELL=REFLECTANCE, as A=0.18")
    return cell.strip(), _reflectance(value)


def _grey(text: str) -> tuple[str, float]:
    level, equals, value = text.partition("=")
    if not equals or level not in ("paper", *"12345678"):
        raise ArgumentTypeError("give it as LEVEL=REFLECTANCE, where LEVEL is paper or 1 to 8")
    return level, _reflectance(value)
