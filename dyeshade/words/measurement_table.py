"""A measured or refused photo as lines for people."""

from __future__ import annotations

import textwrap

from dyeshade.cie.lab import lab_to_lch
from dyeshade.errors import DyeshadeError
from dyeshade.measure.result import Measurement, Sample
from dyeshade.words.cautions import caution_text
from dyeshade.words.lights import LIGHTS
from dyeshade.words.refusals import refusal_text
from dyeshade.words.sentences import percent
from dyeshade.words.shades import hex_colour, lab_words, sure_to

_WIDE = 90
_CELLS = {"six": "six cells", "one": "one cell"}


def measured(photo: str, measurement: Measurement) -> list[str]:
    """Lines that tell what one photo told.

    Parameters
    ----------
    photo : str
        The photo as it was named by the caller.
    measurement : Measurement
    """
    lines = [photo, f"  {_greys(measurement)}; {LIGHTS[measurement.light]}"]
    taken = measurement.taken
    about = [
        *([] if taken is None else [f"taken {taken:%Y-%m-%d %H:%M}"]),
        *([] if measurement.camera is None else [measurement.camera]),
    ]
    if about:
        lines.append(f"  {', '.join(about)}")
    wide = max([6, *(len(sample.name) for sample in measurement.samples)])
    lines += [
        "",
        f"  {'sample':<{wide}}     L*     a*     b*   C*ab    hab  sRGB      sure to",
        *(_row(sample, wide) for sample in measurement.samples),
        f"  {_terms(measurement)}",
    ]
    tags = ", ".join(f"{one.name} is {one.tag}" for one in measurement.samples if one.tag)
    if tags:
        lines += _wrapped("  ", f"Tags: {tags}")
    lines += [line for sample in measurement.samples for line in _details(sample)]
    told = [caution_text(notice) for notice in measurement.notices] + [
        caution_text(notice, sample.name)
        for sample in measurement.samples
        for notice in sample.notices
    ]
    if told:
        lines += ["", "  Mind:", *(line for text in told for line in _wrapped("  - ", text))]
    return lines


def refused(photo: str, error: DyeshadeError) -> list[str]:
    """Lines that tell why one photo was not measured."""
    return [photo, *_wrapped("  ", f"Not measured. {refusal_text(error)}")]


def _wrapped(start: str, text: str) -> list[str]:
    return textwrap.wrap(
        text,
        _WIDE,
        initial_indent=start,
        subsequent_indent=" " * len(start),
        break_long_words=False,
        break_on_hyphens=False,
    )


def _greys(measurement: Measurement) -> str:
    sheet = measurement.sheet
    if sheet is None:
        return "Greys drawn by hand"
    serial = "serial number not legible" if sheet.serial is None else f"serial {sheet.serial}"
    return f"Reference sheet {sheet.paper}, {_CELLS[sheet.cells]}, {serial}"


def _terms(measurement: Measurement) -> str:
    return (
        f"White {measurement.white}, {measurement.observer} degree observer; "
        "sure to: CIEDE2000, 95 times in 100"
    )


def _row(sample: Sample, wide: int) -> str:
    lightness, a, b = sample.shade.lab
    _, chroma, hue = lab_to_lch(sample.shade.lab)
    return (
        f"  {sample.name:<{wide}} {lightness:6.1f} {a:z6.1f} {b:z6.1f} {chroma:6.1f} {hue:6.1f}  "
        f"{hex_colour(sample.srgb)}{' ' if sample.in_gamut else '*'}  {sure_to(sample.shade.u95)}"
    )


def _details(sample: Sample) -> list[str]:
    lines = []
    if not sample.in_gamut:
        lines.append(f"  * sRGB cannot show {sample.name}; the nearest that it can is given")
    if len(sample.shades) > 1:
        parts = "; ".join(
            f"{percent(part.share)} {lab_words(tuple(part.lab))}" for part in sample.shades
        )
        lines.append(f"  {sample.name} has several shades: {parts}")
    return lines
