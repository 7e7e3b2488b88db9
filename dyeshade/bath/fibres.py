"""Kinds of fibre, as far as mordants, acids and alkalis tell them apart."""

from __future__ import annotations

import difflib
from dataclasses import dataclass

from dyeshade.errors import DyeshadeError

PROTEIN, CELLULOSE = "protein", "cellulose"
GROUPS = (PROTEIN, CELLULOSE)


@dataclass(frozen=True)
class FibreKind:
    """A kind of fibre.

    Attributes
    ----------
    name : str
    group : str
        `PROTEIN`, which alkali harms, or `CELLULOSE`, which acid harms.
    spellings : tuple of str
        Other names that dyers write, in lower case.
    """

    name: str
    group: str
    spellings: tuple[str, ...] = ()

    @property
    def bears_as(self) -> str:
        """What `ceilings` calls it: silk bears less than other protein."""
        return "silk" if self.name == "silk" else self.group


FIBRE_KINDS: tuple[FibreKind, ...] = (
    FibreKind("wool", PROTEIN, ("merino", "lambswool", "fleece")),
    FibreKind("silk", PROTEIN, ("tussah", "tussar", "mulberry silk")),
    FibreKind("mohair", PROTEIN),
    FibreKind("alpaca", PROTEIN),
    FibreKind("cashmere", PROTEIN),
    FibreKind("angora", PROTEIN),
    FibreKind("cotton", CELLULOSE, ("organic cotton", "muslin", "calico")),
    FibreKind("linen", CELLULOSE, ("flax",)),
    FibreKind("hemp", CELLULOSE),
    FibreKind("ramie", CELLULOSE),
    FibreKind("viscose", CELLULOSE, ("rayon", "lyocell", "modal")),
)
"""Groups of fibres: common knowledge of the trade, no source."""

_BY_NAME = {name: kind for kind in FIBRE_KINDS for name in (kind.name, *kind.spellings)}


def find_fibre(written: str) -> FibreKind:
    """The kind of fibre that somebody wrote.

    Raises
    ------
    DyeshadeError
        ``fibre_unknown`` (fibre, near, accepted).
    """
    word = " ".join(written.lower().split())
    if word in _BY_NAME:
        return _BY_NAME[word]
    near = difflib.get_close_matches(word, _BY_NAME, n=1)
    raise DyeshadeError(
        "fibre_unknown",
        fibre=written.strip(),
        near=near[0] if near else None,
        accepted=tuple(kind.name for kind in FIBRE_KINDS),
    )


def guess_fibre(text: str) -> FibreKind | None:
    """The kind of fibre that a free text speaks of ("Merino roving, 2 ply"); None for none or two.

    A guess to be shown and changed, not to be reckoned with unseen.
    """
    words = set(text.lower().replace(",", " ").split())
    kinds = {kind.name: kind for name, kind in _BY_NAME.items() if set(name.split()) <= words}
    return next(iter(kinds.values())) if len(kinds) == 1 else None


def group_of(fibre: str) -> str:
    """The group of a kind of fibre, or of a group itself. Raises as `find_fibre`."""
    return fibre if fibre in GROUPS else find_fibre(fibre).group


def is_on(on: str, fibre: str) -> bool:
    """Whether what goes on `on` (a kind, a group, or "" for all) goes on a kind of fibre.

    Raises
    ------
    DyeshadeError
        ``fibre_unknown``
    """
    kind = find_fibre(fibre)
    return on in ("", kind.group) or (on not in GROUPS and find_fibre(on) == kind)
