"""Get to know a printed sheet: what its greys reflect, and its printed colours, learnt once."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtWidgets import QButtonGroup, QComboBox, QFormLayout, QLabel, QRadioButton, QWidget

from dyeshade.measure.calibrations import SheetCalibration
from dyeshade.sheet.layout import build_layout
from dyeshade.window.compared_view import GreySwatches
from dyeshade.window.known_calibrations import KnownCalibrations
from dyeshade.window.learning_dialog import LearningDialog
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.page_parts import form, tell
from dyeshade.window.sheet_values import SheetValues
from dyeshade.window.typed_fields import NumberField
from dyeshade.words.learnt import sheet_words
from dyeshade.words.typed import MistypedError
from dyeshade.work.chart_compared import colours_shown, greys_compared
from dyeshade.work.learn_from_photo import LearnLook, ToLearn

CHART, CARD, RAW, TYPED = "chart", "card", "raw", "typed"


class KnowSheet(LearningDialog):
    """The way, the photo and what lies in it, or values; the print's greys beside a plain one's.

    Parameters
    ----------
    desk : LibraryDesk
    known : KnownCalibrations
        Of cameras that are known, for the sheet's colours.
    """

    def __init__(
        self, desk: LibraryDesk, known: KnownCalibrations, parent: QWidget | None = None
    ) -> None:
        super().__init__("", "", desk, parent)
        self._known = known
        self.setWindowTitle(self.tr("Get to know a printed sheet"))
        self.view.hint = self.tr(
            "Lay the printed sheet flat where you photograph pieces, in even light, with nothing "
            "on its greys and colours.\n\nTake the photo, copy it to this computer unchanged, and "
            "drop it here."
        )
        self.ways: dict[str, QRadioButton] = {
            CHART: QRadioButton(self.tr("A colour c&hart lies on it: greys and colours")),
            CARD: QRadioButton(self.tr("A grey or white c&ard lies in a cell: greys")),
            RAW: QRadioButton(self.tr("It is photographed &raw (DNG): greys and colours")),
            TYPED: QRadioButton(self.tr("&Measured with an instrument: greys")),
        }
        self.ways[CHART].setChecked(True)
        self.group = QButtonGroup(self)
        for button in self.ways.values():
            self.group.addButton(button)
        self.cell = QComboBox()
        self.cell.addItems([cell.name for cell in build_layout("A4", "six", False).cells])
        self.percent = NumberField(
            self.tr("Reflectance of the card, in per cent"),
            self.tr("The reflectance"),
            most=100,
            above=0,
            unit="%",
        )
        self.percent.show_value(18.0)
        self.card = QWidget()
        fields: QFormLayout = form()
        fields.setContentsMargins(0, 0, 0, 0)
        for words, field in (
            (self.tr("It lies in c&ell"), self.cell),
            (self.tr("It reflects, in per &cent"), self.percent),
        ):
            label = QLabel(words)
            label.setBuddy(field)
            fields.addRow(label, field)
        self.card.setLayout(fields)
        self.values = SheetValues()
        self._build()
        self.put_together()
        self.parts.insertWidget(0, self.values.preview, 1)
        self._way_chosen()

    def _build(self) -> None:
        self.add_step(self.tr("1. How is it learnt?"), *self.ways.values())
        self.steps: list[tuple[tuple[str, ...], QWidget]] = []
        for words, ways, widgets in (
            (self.tr("2. The photo"), (CHART, CARD, RAW), (self.photo, self.photo_name)),
            (self.tr("3. Which chart is it?"), (CHART,), (self.chart,)),
            (self.tr("3. In which light?"), (CARD, RAW), (self.light,)),
            (self.tr("4. The card"), (CARD,), (self.card,)),
            (self.tr("2. What was measured"), (TYPED,), (self.values,)),
        ):
            self.steps.append((ways, self.add_step(words, *widgets)))
        self.greys = GreySwatches()
        self.legend = QLabel(
            self.tr(
                "Per cent of the light that greys and bare paper reflect: above of a plain print, "
                "below of this one as learnt."
            )
        )
        self.legend.setWordWrap(True)
        self.legend.setProperty("faint", True)
        for widget in (self.state, self.trouble, self.find):
            self.column.addWidget(widget)
        learnt = (self.said, self.greys, self.legend, self.notes)
        self.what = self.add_step(self.tr("What was learnt"), *learnt)
        self.group.buttonToggled.connect(lambda _button, on: self._way_chosen() if on else None)
        self.cell.activated.connect(self.try_it)
        self.percent.editingFinished.connect(self._percent_typed)
        self.values.typed.connect(self._typed)

    @property
    def way(self) -> str:
        """The way that was chosen."""
        return next(way for way, button in self.ways.items() if button.isChecked())

    def wish(self, path: str) -> ToLearn | None:
        """The sheet in the photo, with what lies on it."""
        light = str(self.light.currentData())
        if self.way == CHART:
            chart = self.chart.chart
            return None if chart is None else ToLearn(path, "sheet", chart=chart)
        if self.way == RAW:
            return ToLearn(path, "sheet", light, known=self._known.value)
        if self.way == CARD:
            try:
                percent = self.percent.read()
            except MistypedError as error:
                tell(self.trouble, [error.sentence])
                return None
            card = None if percent is None else (self.cell.currentText(), percent / 100)
            known = self._known.value
            return None if card is None else ToLearn(path, "sheet", light, card=card, known=known)
        return None

    def show_found(self, look: LearnLook | None) -> None:
        """The print's greys and colours."""
        from dyeshade.measure.calibrate_sheet import SheetCalibrated

        found = None if look is None else look.found
        learnt = isinstance(found, SheetCalibrated)
        self.what.setVisible(learnt)
        if isinstance(found, SheetCalibrated):
            value = found.calibration
            self.greys.show_compared(greys_compared(value), colours_shown(value))
            tell(self.said, [sheet_words(value)])
        else:
            self.greys.show_compared((), ())

    def keep(self) -> None:
        """Keep what the photo told, or what was typed."""
        if self.way != TYPED:
            super().keep()
            return
        typed = self.values.read()
        if typed is None:
            return
        serial, paper, cells, values = typed

        def make() -> SheetCalibration:
            return _by_values(serial, paper, cells, values)

        self.keep_by(serial, make)

    def _percent_typed(self) -> None:
        # Left as it was, it must not make a click on "Keep" come to nothing.
        if self.percent.isModified():
            self.percent.setModified(False)
            self.try_it()

    def _way_chosen(self) -> None:
        for ways, step in self.steps:
            step.setVisible(self.way in ways)
        self.view.setVisible(self.way != TYPED)
        self.values.preview.setVisible(self.way == TYPED)
        self.try_it()
        if self.way == TYPED:
            self._typed()

    def _typed(self) -> None:
        tell(self.trouble, [])
        self.keeps.setEnabled(self.desk.can_write)


def _by_values(
    serial: str, paper: str, cells: str, values: Mapping[str, float]
) -> SheetCalibration:
    # What learns from photos is loaded where it is needed, and not before the window is shown.
    from dyeshade.measure.calibrate_sheet import calibrate_sheet_by_values

    layout = build_layout(paper, cells, False, serial=serial)
    return calibrate_sheet_by_values(layout, values).calibration
