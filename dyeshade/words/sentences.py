"""Fills a sentence with the facts of a refusal or a caution."""

from __future__ import annotations

from collections.abc import Callable, Mapping

Facts = Mapping[str, object]
Sentence = str | Callable[[Facts], str]
"""A template with the facts' names in braces, or a function where the wording depends on them."""


def fill(table: Mapping[str, Sentence], code: str, facts: Facts) -> str:
    """The sentence for a code.

    Parameters
    ----------
    table : mapping of str to Sentence
    code : str
    facts : mapping of str to object

    Returns
    -------
    str

    Raises
    ------
    KeyError
        For a code without a sentence, or a sentence without its facts: ours to mend.
    """
    sentence = table[code]
    return sentence.format_map(facts) if isinstance(sentence, str) else sentence(facts)


def percent(share: object) -> str:
    """A share as in "13 %"."""
    return f"{share:.0%}".replace("%", " %")


def counted(number: object, one: str, many: str) -> str:
    """A number with its noun, as in "1 mark" and "3 marks"."""
    return f"{number} {one if number == 1 else many}"
