"""What is typed of baths and not kept, held in the library against a crash, and brought back."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import QObject

from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.sitting_drafts import LeftOver, SittingDrafts
from dyeshade.work.bath_typed import TypedBath
from dyeshade.work.unsaved import of_plain, plain

_FORMAT = 1


class BathDrafts(QObject):
    """Has a draft written of each bath with something unkept.

    Attributes
    ----------
    drafts : SittingDrafts
    """

    def __init__(self, desk: LibraryDesk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.drafts = SittingDrafts(desk, "bath", self)

    def keep(self, unkept: Mapping[int, TypedBath]) -> None:
        """Write what has changed, and drop what is kept; soon, where something is being written."""
        self.drafts.put(
            {
                self.drafts.name(key): {"format": _FORMAT, "key": key, "typed": plain(typed)}
                for key, typed in unkept.items()
            }
        )

    @property
    def homeless(self) -> bool:
        """Whether there is unkept work that would not be there with the next start."""
        return self.drafts.homeless

    def flush(self) -> None:
        """Write all at once that is not written yet, as before the program ends."""
        self.drafts.flush()

    def let_go(self) -> None:
        """Write what is left, and let the next window take the drafts for left over."""
        self.drafts.let_go()

    def bring_back(self, then: Callable[[dict[int, TypedBath]], None]) -> None:
        """Find what this sitting, and sittings that are no more, have left unkept.

        Parameters
        ----------
        then : callable
            Called with what was typed, by key. Where two sittings typed at one bath, the later.
        """
        self.drafts.begin_anew()

        def take(found: LeftOver) -> None:
            typed: dict[int, TypedBath] = {}
            for name, payload in found:
                if not isinstance(payload, dict) or payload.get("format") != _FORMAT:
                    continue
                key = int(payload["key"])
                if key < 0 and key in typed:
                    key = min(typed) - 1
                typed[key] = of_plain(TypedBath, payload["typed"])
                self.drafts.take_over(name)
            then(typed)
            self.keep(typed)

        self.drafts.find_left_over(take, own=True)
