"""What prints and tone curves may do: priors of ``measure/greys.py`` and ``measure/propagate.py``.

Run from the checkout's top::

    python -m tests.studies.print_constants    # 15 seconds

Prints are drawn as the accuracy study has them: levels off by up to 8 % (two spreads), tinted ink
and paper, a brightener in every second (``uncertainty_signals.print_in_light``). Printed beside
what ships:

- how far the greys of such prints depart from a plain one, against the paper (`_PRINT_SPREAD`);
- how far their paper's colour, taken for white by the fitting cameras, tints what is read: where
  nothing shines (`PAPER_TINT_SPREAD`), how many times more in other light (`_BRIGHTENED`), and how
  red goes with blue (`_TINT`, the mean of all kinds of light);
- how much the slope of a tone curve changes from knot to knot in the real photographs of
  ``tests/data/real_charts.csv``: the prior in ``measure/response.py`` is twice as wide or more.
"""

from __future__ import annotations

import numpy as np

from dyeshade.measure.grey_problem import PRINT_KNOTS
from dyeshade.sheet.layout import print_value
from tests.render.ink import Print, printed_spectra, random_print
from tests.render.spectra import xyz_of
from tests.studies import colour_data
from tests.studies.camera_constants import FITTING, real_chart_fit
from tests.studies.colour_data import Array
from tests.studies.uncertainty_signals import LIT_UP, PRINT_SPREAD, print_in_light

PRINTS = 3000
LAMPS = {"daylight": "D6500", "fluorescent": "FL11", "led": "LED-B3", "incandescent": "A"}
NOTHING_SHINES = "incandescent"


def print_spread(prints: int = PRINTS) -> Array:
    """Spread of log departure from a plain print, against the paper, at the other knots; (4,)."""
    rng = np.random.default_rng([224, 1])
    asked = np.append([print_value(level) for level in np.exp(PRINT_KNOTS[:-1])], 1.0)
    plain = xyz_of(printed_spectra(asked, Print()))[:, 1]
    departure = np.array(
        [
            np.log(xyz_of(printed_spectra(asked, random_print(rng, PRINT_SPREAD)))[:, 1] / plain)
            for _ in range(prints)
        ]
    )
    return np.asarray((departure - departure[:, -1:])[:, :-1].std(axis=0))


def paper_tints(prints: int = PRINTS) -> dict[str, Array]:
    """Mean square (2, 2) of the log tint of paper, red and blue against green, by kind of light."""
    tints = {}
    for number, (kind, lamp) in enumerate(LAMPS.items()):
        rng = np.random.default_rng([224, 2, number])
        seen = []
        for k in range(prints):
            camera = FITTING[k % len(FITTING)]
            paper = printed_spectra(np.ones(1), print_in_light(kind, rng, rng))
            shown = colour_data.own_matrix(camera) @ colour_data.balanced(camera, lamp, paper)[0]
            seen.append(np.log(shown[[0, 2]] / shown[1]))
        tints[kind] = np.array(seen).T @ np.array(seen) / prints
    assert tints.keys() == LIT_UP.keys()
    return tints


def tint_constants(tints: dict[str, Array]) -> tuple[float, dict[str, float], Array]:
    """Spread in blue where nothing shines, times more by kind of light, red with blue (2, 2)."""
    blue = {kind: float(np.sqrt(square[1, 1])) for kind, square in tints.items()}
    still = blue[NOTHING_SHINES]
    together = np.mean([square / square[1, 1] for square in tints.values()], axis=0)
    return still, {kind: spread / still for kind, spread in blue.items()}, together


def curve_steps() -> Array:
    """Root mean square change of log slope from knot to knot in real photographs, shape (15,)."""
    fits = [real_chart_fit(photo) for photo in colour_data.real_chart_rows().values()]
    steps = np.diff([fit.curve.log_slopes for fit in fits], axis=1)
    return np.asarray(np.sqrt((steps**2).mean(axis=0)))


def main() -> None:
    """Print what is made, in the order of the constants."""
    still, times, together = tint_constants(paper_tints())
    print("greys._PRINT_SPREAD =", print_spread().round(3).tolist())
    print(f"propagate.PAPER_TINT_SPREAD = {still:.4f}")
    print("propagate._BRIGHTENED =", {kind: round(more, 2) for kind, more in times.items()})
    print("propagate._TINT =", together.round(2).tolist())
    print("curves' steps, of which the prior is twice or more:", curve_steps().round(2).tolist())


if __name__ == "__main__":
    main()
