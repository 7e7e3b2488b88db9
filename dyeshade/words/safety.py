"""What dyeing itself may do to people and places; common practice, no source."""

from __future__ import annotations

LIMITS = (
    "dyeshade measures colours. It knows nothing about your pot, your water or your health. "
    "What follows is common practice, no source; the safety data sheet of each product and "
    "the rules of the place where you live come first."
)

CAUTIONS_FOR_DYERS: tuple[str, ...] = (
    (
        "Mordants and auxiliaries are chemicals. Weigh them with gloves and without raising "
        "dust; keep them, their vessels and their spoons apart from food and away from "
        "children and animals. Chrome and tin have no place in a kitchen or a school. Ask "
        "your local authority where a spent bath may go."
    ),
    (
        "Hot baths scald, and their steam carries what is in them. Air the room, lid the pot,"
        " lift heavy wet fibre in parts."
    ),
    (
        "Lye, washing soda, lime and strong acids burn skin and eyes: goggles and gloves, "
        "always the chemical into the water, never acids together with bleach or with lye."
    ),
    (
        "What you gather may be poisonous, protected or somebody's own. Pick only what you "
        "know for certain, and little."
    ),
    "A plant dye is not a food dye, and a dyed piece is not for a mouth.",
)
"""The same sentences as in README, "Cautions"."""
