"""Serial numbers of sheets: short, read aloud without doubt, and checked."""

from __future__ import annotations

import secrets

ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXY"
"""29 characters (a prime, for the check): no 0 O, 1 I L, U or 2 Z, which print alike."""

_LENGTH = 7


def check_character(body: str) -> str:
    """The last character that belongs to the seven before it.

    Weights rise along the body, so that a wrong character or two swapped neighbours show.
    """
    total = sum((place + 1) * ALPHABET.index(letter) for place, letter in enumerate(body))
    return ALPHABET[total % len(ALPHABET)]


def new_serial() -> str:
    """A fresh serial number, like ``K7QF-3M9T``."""
    body = "".join(secrets.choice(ALPHABET) for _ in range(_LENGTH))
    whole = body + check_character(body)
    return f"{whole[:4]}-{whole[4:]}"


def check_serial(text: str) -> bool:
    """Whether a text is a serial number of ours, check character included."""
    letters = text.replace("-", "")
    if len(text) != _LENGTH + 2 or text[4] != "-" or len(letters) != _LENGTH + 1:
        return False
    return set(letters) <= set(ALPHABET) and check_character(letters[:-1]) == letters[-1]
