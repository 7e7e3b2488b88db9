"""What is chosen for a shade card: which shades, in which order, how made up; with undo."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import cast

from PySide6.QtCore import QSettings
from PySide6.QtGui import QUndoCommand

from dyeshade.paper.shade_card import PAPERS, SWATCH_SIZES, Card, CardOrder, Paper, SwatchSize


@dataclass(frozen=True)
class CardChoice:
    """A card as it is chosen.

    Attributes
    ----------
    ids : tuple of int
        Readings, each once, as they were arranged. One that the library has no more may be among
        them: should its removal be undone, it is on the card again.
    order : str
        One of `dyeshade.paper.shade_card.ORDERS`.
    card : Card
    """

    ids: tuple[int, ...] = ()
    order: CardOrder = "given"
    card: Card = field(default_factory=Card)

    def with_more(self, ids: Iterable[int]) -> CardChoice:
        """With further shades at the end; those on the card already stay where they are."""
        return replace(self, ids=tuple(dict.fromkeys((*self.ids, *ids))))

    def without(self, ids: Iterable[int]) -> CardChoice:
        """With some shades taken off."""
        gone = set(ids)
        return replace(self, ids=tuple(one for one in self.ids if one not in gone))

    def arranged(self, shown: Sequence[int]) -> CardChoice:
        """In the order in which shades were put by hand."""
        seen = set(shown)
        unseen = (one for one in self.ids if one not in seen)
        return replace(self, ids=(*shown, *unseen), order="given")


def moved(shown: Sequence[int], chosen: Iterable[int], before: int) -> tuple[int, ...]:
    """Ids with some of them moved in front of a place, in the order that they had.

    Parameters
    ----------
    shown : sequence of int
    chosen : iterable of int
    before : int
        Place in `shown`, its length for the end.
    """
    picked = set(chosen)
    ahead = [one for one in shown[:before] if one not in picked]
    behind = [one for one in shown[before:] if one not in picked]
    return (*ahead, *(one for one in shown if one in picked), *behind)


def stepped(shown: Sequence[int], chosen: Iterable[int], up: bool) -> tuple[int, ...]:
    """Ids with some of them one place further up or down; at the end they stay together."""
    picked = set(chosen)
    places = [place for place, one in enumerate(shown) if one in picked]
    if not places:
        return tuple(shown)
    before = max(places[0] - 1, 0) if up else min(places[-1] + 2, len(shown))
    return moved(shown, picked, before)


class ChangeCard(QUndoCommand):
    """A step from one choice to another.

    Parameters
    ----------
    before, after : CardChoice
    words : str
        What is done, for the menu.
    key : str
        Steps with the same key that follow each other are one, as what is typed into a field; ""
        keeps a step by itself.
    put : callable
        Shows a choice; tells False where it concerns a library that is no longer open.
    """

    def __init__(
        self,
        before: CardChoice,
        after: CardChoice,
        words: str,
        key: str,
        put: Callable[[CardChoice], bool],
    ) -> None:
        super().__init__(words)
        self._before, self._after = before, after
        self._key, self._put = key, put

    def id(self) -> int:
        """The kind of step, for merging."""
        return 3071 if self._key else -1

    def mergeWith(self, other: QUndoCommand) -> bool:  # noqa: N802
        """Take a step of the same key into this one."""
        if not isinstance(other, ChangeCard) or other._key != self._key:
            return False
        self._after = other._after
        if self._after == self._before:
            self.setObsolete(True)
        return True

    def redo(self) -> None:
        """Do it, again."""
        self.setObsolete(not self._put(self._after))

    def undo(self) -> None:
        """Take it back."""
        self.setObsolete(not self._put(self._before))


def kept_choice(letter_country: bool) -> CardChoice:
    """An empty card, made up as the last one was.

    Parameters
    ----------
    letter_country : bool
        Whether paper is Letter where nothing was chosen yet.
    """
    settings = QSettings()
    paper = str(settings.value("card/paper", "Letter" if letter_country else "A4"))
    swatch = str(settings.value("card/swatch", "middle"))
    return CardChoice(
        card=Card(
            maker=str(settings.value("card/maker", "")),
            paper=_paper(paper),
            swatch=_swatch(swatch),
            fibre_place=_yes(settings.value("card/fibre_place")),
            two_sided=_yes(settings.value("card/two_sided")),
        )
    )


def keep_choice(choice: CardChoice) -> None:
    """Keep how a card is made up for the next one; its shades and its title are its own."""
    settings = QSettings()
    card = choice.card
    for name, value in (
        ("maker", card.maker),
        ("paper", card.paper),
        ("swatch", card.swatch),
        ("fibre_place", "yes" if card.fibre_place else "no"),
        ("two_sided", "yes" if card.two_sided else "no"),
    ):
        settings.setValue(f"card/{name}", value)


def _yes(kept: object) -> bool:
    return kept == "yes"


def _paper(kept: str) -> Paper:
    return cast(Paper, kept) if kept in PAPERS else "A4"


def _swatch(kept: str) -> SwatchSize:
    return cast(SwatchSize, kept) if kept in SWATCH_SIZES else "middle"
