"""Unsaved work of this sitting, kept in the library against a crash, and brought back from it."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal, Slot

from dyeshade.window.assigning import Assigning
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.measuring import Measuring
from dyeshade.window.photo_page import PhotoPage
from dyeshade.window.sitting_drafts import LeftOver, SittingDrafts
from dyeshade.work.unsaved import UnsavedPhoto, payload_of, photo_of


class KeepingDrafts(QObject):
    """Writes a draft of each photo with unsaved work, and drops it when that is saved.

    Signals
    -------
    brought_back(int)
        So many photos of an earlier sitting are here again.
    """

    brought_back = Signal(int)

    def __init__(
        self,
        measuring: Measuring,
        assigning: Assigning,
        desk: LibraryDesk,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._measuring, self._assigning, self._desk = measuring, assigning, desk
        self.drafts = SittingDrafts(desk, "measuring", self)
        self._names: dict[PhotoPage, str] = {}
        measuring.page_changed.connect(self.keep)
        measuring.came.connect(self.keep)
        measuring.removed.connect(self.keep)
        assigning.changed.connect(self.keep)
        assigning.known_changed.connect(self.keep)
        desk.opened.connect(self._library_opened)

    @Slot()
    def keep(self) -> None:
        """Write what has changed, and drop what is saved; soon, where something is being written.

        Called by signals of several kinds, whose arguments do not matter.
        """
        self.drafts.put(self._wanted())

    @property
    def homeless(self) -> bool:
        """Whether there is unsaved work that would not be there with the next start."""
        return self.drafts.homeless

    def leave(self) -> None:
        """Take this sitting's drafts out of the library that is being left for another."""
        self.drafts.leave()

    def close(self) -> None:
        """Write what is left, before the desk is closed; the work comes back with the next start.

        The lock is let go, so that the next window takes the drafts for left over.
        """
        self.keep()
        self.drafts.let_go()

    def _wanted(self) -> dict[str, object]:
        wanted: dict[str, object] = {}
        for page in self._measuring.photos.pages:
            if page.has_work:
                number = f"{len(self._names):04d}"
                name = self._names.setdefault(page, self.drafts.name(number))
                codes = {one.bath for one in page.said.values()}
                codes |= {two.bath for one in page.said.values() for two in one.treatments}
                baths = tuple(b for code, b in self._assigning.baths.items() if code in codes)
                wanted[name] = payload_of(UnsavedPhoto(page.asked, page.said, baths))
        return wanted

    @Slot()
    def _library_opened(self) -> None:
        self.drafts.begin_anew()
        self.drafts.find_left_over(self._bring_back)
        self.keep()

    def _bring_back(self, found: LeftOver) -> None:
        """Take over what sittings that are no more have left unsaved."""
        open_now = {page.asked.path for page in self._measuring.photos.pages}
        pages = []
        for name, payload in found:
            assert isinstance(payload, dict)
            photo = photo_of(payload)
            if photo is None:
                continue
            self.drafts.take_over(name)
            if photo.asked.path in open_now:
                continue
            page = PhotoPage(photo.asked)
            page.said = dict(photo.said)
            for bath in photo.baths:
                self._assigning.describe_bath(bath)
            pages.append(page)
        if pages:
            self._measuring.take_in(pages)
            self.brought_back.emit(len(pages))
        self.keep()
