"""A measured or refused photo as one JSON object; the contract is schemas/measure.schema.json."""

from __future__ import annotations

import json

from dyeshade.errors import DyeshadeError
from dyeshade.measure.result import Array, Measurement, Sample
from dyeshade.words.cautions import caution_text
from dyeshade.words.refusals import refusal_text

# Digits that no uncertainty reaches would only make lines long.
_DIGITS = 4


def measured(photo: str, measurement: Measurement) -> dict[str, object]:
    """What one photo told.

    Parameters
    ----------
    photo : str
        The photo as it was named by the caller.
    measurement : Measurement

    Returns
    -------
    dict
        Of plain values, ready for `json.dumps`.
    """
    sheet = measurement.sheet
    return {
        "photo": photo,
        "taken": None if measurement.taken is None else measurement.taken.isoformat(),
        "camera": measurement.camera,
        "sheet": None
        if sheet is None
        else {
            "paper": sheet.paper,
            "cells": sheet.cells,
            "serial": sheet.serial,
            "version": sheet.version,
            "residual": round(sheet.residual, _DIGITS),
        },
        "white": measurement.white,
        "observer": measurement.observer,
        "samples": [_sample(sample) for sample in measurement.samples],
        "warnings": [
            {"code": notice.code, "text": caution_text(notice)} for notice in measurement.notices
        ]
        + [
            {"code": notice.code, "text": caution_text(notice, sample.name)}
            for sample in measurement.samples
            for notice in sample.notices
        ],
    }


def refused(photo: str, error: DyeshadeError) -> dict[str, object]:
    """Why one photo was not measured, as plain values."""
    return {"photo": photo, "error": {"code": error.code, "text": refusal_text(error)}}


def as_line(record: dict[str, object]) -> str:
    """One line of JSON without its end."""
    # In ASCII, since a pipe may have any encoding. NaN is no JSON, and no measurement may hold one.
    return json.dumps(record, allow_nan=False)


def _sample(sample: Sample) -> dict[str, object]:
    shade = sample.shade
    return {
        "name": sample.name,
        "tag": sample.tag or None,
        "lab": _rounded(shade.lab),
        "u95": round(shade.u95, _DIGITS),
        "covariance": {
            "photo": _rows(shade.covariance_photo),
            "common": _rows(shade.covariance_common),
        },
        "srgb": [int(level) for level in sample.srgb],
        "in_gamut": bool(sample.in_gamut),
        "shades": [
            {"lab": _rounded(part.lab), "share": round(float(part.share), _DIGITS)}
            for part in sample.shades
        ],
        "flags": [notice.code for notice in sample.notices],
    }


def _rounded(values: Array) -> list[float]:
    return [round(float(value), _DIGITS) for value in values]


def _rows(matrix: Array) -> list[list[float]]:
    # Covariances keep their digits: rounded, a small one could lose its being positive.
    return [[float(value) for value in row] for row in matrix]
