"""The photos of this sitting: measured beside the window, changed with undo."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from PySide6.QtCore import QObject, Signal, Slot
from PySide6.QtGui import QUndoCommand, QUndoStack

from dyeshade.measure.calibrations import NO_CALIBRATIONS, Calibrations
from dyeshade.window.errands import Errand, Errands, Progress
from dyeshade.window.photo_page import PhotoPage
from dyeshade.window.photos_model import PhotosModel
from dyeshade.window.put_step import PutStep
from dyeshade.work.look_at_photos import Asked, PhotoLook, is_behind, look_at_photos
from dyeshade.work.side_by_side import Warm


class Measuring(QObject):
    """Holds the photos, and measures them as asked.

    Signals
    -------
    page_changed(PhotoPage)
        What is asked of a photo, or what was found, is another.
    came(list of PhotoPage)
        Photos came in.
    removed(PhotoPage)
        A photo was put away.
    progressed(int, int)
        How many of the photos on their way are done.
    stopped()
        Nothing is on its way any more.
    """

    page_changed = Signal(object)
    came = Signal(object)
    removed = Signal(object)
    progressed = Signal(int, int)
    stopped = Signal()

    def __init__(self, undo: QUndoStack, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.photos = PhotosModel(self)
        self.undo = undo
        self.known: Calibrations = NO_CALIBRATIONS
        """Calibrations that photos are measured with where they match."""
        # One for many photos, one for the photo that is being changed meanwhile.
        self.errands = Errands("measuring", 2, self)
        self._warm = Warm()
        self._running: list[Errand] = []

    @property
    def busy(self) -> bool:
        """Whether anything is on its way."""
        return bool(self._running)

    @property
    def warm(self) -> Warm:
        """The process that measures a single photo; whoever needs one meanwhile may take it."""
        return self._warm

    def open(self, paths: Sequence[str], light: str | None) -> None:
        """Take photos in, and measure them; those that are in already stay as they are."""
        known = {page.asked.path for page in self.photos.pages}
        new = [path for path in dict.fromkeys(paths) if path not in known]
        pages = [PhotoPage(Asked(path, light)) for path in new]
        self.take_in(pages)

    def take_in(self, pages: list[PhotoPage]) -> None:
        """Take photos in with what was asked of them before, and measure them."""
        if pages:
            self.photos.add(pages)
            self.came.emit(pages)
            self.measure(pages)

    def put_away(self, page: PhotoPage, words: str) -> None:
        """Take a photo off the list, so that it can be undone; nothing on the disk is touched."""
        self.undo.push(_PutAway(page, words, self._show, self._hide))

    @Slot(object)
    def use(self, known: Calibrations) -> None:
        """Measure with these calibrations from now on; photos that they concern at once."""
        self.known = known
        self._catch_up(self.photos.pages)
        for page in self.photos.pages:
            # What could be used is another, even where it is switched off.
            self.page_changed.emit(page)

    def measure(self, pages: list[PhotoPage]) -> None:
        """Measure photos as they are asked for now."""
        asked = [page.asked for page in pages]

        def take(look: PhotoLook) -> None:
            taken = [page for page in pages if page.take(look)]
            for page in taken:
                self._tell(page)
            self._catch_up(taken)

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
            return look_at_photos(wanted, None, progress, self._warm, self.known)

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
        self.undo.push(PutStep(words, page, page.asked, wish, self._put, key))

    def cancel(self) -> None:
        """Measure no further photo; what is done stays."""
        for errand in self._running:
            errand.cancel()

    def close(self) -> None:
        """Stop, and wait until the photo in hand is let go."""
        self.errands.close()
        self._warm.close()

    def _show(self, page: PhotoPage) -> None:
        self.photos.add([page])
        self.came.emit([page])
        if page.look is None or page.look.asked is not page.asked:
            self.measure([page])
        else:
            self._catch_up([page])

    def _hide(self, page: PhotoPage) -> None:
        self.photos.remove(self.photos.pages.index(page))
        self.removed.emit(page)

    def _put(self, page: PhotoPage, wish: Asked) -> None:
        page.asked = wish
        self.measure([page])

    def _catch_up(self, pages: Sequence[PhotoPage]) -> None:
        """Measure photos anew that other calibrations are known of than they were measured with."""
        behind = [
            page
            for page in pages
            if page.look is not None
            and page.look.asked is page.asked
            and is_behind(page.look, self.known)
        ]
        for page in behind:
            # Another wish: what the library holds of it is no longer what is shown.
            page.asked = replace(page.asked)
        if behind:
            self.measure(behind)

    def _tell(self, page: PhotoPage) -> None:
        self.photos.changed(page)
        self.page_changed.emit(page)


class _PutAway(QUndoCommand):
    """A photo that is taken off the list."""

    def __init__(
        self,
        page: PhotoPage,
        words: str,
        show: Callable[[PhotoPage], None],
        hide: Callable[[PhotoPage], None],
    ) -> None:
        super().__init__(words)
        self._page, self._show, self._hide = page, show, hide

    def redo(self) -> None:
        """Take it off."""
        self._hide(self._page)

    def undo(self) -> None:
        """List it again, as the last."""
        self._show(self._page)
