"""Encodings that a file states by number, as HEIC does in its "nclx" box.

References
----------
ITU-T H.273 (2023), table 2 (colour primaries) and table 3 (transfer characteristics).
"""

from __future__ import annotations

from dyeshade.cie.rgb_spaces import primaries_to_xyz
from dyeshade.photo.container import unsupported
from dyeshade.photo.curves import SRGB_CURVE, Curve, ParametricCurve
from dyeshade.photo.encoding import (
    Encoding,
    adapted_to_d65,
    display_p3_encoding,
    srgb_encoding,
)

_D65 = (0.3127, 0.3290)
_PRIMARIES = {
    5: ("BT.601, 625 lines", ((0.640, 0.330), (0.290, 0.600), (0.150, 0.060))),
    6: ("BT.601, 525 lines", ((0.630, 0.340), (0.310, 0.595), (0.155, 0.070))),
    9: ("BT.2020", ((0.708, 0.292), (0.170, 0.797), (0.131, 0.046))),
}
_ALPHA = 1.099296826809442
_BETA = 0.018053968510807
_VIDEO = ParametricCurve(1 / 0.45, a=1 / _ALPHA, b=(_ALPHA - 1) / _ALPHA, c=1 / 4.5, d=4.5 * _BETA)
_CURVES: dict[int, tuple[str, Curve]] = {
    1: ("video curve", _VIDEO),
    4: ("exponent 2.20", ParametricCurve(2.2)),
    5: ("exponent 2.80", ParametricCurve(2.8)),
    6: ("video curve", _VIDEO),
    8: ("linear", ParametricCurve(1.0)),
    13: ("sRGB curve", SRGB_CURVE),
    14: ("video curve", _VIDEO),
    15: ("video curve", _VIDEO),
}
_HIGH_DYNAMIC_RANGE = {16, 18}


def encoding_of(primaries: int, transfer: int, file_format: str) -> Encoding | None:
    """The encoding that two code points state.

    Parameters
    ----------
    primaries, transfer : int
        As in H.273.
    file_format : str
        For the refusal.

    Returns
    -------
    Encoding or None
        None where they say nothing, or what is not known here.

    Raises
    ------
    DyeshadeError
        photo_kind_unsupported for high dynamic range, where full scale is no white.
    """
    if transfer in _HIGH_DYNAMIC_RANGE:
        raise unsupported(f"high dynamic range {file_format}")
    if transfer not in _CURVES:
        return None
    how, curve = _CURVES[transfer]
    if primaries == 12:
        whole = display_p3_encoding()
    elif primaries == 1:
        whole = srgb_encoding()
    elif primaries in _PRIMARIES:
        name, corners = _PRIMARIES[primaries]
        matrix = adapted_to_d65(primaries_to_xyz(corners, _D65))
        return Encoding((curve,) * 3, matrix, f"{name}, {how}", assumed=False)
    else:
        return None
    if curve is SRGB_CURVE:
        return whole
    return Encoding((curve,) * 3, whole.to_xyz, f"{whole.name} primaries, {how}", assumed=False)
