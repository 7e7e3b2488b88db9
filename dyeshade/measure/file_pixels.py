"""Outlines in pixels of the file, where a photo was read with fewer than the file has."""

from __future__ import annotations

from dataclasses import replace

from dyeshade.measure.regions import DrawnOnSheet, HandSample
from dyeshade.measure.result import Measurement
from dyeshade.photo.photo import Photo


def in_photo(drawn: DrawnOnSheet, photo: Photo) -> DrawnOnSheet:
    """What was drawn in pixels of the file, in pixels of the photo."""
    if photo.shrunk == 1:
        return drawn
    samples = [HandSample(one.name, photo.from_file(one.corners)) for one in drawn.samples]
    return replace(drawn, samples=tuple(samples))


def in_file(measurement: Measurement, photo: Photo) -> Measurement:
    """A measurement of the photo with its outlines in pixels of the file."""
    if photo.shrunk == 1:
        return measurement
    sheet = measurement.sheet
    if sheet is not None:
        outline, greys = photo.in_file(sheet.outline_px), photo.in_file(sheet.greys_px)
        sheet = replace(sheet, outline_px=outline, greys_px=greys)
    samples = [
        replace(one, outline_px=photo.in_file(one.outline_px)) for one in measurement.samples
    ]
    return replace(measurement, sheet=sheet, samples=tuple(samples))
