"""The calibrations that the open library holds, as far as measuring may use them."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal, Slot

from dyeshade.library.changes import Changes
from dyeshade.measure.calibrations import NO_CALIBRATIONS, Calibrations
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.work.calibrate import calibrations_in


class KnownCalibrations(QObject):
    """Asks the library for them, and asks again when they may be others.

    Parameters
    ----------
    desk : LibraryDesk

    Signals
    -------
    changed(Calibrations)
        There are others now.
    """

    changed = Signal(object)

    def __init__(self, desk: LibraryDesk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.value: Calibrations = NO_CALIBRATIONS
        desk.opened.connect(self._ask)
        desk.changed.connect(self._records_changed)

    @Slot(object)
    def _records_changed(self, changes: Changes | None) -> None:
        # None: another window or command has changed something.
        if changes is None or "calibration" in changes.kinds:
            self._ask()

    @Slot()
    def _ask(self) -> None:
        self._desk.ask(calibrations_in, self._take)

    def _take(self, found: Calibrations) -> None:
        # Numbers begin anew in each library, so that the time counts too.
        if [found.ids, found.newest] != [self.value.ids, self.value.newest]:
            self.value = found
            self.changed.emit(found)
