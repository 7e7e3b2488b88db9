"""A line of the bath room: something that moves the pH, and how it is measured out."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QComboBox

from dyeshade.window.bath_rows import BathField, BathRow, choice, choose
from dyeshade.words.bath_ph import ADDITIVES
from dyeshade.work.bath_typed import TypedHave

PERCENT, BY, STEP = 44, 100, 60


class HaveRow(BathRow):
    """Something to move the pH with, and how it is measured out."""

    def __init__(self) -> None:
        words = {name: words for name, words in ADDITIVES.items() if name != "alum"}
        for name in ("soda_anhydrous", "soda_decahydrate", "citric_anhydrous"):
            words[f"{name}_stock"] = _say("stock solution of {}").format(ADDITIVES[name])
        self.additive = choice(_say("What"), words)
        self.by = choice(
            _say("Measured out by"),
            {
                "gram": _say("weight"),
                "quarter_teaspoon": _say("¼ tsp, level"),
                "millilitre": _say("volume"),
            },
        )
        self.percent = BathField(_say("Per cent, of vinegar or a stock"), _say("5, 10"))
        self.step = BathField(_say("Least that you measure out"), _say("1 g, 5 ml"))
        self.named = {"percent": self.percent, "step": self.step}
        super().__init__(
            [(self.additive, 0), (self.percent, PERCENT), (self.by, BY), (self.step, STEP)]
        )
        self.additive.setMinimumContentsLength(8)
        self.additive.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.additive.currentIndexChanged.connect(self._suit)
        self._suit()

    @property
    def blank(self) -> bool:
        """Never: a choice is always made."""
        return False

    def show_value(self, value: object) -> None:
        """Show texts."""
        assert isinstance(value, TypedHave)
        choose(self.additive, value.additive)
        self.percent.put(value.percent)
        choose(self.by, value.by)
        self.step.put(value.step)

    def value(self) -> TypedHave:
        """The texts."""
        return TypedHave(
            self.additive.currentData(),
            self.percent.text(),
            self.by.currentData(),
            self.step.text(),
        )

    def _suit(self) -> None:
        """Liquids are measured by volume and have a strength; powders neither."""
        name = self.additive.currentData()
        liquid = name == "vinegar" or name.endswith("_stock")
        self.percent.setEnabled(liquid)
        if liquid != (self.by.currentData() == "millilitre"):
            # A least amount in grams says nothing about a volume.
            self.step.put("")
        if liquid:
            choose(self.by, "millilitre")
            self.percent.put(self.percent.text() or ("5" if name == "vinegar" else "10"))
        else:
            self.percent.put("")
            if self.by.currentData() == "millilitre":
                choose(self.by, "gram")
        self.by.setEnabled(not liquid)


def _say(words: str) -> str:
    return QCoreApplication.translate("HaveRow", words)
