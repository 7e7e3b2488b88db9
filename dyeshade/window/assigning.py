"""What a dyer says of the samples, over all photos: with undo, and kept with one key."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from PySide6.QtCore import QObject, Signal, Slot
from PySide6.QtGui import QUndoStack

from dyeshade.errors import DyeshadeError
from dyeshade.library.baths import next_bath_code
from dyeshade.library.library import Library
from dyeshade.library.pieces import next_piece_code
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.measuring import Measuring
from dyeshade.window.photo_page import PhotoPage
from dyeshade.window.put_step import PutStep
from dyeshade.work.assign_by_tag import pieces_by_tag
from dyeshade.work.home_test_photo import PhotoKept, Spots, keep_test_photo
from dyeshade.work.keep_readings import Kept, ToKeep, keep_readings, said_before
from dyeshade.work.known import Known, known_to, said_of_bath
from dyeshade.work.said import Said, SaidBath

Pieces = Mapping[str, Said]


NOTHING_KNOWN = Known((), (), (), (), (), (), "", "", "")


class Assigning(QObject):
    """Holds what was said of the photos' samples, and has the library keep it.

    Signals
    -------
    changed(PhotoPage)
        Other things are said of a photo's samples, or they are kept now.
    known_changed()
        What typing completes is another.
    kept(Kept)
        All that was ready is in the library.
    """

    changed = Signal(object)
    known_changed = Signal()
    kept = Signal(object)

    def __init__(
        self,
        measuring: Measuring,
        desk: LibraryDesk,
        undo: QUndoStack,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._measuring, self._desk, self._undo = measuring, desk, undo
        self.known = NOTHING_KNOWN
        self.baths: dict[str, SaidBath] = {}
        """Baths described in this sitting, by code."""
        self.saving = False
        self._save_later = False
        desk.opened.connect(self.ask_library)
        desk.changed.connect(self.ask_library)
        measuring.came.connect(lambda pages: self._ask_of(pages))
        measuring.stopped.connect(self._measured)
        measuring.page_changed.connect(self._go_by_tags)

    @property
    def ready(self) -> list[tuple[PhotoPage, list[str]]]:
        """Photos with the samples that may be kept now and are not."""
        ready = [(page, page.unsaved) for page in self._measuring.photos.pages]
        return [(page, names) for page, names in ready if names]

    @property
    def waiting(self) -> bool:
        """Whether all that is ready is kept as soon as no photo is being measured."""
        return self._save_later

    @property
    def unsaid(self) -> int:
        """How many measured samples belong to no piece yet."""
        return sum(len(page.unsaid) for page in self._measuring.photos.pages)

    def say(
        self,
        page: PhotoPage,
        names: Sequence[str],
        change: Callable[[Said], Said],
        words: str,
        key: object = None,
    ) -> None:
        """Say something of samples, so that it can be undone.

        Parameters
        ----------
        page : PhotoPage
        names : sequence of str
        change : callable
            Makes a new word of an old one.
        words : str
            What is done, for the menu.
        key : object, optional
            Words with the same key that follow each other are undone as one.
        """
        said = dict(page.said)
        for name in names:
            said[name] = change(said.get(name, Said()))
        self.put(page, said, words, key)

    def forget(self, page: PhotoPage, names: Sequence[str], words: str) -> None:
        """Take back what was said of samples, so that they are not kept."""
        self.put(page, {n: one for n, one in page.said.items() if n not in names}, words)

    def put(self, page: PhotoPage, said: Pieces, words: str, key: object = None) -> None:
        """Say all that is said of a photo's samples, so that it can be undone."""
        if said != page.said:
            self._undo.push(PutStep(words, page, dict(page.said), dict(said), self._put, key))

    def rename(
        self, page: PhotoPage, name: str, new: str, words: str, does: Callable[[], None]
    ) -> None:
        """Carry what was said of a sample over to its new name, as one step of undo.

        Parameters
        ----------
        page : PhotoPage
        name, new : str
        words : str
            What is done, for the menu.
        does : callable
            Renames the sample itself.
        """
        said = {new if one == name else one: told for one, told in page.said.items()}
        self._undo.beginMacro(words)
        does()
        self.put(page, said, words)
        self._undo.endMacro()

    def new_pieces(self, page: PhotoPage, names: Sequence[str], words: str) -> None:
        """Give samples new pieces, each with the next free id."""
        fibres = {name: page.said.get(name, Said()).fibre for name in names}
        given = self.new_codes

        def question(library: Library) -> dict[str, str]:
            return {
                name: next_piece_code(library, fibre, given + number)
                for number, (name, fibre) in enumerate(fibres.items())
            }

        def take(codes: dict[str, str]) -> None:
            said = dict(page.said)
            for name, code in codes.items():
                said[name] = replace(said.get(name, Said()), piece=code)
            self.put(page, said, words)

        self._desk.ask(question, take)

    def find_bath(self, code: str, then: Callable[[SaidBath, bool], None]) -> None:
        """Find a bath to describe: one of this sitting, a kept one, or a new one.

        Parameters
        ----------
        code : str
            "" for a new one with the next free code.
        then : callable
            Called with the bath and with whether it is new.
        """
        wanted = code.strip()
        described = {known.casefold(): bath for known, bath in self.baths.items()}
        if wanted.casefold() in described:
            then(described[wanted.casefold()], True)
            return
        taken = len(self.baths)

        def question(library: Library) -> tuple[SaidBath, bool]:
            kept = said_of_bath(library, wanted) if wanted else None
            new = SaidBath(wanted or next_bath_code(library, taken))
            return (new, True) if kept is None else (kept, False)

        self._desk.ask(question, lambda found: then(*found))

    @property
    def last_bath(self) -> str:
        """Code of the bath that was described last, or else kept last; "" where there is none."""
        return next(reversed(self.baths), self.known.last_bath)

    def bath_like_the_last(self, then: Callable[[SaidBath, bool], None]) -> None:
        """A new bath that begins as the last one did: as within a series, where one thing differs.

        What was read and added is not taken over, nor the day.
        """

        def take(last: SaidBath, _new: bool) -> None:
            def show(new: SaidBath, is_new: bool) -> None:
                begun = replace(last, code=new.code, started=None, additions=(), phs=(), note="")
                then(begun, is_new)

            self.find_bath("", show)

        self.find_bath(self.last_bath, take)

    def describe_bath(self, bath: SaidBath) -> None:
        """Remember a bath, to be kept with the first piece that was in it."""
        self.baths[bath.code] = bath
        self.known_changed.emit()

    def save_all(self, words: str) -> None:
        """Have the library keep all that is ready; waits for photos that are being measured."""
        if self.saving:
            return
        if self._measuring.busy:
            self._save_later = True
            self._words = words
            return
        ready = self.ready
        if not ready:
            return
        wanted = []
        for page, names in ready:
            assert page.measurement is not None
            said = {name: page.said[name] for name in names}
            wanted.append(ToKeep(page.asked.path, page.measurement, said))
        used = {one.bath for two in wanted for one in two.said.values()}
        used |= {t.bath for two in wanted for one in two.said.values() for t in one.treatments}
        baths = [bath for code, bath in self.baths.items() if code in used]
        self.saving = True
        asked = [(page, page.asked) for page, _ in ready]

        def take(kept: Kept) -> None:
            self.saving = False
            for page, as_asked in asked:
                page.kept_asked = as_asked
            pages = [page for page, _ in asked]
            self._ask_of(pages, take_over=True, then=lambda: self.kept.emit(kept))

        def lost(error: DyeshadeError) -> None:
            self.saving = False
            # Whoever shows what can be saved has to offer it again.
            for page, _ in asked:
                self.changed.emit(page)
            self._desk.refused.emit(error)

        self._desk.change(words, lambda library: keep_readings(library, wanted, baths), take, lost)

    def keep_photo_of_test(
        self,
        page: PhotoPage,
        test_id: int,
        spots: Spots,
        words: str,
        then: Callable[[PhotoKept], None],
        otherwise: Callable[[DyeshadeError], None],
    ) -> None:
        """Have the library keep a photo with a home test.

        Parameters
        ----------
        page : PhotoPage
            Measured.
        test_id : int
        spots : mapping of Part to str
            The sample that shows each part of the test.
        words : str
            What is done, for the menu.
        then, otherwise : callable
            Told what was kept, once the photo knows of it, or why it was not.
        """
        measurement = page.measurement
        assert measurement is not None
        path, asked, said = page.asked.path, page.asked, dict(page.said)
        used = {said[name].bath for name in spots.values() if name in said}
        baths = [bath for code, bath in self.baths.items() if code in used]

        def job(library: Library) -> PhotoKept:
            return keep_test_photo(library, test_id, path, measurement, spots, said, baths)

        def take(kept: PhotoKept) -> None:
            page.kept_asked = asked
            self._ask_of([page], take_over=True, then=lambda: then(kept))

        self._desk.change(words, job, take, otherwise)

    @Slot()
    def ask_library(self) -> None:
        """Ask the library anew what it knows, and what it holds of the photos."""

        def take(known: Known) -> None:
            self.known = known
            self.known_changed.emit()

        self._desk.ask(known_to, take)
        self._ask_of(self._measuring.photos.pages)

    def _ask_of(
        self,
        pages: Sequence[PhotoPage],
        take_over: bool = False,
        then: Callable[[], None] | None = None,
    ) -> None:
        """Ask what the library holds of photos.

        Parameters
        ----------
        pages : sequence of PhotoPage
        take_over : bool
            Whether that takes the place of what was said, or only fills what nobody has said.
        then : callable, optional
            Called when all of them know.
        """
        paths = [page.asked.path for page in pages]

        def question(library: Library) -> list[dict[str, Said]]:
            return [_said_before(library, path) for path in paths]

        def take(found: list[dict[str, Said]]) -> None:
            for page, kept in zip(pages, found, strict=True):
                page.kept = kept
                if kept and page.kept_asked is None:
                    page.kept_asked = page.asked
                if take_over:
                    page.said = {**page.said, **kept}
                else:
                    page.said = {**kept, **page.said}
                self.changed.emit(page)
            if then is not None:
                then()

        if paths:
            self._desk.ask(question, take)

    @Slot()
    def _measured(self) -> None:
        if self._save_later:
            self._save_later = False
            self.save_all(self._words)

    @Slot(object)
    def _go_by_tags(self, page: PhotoPage) -> None:
        """Samples with a tag are the pieces that it names, until a person says otherwise."""
        if page.measurement is None or page.busy:
            return
        pieces = pieces_by_tag(page.measurement)
        new = {name: code for name, code in pieces.items() if name not in page.tags_read}
        page.tags_read |= new.keys()
        said = dict(page.said)
        for name, code in new.items():
            if not said.get(name, Said()).piece:
                said[name] = replace(said.get(name, Said()), piece=code)
        if said != page.said:
            page.said = said
            self.changed.emit(page)

    @property
    def new_codes(self) -> int:
        """How many pieces were said, by hand or by a tag, that the library does not know."""
        known = {one.code.casefold() for one in self.known.pieces}
        said = {
            one.piece.casefold()
            for page in self._measuring.photos.pages
            for one in page.said.values()
        }
        return len(said - known - {""})

    def _put(self, page: PhotoPage, said: Pieces) -> None:
        page.said = dict(said)
        self.changed.emit(page)


def _said_before(library: Library, path: str) -> dict[str, Said]:
    try:
        return said_before(library, path)
    except DyeshadeError:
        # A photo that is gone is told where it is measured.
        return {}
