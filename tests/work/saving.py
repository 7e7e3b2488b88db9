"""Measurements to save, made up; no photo was measured for them."""

from datetime import datetime
from pathlib import Path

import numpy as np

from dyeshade.measure.result import Measurement, Sample, Shade, ShadeShare, SheetSeen
from dyeshade.work.keep_readings import ToKeep
from dyeshade.work.said import Said

TAKEN = datetime(2026, 3, 3, 10, 15, 7)


def measured(*names: str, taken: datetime | None = TAKEN, l_star: float = 62.0) -> Measurement:
    lab = np.array([l_star, -4.0, 55.0])
    shade = Shade(lab, np.eye(3) * 0.2, np.eye(3) * 0.4, 2.1)
    samples = tuple(
        Sample(name, shade, (170, 150, 40), True, (ShadeShare(lab, 1.0),)) for name in names
    )
    sheet = SheetSeen("A4", "six", "K7QF-3M9T", 1, 0.01)
    return Measurement("weld.jpg", taken, "a camera", sheet, "window", samples, file_format="JPEG")


def photo_file(folder: Path, name: str = "weld.jpg") -> Path:
    path = folder / name
    path.write_bytes(b"bytes of " + name.encode())
    return path


def to_keep(folder: Path, name: str = "weld.jpg", l_star: float = 62.0, **said: Said) -> ToKeep:
    return ToKeep(photo_file(folder, name), measured(*said, l_star=l_star), said)
