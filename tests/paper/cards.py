"""Invented shades for cards; no figure here says how a dyestuff behaves."""

from dataclasses import replace
from typing import Any

from dyeshade.paper.card_layout import LaidCard, card_pdf, lay_out_card
from dyeshade.paper.shade_card import Card, CardDye, CardShade
from dyeshade.words.shade_card import CARD_WORDS


def a_shade(**given: Any) -> CardShade:
    plain = CardShade(
        name="weld on wool",
        piece="W-001",
        lab=(78.0, -6.0, 61.0),
        u95=2.1,
        srgb=(214, 200, 74),
        in_gamut=True,
        dyes=(CardDye("weld", "tops", "dried", 1.0),),
        fibre="wool",
        fibre_make="4-ply yarn",
        mordant="alum",
        mordant_percent_wof=12.0,
        ph=8.8,
        ph_which="bath_end",
        state="dry",
    )
    return replace(plain, **given)


def shades(count: int, **given: Any) -> list[CardShade]:
    """As many shades, each of another colour and piece."""
    return [
        a_shade(name=f"shade {n}", piece=f"W-{n:03d}", srgb=(n % 256, 7 * n % 256, 100 + n // 256))
        if not given
        else a_shade(piece=f"W-{n:03d}", **given)
        for n in range(count)
    ]


def laid(listed: list[CardShade], **card: Any) -> LaidCard:
    return lay_out_card(Card(**card), listed, CARD_WORDS)


def printed(listed: list[CardShade], **card: Any) -> bytes:
    return card_pdf(laid(listed, **card))
