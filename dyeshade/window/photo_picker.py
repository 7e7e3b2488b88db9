"""Measures photos and spots for whoever picks a shade, beside the window."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from PySide6.QtCore import QObject

from dyeshade.errors import DyeshadeError
from dyeshade.measure.calibrations import NO_CALIBRATIONS
from dyeshade.measure.result import Measurement
from dyeshade.window.errands import Errand, Progress, Work
from dyeshade.window.measuring import Measuring
from dyeshade.work.look_at_photos import Asked, PhotoLook, look_at_photos
from dyeshade.work.pick_shade import Array, PickedShade, PickFrom, pick, spot_at

SpotFound = PickedShade | DyeshadeError


class PhotoPicker(QObject):
    """One thing at a time: what is asked for later puts aside what is on its way.

    Parameters
    ----------
    measuring : Measuring
        Its threads and calibrations are used; the photos that it has open are `open_looks`.
    """

    def __init__(self, measuring: Measuring, parent: QObject) -> None:
        super().__init__(parent)
        self._measuring = measuring
        self._errand: Errand | None = None

    @property
    def busy(self) -> bool:
        """Whether a photo or a spot is being measured."""
        return self._errand is not None

    def open_looks(self) -> list[PhotoLook]:
        """Photos that are open and measured as they are asked for now."""
        pages = self._measuring.photos.pages
        return [
            page.measured
            for page in pages
            if page.measured is not None and page.measured.asked is page.asked
        ]

    def measure(self, asked: Asked, then: Callable[[PhotoLook], None]) -> None:
        """Measure a photo."""
        known, warm = self._measuring.known, self._measuring.warm

        def work(progress: Progress) -> Iterator[PhotoLook]:
            return look_at_photos([asked], None, progress, warm, known)

        self._start(work, then)

    def measure_spot(
        self,
        look: PhotoLook,
        at: tuple[float, float],
        across_mm: float,
        then: Callable[[SpotFound], None],
    ) -> Array:
        """Measure a spot in a photo that was measured; returns the spot's outline.

        Raises
        ------
        DyeshadeError
            As `dyeshade.work.pick_shade.spot_at`.
        """
        assert isinstance(look.found, Measurement)
        asked, warm = look.asked, self._measuring.warm
        outline = spot_at(at, look.found, across_mm).corners
        known = self._measuring.known if asked.calibrated else NO_CALIBRATIONS
        wanted = PickFrom(asked.path, "", at, across_mm, asked.light, known, look.found)

        def work(_progress: Progress) -> Iterator[SpotFound]:
            try:
                yield pick(wanted, warm)
            except DyeshadeError as error:
                yield error

        self._start(work, then)
        return outline

    def stop(self) -> None:
        """Tell nothing more of what is on its way."""
        if self._errand is not None:
            self._errand.cancel()
            self._errand = None

    def _start(self, work: Work, then: Callable[[Any], None]) -> None:
        self.stop()
        errand = Errand(then, ended=lambda: self._ended(errand))
        self._errand = errand
        self._measuring.errands.start(work, errand)

    def _ended(self, errand: Errand) -> None:
        if self._errand is errand:
            self._errand = None
