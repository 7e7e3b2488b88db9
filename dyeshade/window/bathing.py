"""The baths that are worked on: what is typed of each, what is kept, and what follows from it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from PySide6.QtCore import QObject, Signal, Slot

from dyeshade.errors import DyeshadeError
from dyeshade.library.bath_room import BathRoom
from dyeshade.library.changes import Changes
from dyeshade.window.at_the_desk import AtTheDesk
from dyeshade.window.bath_drafts import BathDrafts
from dyeshade.window.library_desk import LibraryDesk, OpenLibrary
from dyeshade.work.bath_typed import TypedBath
from dyeshade.work.keep_plan import keep_plan
from dyeshade.work.kept_plan import KeptPlan, parent_plan
from dyeshade.work.known import Known
from dyeshade.work.listed_plans import ListedPlan
from dyeshade.work.look_up_bath import Seen, empty_bath, free_code, look_up
from dyeshade.work.plan_bath import OwnFigures, Parent, Planned, exhaust_typed, plan_typed

T = TypeVar("T")


class Bathing(AtTheDesk):
    """One bath at a time is in hand; baths that are not kept yet have keys below 0.

    Signals
    -------
    shown()
        Another bath is in hand, or what is typed came from elsewhere: fields show it anew.
    planned()
        What is typed was worked out anew.
    listed()
        The list of baths, or which of them have something unkept, has changed.
    room_changed()
        Log or state of the bath in hand has changed.
    told(str)
        Something was done.
    """

    shown = Signal()
    planned = Signal()
    listed = Signal()
    room_changed = Signal()

    def __init__(self, desk: LibraryDesk, parent: QObject | None = None) -> None:
        super().__init__(desk, parent)
        self.key = -1
        self.typed = self.base = TypedBath()
        self.own, self.known = OwnFigures(), Known((), (), (), (), (), (), "", "", "")
        self.baths: tuple[ListedPlan, ...] = ()
        self.unkept: dict[int, TypedBath] = {}
        self.kept: KeptPlan | None = None
        self.parent_plan: Parent | None = None
        self.pieces_out: tuple[str, ...] = ()
        self.plan = Planned(None, None, ())
        self._was: dict[int, int] = {}
        self.drafts = BathDrafts(desk, self)
        self._watched = self._stale = False
        self.check: Callable[[], bool] = lambda: True
        """Whether all that is typed can be read; answers what cannot, beside it."""
        desk.opened.connect(self._opened)
        desk.changed.connect(self._changed)

    @property
    def dirty(self) -> bool:
        """Whether something is typed that is not kept."""
        return self.typed != self.base

    @property
    def room(self) -> BathRoom | None:
        """What is logged of the bath in hand."""
        return None if self.kept is None else self.kept.room

    @property
    def finished(self) -> bool:
        """Whether the pieces of the bath in hand are out."""
        return self.kept is not None and self.kept.finished is not None

    def put(self, typed: TypedBath) -> None:
        """Take what is typed in a field."""
        if typed == self.typed:
            return
        self.typed = typed
        self._note()
        self._work_out()

    def _note(self) -> None:
        before = dict(self.unkept)
        if self.dirty:
            self.unkept[self.key] = self.typed
        else:
            self.unkept.pop(self.key, None)
        if before != self.unkept:
            self.drafts.keep(self.unkept)
        if before.keys() != self.unkept.keys() or self.key < 0:
            self.listed.emit()

    def _work_out(self) -> None:
        self.plan = plan_typed(self.typed, self.own, self.parent_plan)
        self.planned.emit()

    def new(self) -> None:
        """Begin a bath."""
        self._begin(empty_bath(self._free_code()), None)

    def exhaust(self) -> None:
        """Begin an exhaust bath of the bath in hand, which is kept first where it is not."""

        def begin(_bath_id: int) -> None:
            code = self.typed.code
            typed = exhaust_typed(self.typed, self._free_code())
            self._desk.ask(
                lambda library: parent_plan(library, code), lambda found: self._begin(typed, found)
            )

        self.ensure_kept(begin)

    def again(self, typed: TypedBath) -> None:
        """Begin a bath that was made from another one."""
        self._begin(replace(typed, code=self._free_code()), None)

    def _begin(self, typed: TypedBath, parent: Parent | None) -> None:
        self.key = min((*self.unkept, 0)) - 1
        # What it is begun with is no work of the dyer's, unless it was made from another bath.
        made = bool(typed.exhaust_of or (typed.dyes and typed.dyes[0].name))
        self.base = TypedBath() if made else typed
        self.typed, self.kept, self.parent_plan, self.pieces_out = typed, None, parent, ()
        self._note()
        self.shown.emit()
        self.listed.emit()
        self.room_changed.emit()
        self._work_out()

    def _free_code(self) -> str:
        codes = [*(one.code for one in self.baths), *(one.code for one in self.unkept.values())]
        return free_code(self.known.next_bath, codes)

    def take_up(self, key: int) -> None:
        """Take another bath in hand; what is typed of this one stays unkept."""
        if key == self.key:
            return
        if key < 0:
            self.key, self.base, self.kept = key, TypedBath(), None
            self.typed, self.pieces_out = self.unkept[key], ()
            self.shown.emit()
            self._refresh()
        else:
            self._refresh(key)

    def keep(
        self,
        then: Callable[[int], None] | None = None,
        otherwise: Callable[[DyeshadeError], None] | None = None,
    ) -> None:
        """Keep the bath in hand in the library.

        Parameters
        ----------
        then : callable, optional
            Called with the bath's id.
        otherwise : callable, optional
            Told why not.
        """
        typed, key = self.typed, self.key
        bath_id = key if key > 0 else None

        def done(kept: int) -> None:
            self.unkept.pop(key, None)
            if self.key == key:
                self.key, self.base = kept, typed
                # Fields typed meanwhile stay unkept.
                if self.typed != typed:
                    self.unkept[kept] = self.typed
            self.drafts.keep(self.unkept)
            self._refresh()
            if then is not None:
                then(kept)

        words = self.tr("keep the bath {}").format(typed.code)
        self._desk.change(
            words, lambda library: keep_plan(library, typed, bath_id), done, otherwise
        )

    def ensure_kept(self, then: Callable[[int], None]) -> None:
        """Call something with the bath's id once it is kept as it is typed.

        Where something of it cannot be read, that is answered beside it, and nothing is done.
        """
        if self.key > 0 and not self.dirty:
            then(self.key)
        elif self.check():
            self.keep(then, self.refuse)

    @Slot(object)
    def _opened(self, _library: OpenLibrary) -> None:
        self.unkept, self._was = {}, {}
        self.key, self.kept = -1, None
        self.typed = self.base = TypedBath()

        def take(found: dict[int, TypedBath]) -> None:
            self.unkept = found
            self._refresh(max(found, default=None))

        self.drafts.bring_back(take)

    @Slot(object)
    def _changed(self, changes: Changes | None) -> None:
        if changes is None or changes.kinds - {"draft", "reading", "photo", "sheet_reading"}:
            self._stale = True
            if self._watched:
                self._refresh()

    def watch(self, watched: bool) -> None:
        """Whether somebody looks; changes are asked for when they do."""
        self._watched = watched
        if watched and self._stale:
            self._refresh()

    def _refresh(self, key: int | None = None) -> None:
        """Ask the library anew; with a key, take that bath in hand."""
        self._stale = False
        wanted = self.key if key is None else key
        typed = self.unkept.get(wanted)

        exhausts = "" if typed is None else typed.exhaust_of
        self._desk.ask(
            lambda library: look_up(library, wanted, exhausts),
            lambda seen: self._take(seen, wanted, key is not None),
        )

    def _take(self, seen: Seen, wanted: int, moves: bool) -> None:
        self.baths, self.own, self.known = seen.listed, seen.own, seen.known
        if moves:
            self.key = wanted
        if self.key != wanted:
            # Another bath was taken in hand meanwhile; it asks for itself.
            self.listed.emit()
            return
        before = self.typed
        self.kept, self.pieces_out, self.parent_plan = seen.kept, seen.pieces_out, seen.parent
        if seen.kept is not None:
            typed = self.unkept.get(wanted)
            self.base = seen.kept.typed
            self.typed = self.base if typed is None else typed
        elif wanted > 0:
            # Its keeping was undone: it is typed as it was, and not kept.
            self.key = min((*self.unkept, 0)) - 1
            self.unkept.pop(wanted, None)
            self._was[self.key] = wanted
            self.base = TypedBath()
        elif self._was.get(wanted, 0) in {one.bath_id for one in seen.listed}:
            # And now it was done again.
            again = self._was.pop(wanted)
            self.unkept.pop(wanted, None)
            self.unkept[again] = self.typed
            self._refresh(again)
            return
        elif wanted in self.unkept:
            self.typed, self.base = self.unkept[wanted], TypedBath()
        elif not self.typed.code:
            under_way = next((one.bath_id for one in seen.listed if one.under_way), None)
            if under_way is not None:
                # Whoever comes back to a dye day wants its timer, not another bath.
                self._refresh(under_way)
                return
            self.typed = self.base = empty_bath(self._free_code())
        self._note()
        if moves or self.typed != before:
            self.shown.emit()
        self.listed.emit()
        self.room_changed.emit()
        self._work_out()
