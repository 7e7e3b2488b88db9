"""Whether the greys of one photo tell how far its maker has bent the colours.

Run from the checkout's top::

    python -m tests.studies.look_strength     # some seconds

A photo without a look is stated as wide as others: u95 is 9 to 11, and its median error 1.9 to 2.7.
Could less be stated where a photo's own greys, or its brightest and most vivid parts, say that
nothing was done to it? The real photographs of ``tests/data/real_charts.csv`` are set in order by
what such a photo tells, and by the mean error of their 18 coloured patches, read by greys alone.

November 2026: of eleven, none errs by less than 3.1 on average (cameras without a look by 1.4), and
no order of theirs surely agrees with that of the errors: seven rank correlations lie between -0.50
and 0.58, and the likeliest (p 0.06: colours that clip, which a notice tells) is what seven tries
bring by chance. That of contrast goes the other way: harder curves came with smaller errors. So
nothing is taken from it. What does tell the look is colours that are known: a chart once (JPEG,
camera calibrated), or a sheet with colours, whose own disagreement, each left out in turn, makes
its u95 (``calibrated_spread``).
"""

from __future__ import annotations

import numpy as np
from scipy.stats import spearmanr

from dyeshade.cie.ciede2000 import ciede2000
from tests.studies import colour_data
from tests.studies.camera_constants import read_real_chart, real_chart_fit
from tests.studies.colour_data import Array

COLOURED = slice(18)


def told_by(photo: dict[str, Array]) -> dict[str, float]:
    """What a photo tells without its colours being known."""
    fit = real_chart_fit(photo)
    whole = (photo["clipped"][18:] < 0.02) & (photo["signal"][18:] < 0.985).all(axis=1)
    shown = np.log(photo["signal"][18:][whole].mean(axis=1))
    true = np.log(photo["y"][18:][whole])
    coloured = photo["signal"][COLOURED]
    return {
        "bend of the tone curve": float(np.sqrt(np.mean(fit.curve.log_slopes**2))),
        "contrast of the greys": float(np.polyfit(true, shown, 1)[0]),
        "white that is off": float(np.ptp(fit.white)),
        "greys that disagree": fit.scatter,
        "exposure": float(photo["signal"][18:].max()),
        "most vivid colour in the file": float((1 - coloured.min(1) / coloured.max(1)).max()),
        "coloured patches that clip": float((photo["clipped"][COLOURED] > 0.02).mean()),
    }


def main() -> None:
    """Print rank correlations with the photographs' errors."""
    photos = list(colour_data.real_chart_rows().values())
    error = [
        float(np.mean(ciede2000(read_real_chart(photo), photo["lab"])[COLOURED]))
        for photo in photos
    ]
    print("mean errors:", np.sort(error).round(1).tolist())
    told = [told_by(photo) for photo in photos]
    for name in told[0]:
        found = spearmanr([one[name] for one in told], error)
        print(f"{name}: rank correlation {found.statistic:.2f}, p {found.pvalue:.2f}")


if __name__ == "__main__":
    main()
