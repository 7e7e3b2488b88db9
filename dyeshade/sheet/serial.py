"""Serial numbers of sheets: short, read aloud without doubt, and checked."""

from __future__ import annotations

import secrets
from typing import Final

ALPHABET: Final = "23456789ABCDEFGHJKMNPQRSTVWXY"
"""Without 0 O, 1 I L, U and Z, which a reader of print takes for another. Their number is prime:
only so does the check character catch every single slip and every swap of neighbours."""

_LENGTH: Final = 8
_GROUP: Final = 4


def check_character(body: str) -> str:
    """The last character, from the seven before it.

    Parameters
    ----------
    body : str
        Characters of `ALPHABET`.

    Returns
    -------
    str
        One character. Weights rise along the body, modulo the size of the alphabet.

    Raises
    ------
    ValueError
        For a character that is not in the alphabet.
    """
    total = sum(place * ALPHABET.index(letter) for place, letter in enumerate(body, start=1))
    return ALPHABET[total % len(ALPHABET)]


def new_serial() -> str:
    """A fresh serial number, as ``K7QF-3M9G``.

    Returns
    -------
    str
        29 to the seventh power are possible: two workshops do not meet by chance.
    """
    body = "".join(secrets.choice(ALPHABET) for _ in range(_LENGTH - 1))
    whole = body + check_character(body)
    return f"{whole[:_GROUP]}-{whole[_GROUP:]}"


def check_serial(text: str) -> bool:
    """Whether a text is a serial number of ours, check character included.

    Parameters
    ----------
    text : str

    Returns
    -------
    bool
    """
    first, dash, second = text.partition("-")
    letters = first + second
    if dash != "-" or len(first) != _GROUP or len(letters) != _LENGTH:
        return False
    return set(letters) <= set(ALPHABET) and check_character(letters[:-1]) == letters[-1]
