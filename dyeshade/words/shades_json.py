"""A shade out of the library as one JSON object; the contract is schemas/shades.schema.json."""

from __future__ import annotations

from dyeshade.library.conditions import DyeBath
from dyeshade.library.find import FoundShade
from dyeshade.library.shade_records import matrix_of

_DIGITS = 4
"""As `dyeshade.words.measurement_json`: the same photo gives the same numbers."""


def shade_record(found: FoundShade) -> dict[str, object]:
    """A reading with its piece and the conditions of its bath.

    Parameters
    ----------
    found : FoundShade

    Returns
    -------
    dict
        Of plain values, ready for `json.dumps`.
    """
    reading, conditions, history = found.reading, found.conditions, found.history
    fibre = history.fibre
    return {
        "piece": history.piece.code,
        "name": history.piece.name,
        "fibre": conditions.fibre,
        "fibre_make": fibre.make if fibre else "",
        "mordant": conditions.mordant,
        "mordant_percent_wof": conditions.mordant_percent_wof,
        "bath": found.bath_code,
        "baths": [_bath(one) for one in conditions.baths],
        "afters": [{"kind": kind, "substance": what} for kind, what in conditions.afters],
        "ph": dict(conditions.ph_values),
        "ph_acted_last": conditions.acted,
        "read": reading.read.isoformat(),
        "state": reading.state,
        "sample": reading.sample,
        "white": "D65",
        "observer": "2",
        "lab": [round(float(value), _DIGITS) for value in reading.lab],
        "u95": round(reading.u95, _DIGITS),
        "covariance": {
            "photo": [[float(x) for x in row] for row in matrix_of(reading.covariance_photo)],
            "common": [[float(x) for x in row] for row in matrix_of(reading.covariance_common)],
        },
        "srgb": list(bytes.fromhex(reading.srgb[1:])),
        "in_gamut": reading.in_gamut,
        "flags": [notice.code for notice in reading.notices],
        "method_version": reading.method_version,
    }


def _bath(bath: DyeBath) -> dict[str, object]:
    return {
        "kind": bath.kind,
        "exhaust_number": bath.exhaust_number,
        "dyestuffs": [
            {"name": dye.name, "part": dye.part, "form": dye.form, "ratio": dye.ratio}
            for dye in bath.dyes
        ],
    }
