"""How long a shade card takes per shade: for 500 as for 50, or the cost would not grow linearly.

Run from the checkout's top; takes some seconds::

    python -m tests.benchmarks.shade_card

Printed are the ratios of the time per shade to that at 50 shades.
"""

from __future__ import annotations

import time
from dataclasses import replace

from dyeshade.paper.card_layout import card_pdf, lay_out_card
from dyeshade.paper.shade_card import Card
from dyeshade.words.shade_card import CARD_WORDS
from tests.paper.cards import a_shade

COUNTS = (50, 100, 500)
CARDS = {
    "middle": Card("Weld", "Hollow Weir Dye Room"),
    "small, fibre": Card("Weld", "Hollow Weir Dye Room", swatch="small", fibre_place=True),
    "two-sided": Card("Weld", "Hollow Weir Dye Room", two_sided=True),
}


def seconds_a_shade(card: Card, count: int, runs: int = 3) -> float:
    """The shortest of several runs, laid out and written anew; the processor's time."""
    plain = a_shade()
    shades = [
        replace(plain, name=f"a name as long as names are, {n}", piece=f"W-{n}")
        for n in range(count)
    ]
    best = float("inf")
    for _ in range(runs):
        begun = time.process_time()
        card_pdf(lay_out_card(card, shades, CARD_WORDS))
        best = min(best, time.process_time() - begun)
    return best / count


def main() -> None:
    """Measure and print."""
    print(f"{'card':14}{'shades':>8}{'ms a shade':>12}{'ratio':>8}")
    for name, card in CARDS.items():
        first = None
        for count in COUNTS:
            taken = seconds_a_shade(card, count)
            first = first or taken
            print(f"{name:14}{count:8}{taken * 1e3:12.2f}{taken / first:8.2f}")


if __name__ == "__main__":
    main()
