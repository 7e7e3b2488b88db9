"""The photos of this sitting: measured beside the window, changed with undo."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from dyeshade.window.errands import Errand, Errands, Progress
from dyeshade.window.photo_page import PhotoPage
from dyeshade.window.photos_model import PhotosModel
from dyeshade.work.look_at_photos import Asked, PhotoLook, look_at_photos


class Measuring(QObject):
    """Holds the photos, and measures them as asked.

    Signals
    -------
    page_changed(PhotoPage)
        What is asked of a photo, or what was found, is another.
    progressed(int, int)
        How many of the photos on their way are done.
    stopped()
        Nothing is on its way any more.
    """

    page_changed = Signal(object)
    progressed = Signal(int, int)
    stopped = Signal()

    def __init__(self, undo: QUndoStack, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.photos = PhotosModel(self)
        self.undo = undo
        # One for many photos, one for the photo that is being changed meanwhile.
        self.errands = Errands("measuring", 2, self)
        self._running: list[Errand] = []

    @property
    def busy(self) -> bool:
        """Whether anything is on its way."""
        return bool(self._running)

    def open(self, paths: Sequence[str], light: str | None) -> None:
        """Take photos in, and measure them; those that are in already stay as they are."""
        known = {page.asked.path for page in self.photos.pages}
        new = [path for path in dict.fromkeys(paths) if path not in known]
        pages = [PhotoPage(Asked(path, light)) for path in new]
        if pages:
            self.photos.add(pages)
            self.measure(pages)

    def measure(self, pages: list[PhotoPage]) -> None:
        """Measure photos as they are asked for now."""
        asked = [page.asked for page in pages]

        def take(look: PhotoLook) -> None:
            for page in pages:
                if page.take(look):
                    self._tell(page)

        def ended() -> None:
            self._running.remove(errand)
            for page in pages:
                if page.busy and any(page.asked is one for one in asked):
                    # Cancelled, or a fault of ours: nothing will come.
                    page.busy = False
                    self._tell(page)
            if not self._running:
                self.stopped.emit()

        errand = Errand(take, self.progressed.emit, ended)
        self._running.append(errand)
        for page in pages:
            page.busy = True
            self._tell(page)

        def work(progress: Progress) -> Iterator[PhotoLook]:
            # Wishes that another has overtaken meanwhile are not worth the time.
            wanted = [one for one, page in zip(asked, pages, strict=True) if page.asked is one]
            return look_at_photos(wanted, None, progress)

        self.errands.start(work, errand)

    def ask(self, page: PhotoPage, wish: Asked, words: str, key: object = None) -> None:
        """Change what is asked of a photo, so that it can be undone.

        Parameters
        ----------
        page : PhotoPage
        wish : Asked
        words : str
            What was done, for the menu.
        key : object, optional
            Changes with the same key that follow each other are undone as one.
        """
        self.undo.push(_Change(page, wish, words, key, self._put))

    def cancel(self) -> None:
        """Measure no further photo; what is done stays."""
        for errand in self._running:
            errand.cancel()

    def close(self) -> None:
        """Stop, and wait until the photo in hand is let go."""
        self.errands.close()

    def _put(self, page: PhotoPage, wish: Asked) -> None:
        page.asked = wish
        self.measure([page])

    def _tell(self, page: PhotoPage) -> None:
        self.photos.changed(page)
        self.page_changed.emit(page)


class _Change(QUndoCommand):
    """A change of what is asked of one photo."""

    def __init__(
        self,
        page: PhotoPage,
        wish: Asked,
        words: str,
        key: object,
        put: Callable[[PhotoPage, Asked], None],
    ) -> None:
        super().__init__(words)
        self._page, self._before, self._after = page, page.asked, wish
        self._key, self._put = key, put

    def redo(self) -> None:
        """Do it."""
        self._put(self._page, self._after)

    def undo(self) -> None:
        """Undo it."""
        self._put(self._page, self._before)

    def id(self) -> int:
        """Changes that may become one share a number."""
        return -1 if self._key is None else 1

    def mergeWith(self, other: QUndoCommand) -> bool:  # noqa: N802
        """Become one with the next, where it goes on with the same."""
        assert isinstance(other, _Change)
        if other._page is not self._page or other._key != self._key:
            return False
        self._after = other._after
        return True
