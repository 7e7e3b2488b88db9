"""Arabic letters joined, and lines of right-to-left scripts put in the order they are seen.

This is the part of the bidirectional algorithm that names need: strong letters, numbers, signs
between them and mirrored brackets; no embeddings or isolates.

References
----------
Unicode Standard Annex 9, Unicode bidirectional algorithm, rules W1 to W7, N0 to N2, I1, I2, L1,
L2, L4. The Unicode Standard, 9.2, cursive joining; its presentation forms from Python's
`unicodedata`.
"""

from __future__ import annotations

import unicodedata
from functools import cache
from typing import Final

_MIRRORED: Final = dict(zip("()[]{}<>«»‹›", ")(][}{><»«›‹", strict=True))
_RIGHT: Final = ("R", "AL")
_STRONG: Final = ("L", "R", "EN", "AN")
_CLOSING: Final = {"(": ")", "[": "]", "{": "}"}


def is_right_to_left(text: str) -> bool:
    """Whether any letter of it runs from right to left."""
    return any(unicodedata.bidirectional(character) in _RIGHT for character in text)


def joined(text: str) -> str:
    """Text with its Arabic letters in the forms that they take beside each other, same order."""
    forms = _forms()
    out: list[str] = []
    places = [i for i, character in enumerate(text) if not unicodedata.combining(character)]
    before = {place: places[n - 1] for n, place in enumerate(places) if n}
    after = {place: places[n + 1] for n, place in enumerate(places[:-1])}
    skipped = -1
    for place, character in enumerate(text):
        if place == skipped:
            continue
        following = after.get(place)
        if following == place + 1:
            pair = character + text[following]
            if pair in forms:
                linked = _links_on(text, before.get(place))
                out.append(forms[pair].get("final" if linked else "isolated", pair))
                skipped = following
                continue
        own = forms.get(character)
        if own is None:
            out.append(character)
            continue
        back = _links_on(text, before.get(place)) and "final" in own
        on = (
            following is not None and "initial" in own and "final" in forms.get(text[following], {})
        )
        name = ("medial" if on else "final") if back else ("initial" if on else "isolated")
        out.append(own.get(name, character))
    # A non-joiner has done what it is for.
    return "".join(out).replace("\u200c", "").replace("\u200d", "")


def as_seen(line: str) -> str:
    """A line's characters from left to right as they are seen.

    Parameters
    ----------
    line : str
        In the order in which it is read, Arabic joined.

    Returns
    -------
    str
        Marks stay behind the letter that they sit on.
    """
    kinds, base = _resolved(line)
    levels = [_level(kind, base) for kind in kinds]
    clusters: list[tuple[str, int]] = []
    for character, level in zip(line, levels, strict=True):
        if clusters and unicodedata.combining(character):
            clusters[-1] = clusters[-1][0] + character, clusters[-1][1]
        else:
            seen = _MIRRORED.get(character, character) if level % 2 else character
            clusters.append((seen, level))
    for least in range(max(levels, default=0), 0, -1):
        start = 0
        while start < len(clusters):
            end = start
            while end < len(clusters) and clusters[end][1] >= least:
                end += 1
            clusters[start:end] = clusters[start:end][::-1]
            start = max(end, start + 1)
    return "".join(seen for seen, _ in clusters)


@cache
def _forms() -> dict[str, dict[str, str]]:
    """Presentation forms of a letter, or of lam and alef together, by the way they are joined."""
    forms: dict[str, dict[str, str]] = {}
    for code in (*range(0xFB50, 0xFC00), *range(0xFE70, 0xFEFD)):
        kind, *parts = unicodedata.decomposition(chr(code)).split() or [""]
        letters = "".join(chr(int(part, 16)) for part in parts)
        single = len(letters) == 1 or (len(letters) == 2 and letters[0] == "\u0644")
        if single and kind.strip("<>") in ("isolated", "initial", "medial", "final"):
            forms.setdefault(letters, {})[kind.strip("<>")] = chr(code)
    return forms


def _links_on(text: str, place: int | None) -> bool:
    """Whether the letter there reaches over to the next one."""
    return place is not None and "initial" in _forms().get(text[place], {})


def _resolved(line: str) -> tuple[list[str], str]:
    """Each character as L, R, EN or AN, and the line's own direction."""
    raw = [unicodedata.bidirectional(character) or "L" for character in line]
    base = next(("L" if kind == "L" else "R" for kind in raw if kind in ("L", *_RIGHT)), "L")
    kinds: list[str] = []
    strong = base
    for place, kind in enumerate(raw):
        if kind == "NSM":
            kind = kinds[-1] if place else base
        if kind in ("L", *_RIGHT):
            strong = kind
        if kind == "EN" and strong == "AL":
            kind = "AN"
        elif kind == "EN" and strong == "L":
            kind = "L"
        kinds.append("R" if kind in _RIGHT else kind)
    for place in range(1, len(kinds) - 1):
        around = kinds[place - 1], kinds[place + 1]
        if raw[place] in ("CS", "ES") and around[0] == around[1] and around[0] in ("EN", "AN"):
            kinds[place] = around[0]
    for place, kind in enumerate(kinds):
        if kind == "ET" and "EN" in kinds[max(place - 1, 0) : place + 2]:
            kinds[place] = "EN"
    for opened, closed in _pairs(line):
        inside = [_side(kind) for kind in kinds[opened + 1 : closed] if kind in _STRONG]
        earlier = [_side(kind) for kind in kinds[:opened] if kind in _STRONG]
        if inside:
            other = base not in inside and (earlier[-1] if earlier else base) != base
            kinds[opened] = kinds[closed] = inside[0] if other else base
    start = 0
    while start < len(kinds):
        end = start
        while end < len(kinds) and kinds[end] not in _STRONG:
            end += 1
        left = _side(kinds[start - 1]) if start else base
        right = _side(kinds[end]) if end < len(kinds) else base
        kinds[start:end] = [left if left == right else base] * (end - start)
        start = end + 1
    return kinds, base


def _pairs(line: str) -> list[tuple[int, int]]:
    """Brackets that belong together, in the order of the first ones."""
    opened: list[int] = []
    pairs: list[tuple[int, int]] = []
    for place, character in enumerate(line):
        if character in _CLOSING:
            opened.append(place)
        elif opened and character == _CLOSING[line[opened[-1]]]:
            pairs.append((opened.pop(), place))
    return sorted(pairs)


def _side(kind: str) -> str:
    return "L" if kind == "L" else "R"


def _level(kind: str, base: str) -> int:
    if base == "L":
        return {"L": 0, "R": 1}.get(kind, 2)
    return 1 if kind == "R" else 2
