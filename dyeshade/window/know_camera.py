"""Get to know a camera: it photographs a colour chart of published values once."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QWidget

from dyeshade.window.compared_view import ChartSwatches
from dyeshade.window.learning_dialog import LearningDialog
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.page_parts import tell
from dyeshade.words.learnt import compared_words
from dyeshade.work.chart_compared import chart_compared
from dyeshade.work.learn_from_photo import LearnLook, ToLearn


class KnowCamera(LearningDialog):
    """Photo, chart, light; the chart's colours before and since."""

    def __init__(self, desk: LibraryDesk, parent: QWidget | None = None) -> None:
        super().__init__("", "", desk, parent)
        self.setWindowTitle(self.tr("Get to know a camera"))
        self.view.hint = self.tr(
            "Lay a colour chart where you photograph pieces, on the reference sheet if there is "
            "room, in the light that you photograph in.\n\nNo shadow on it, no glare. Take the "
            "photo with the same camera program as always.\n\nCopy it to this computer "
            "unchanged, and drop it here."
        )
        self.add_step(self.tr("1. A photo of a colour chart"), self.photo, self.photo_name)
        self.add_step(self.tr("2. Which chart is it?"), self.chart)
        self.add_step(self.tr("3. In which light?"), self.light)
        self.add_step(self.tr("4. Where the chart is"), self.state, self.trouble, self.find)
        self.pairs = ChartSwatches()
        self.legend = QLabel(
            self.tr(
                "Each patch as published; within it, left as this camera told it before, right as "
                "it tells it calibrated."
            )
        )
        self.legend.setWordWrap(True)
        self.legend.setProperty("faint", True)
        self.what = self.add_step(
            self.tr("5. Before and since"), self.said, self.pairs, self.legend, self.notes
        )
        self.put_together()
        self.show_found(None)

    def wish(self, path: str) -> ToLearn | None:
        """The chart in the photo."""
        chart = self.chart.chart
        if chart is None:
            return None
        return ToLearn(path, "camera", str(self.light.currentData()), chart)

    def show_found(self, look: LearnLook | None) -> None:
        """The chart's colours in pairs, and how far they were off."""
        from dyeshade.measure.calibrate_camera import CameraCalibrated

        found = None if look is None else look.found
        learnt = isinstance(found, CameraCalibrated)
        self.what.setVisible(learnt)
        if look is None:
            tell(self.state, [self.tr("It is looked for as soon as a photo is chosen.")])
        if not isinstance(found, CameraCalibrated):
            self.pairs.show_compared(None)
            return
        compared = chart_compared(found)
        self.pairs.show_compared(compared)
        name = found.calibration.name
        tell(self.said, [self.tr("{}.").format(name), compared_words(compared)])
