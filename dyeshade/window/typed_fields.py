"""Fields that read what is typed into values, and answer beside them what cannot be meant."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QLabel, QLineEdit, QWidget

from dyeshade.window.completing import Completer
from dyeshade.words.typed import (
    MistypedError,
    moment_typed,
    number_typed,
    ratio_typed,
    read_day,
    read_moment,
    read_number,
    read_ratio,
)


class TypedField(QLineEdit):
    """A line of text that stands for a value.

    Parameters
    ----------
    name : str
        What it is, for who listens to the screen.
    what : str
        The same as a sentence begins with it: "The pH".
    """

    def __init__(self, name: str, what: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.what = what
        self._shown: tuple[str, object] | None = None

    def read(self) -> object:
        """The value that was typed, None where nothing was.

        Raises
        ------
        MistypedError
        """
        if self._shown is not None and self._shown[0] == self.text():
            # Shown rounded and left alone: it stays to its last digit.
            return self._shown[1]
        return self._read(self.text())

    def show_value(self, value: object) -> None:
        """Show a value; None is an empty line."""
        self.setText(self._typed(value))
        self.setCursorPosition(0)
        self._shown = (self.text(), value)

    def complete_from(self, names: Iterable[str]) -> None:
        """Offer names that were typed before."""
        self.setCompleter(Completer(sorted(names, key=str.casefold), self))

    def _read(self, text: str) -> object:
        raise NotImplementedError

    def _typed(self, value: object) -> str:
        raise NotImplementedError


class NumberField(TypedField):
    """A number with a decimal point or comma."""

    def __init__(
        self,
        name: str,
        what: str,
        least: float | None = None,
        most: float | None = None,
        above: float | None = None,
        unit: str = "",
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(name, what, parent)
        self._bounds = (least, most, above, unit)

    def read(self) -> float | None:
        """The number. Raises as `TypedField.read`."""
        value = super().read()
        assert value is None or isinstance(value, float | int)
        return value

    def _read(self, text: str) -> object:
        return read_number(text, self.what, *self._bounds)

    def _typed(self, value: object) -> str:
        assert value is None or isinstance(value, float | int)
        return number_typed(value)


class RatioField(NumberField):
    """The weight of a dyestuff to that of the fibre, typed in per cent or as 2:1."""

    def __init__(self, name: str, what: str, parent: QWidget | None = None) -> None:
        super().__init__(name, what, parent=parent)
        self.setToolTip(_say("In per cent, as 150, or dyestuff to fibre, as 1.5:1"))

    def _read(self, text: str) -> object:
        return read_ratio(text, self.what)

    def _typed(self, value: object) -> str:
        assert value is None or isinstance(value, float | int)
        return ratio_typed(value)


class MomentField(TypedField):
    """A day, or a day and a time."""

    def __init__(
        self, name: str, what: str, needed: bool = False, parent: QWidget | None = None
    ) -> None:
        super().__init__(name, what, parent)
        self._needed = needed
        self.setPlaceholderText(_say("as 2026-03-12"))

    def read(self) -> datetime | None:
        """The moment. Raises as `TypedField.read`."""
        value = super().read()
        if value is None and self._needed:
            raise MistypedError(_say("{} is needed.").format(self.what))
        assert value is None or isinstance(value, datetime)
        return value

    def _read(self, text: str) -> object:
        return read_moment(text, self.what)

    def _typed(self, value: object) -> str:
        assert value is None or isinstance(value, datetime)
        return moment_typed(value)


class DayField(TypedField):
    """A day."""

    def __init__(self, name: str, what: str, parent: QWidget | None = None) -> None:
        super().__init__(name, what, parent)
        self.setPlaceholderText(_say("as 2026-03-12"))

    def read(self) -> date | None:
        """The day. Raises as `TypedField.read`."""
        value = super().read()
        assert value is None or isinstance(value, date)
        return value

    def _read(self, text: str) -> object:
        return read_day(text, self.what)

    def _typed(self, value: object) -> str:
        return "" if value is None else f"{value:%Y-%m-%d}"


class WordsField(TypedField):
    """Words, without blanks around them."""

    def __init__(
        self,
        name: str,
        what: str = "",
        needed: bool = False,
        known: Iterable[str] = (),
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(name, what or name, parent)
        self._needed = needed
        names = tuple(known)
        if names:
            self.complete_from(names)

    def read(self) -> str:
        """The words. Raises as `TypedField.read`."""
        words = self.text().strip()
        if self._needed and not words:
            raise MistypedError(_say("{} is needed.").format(self.what))
        return words

    def _typed(self, value: object) -> str:
        return str(value)


class Answers(QLabel):
    """Sentences that answer what was typed into fields, as the fields are left."""

    def __init__(self, *fields: TypedField, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWordWrap(True)
        self.setProperty("wrong", True)
        self.setVisible(False)
        self._told: dict[TypedField, str] = {}
        for field in fields:
            self.watch(field)

    def watch(self, field: TypedField) -> None:
        """Answer a further field."""
        field.editingFinished.connect(lambda: self.check(field))

    def check(self, field: TypedField) -> bool:
        """Whether a field can be read; where not, it is answered."""
        try:
            field.read()
        except MistypedError as told:
            self.answer(field, told.sentence)
            return False
        self.answer(field, "")
        return True

    def said(self, field: TypedField) -> str:
        """What is said beside a field now, "" for nothing."""
        return self._told.get(field, "")

    def answer(self, field: TypedField, sentence: str) -> None:
        """Show a sentence beside a field, or with "" none any more."""
        field.setAccessibleDescription(sentence)
        if bool(field.property("wrong")) != bool(sentence):
            field.setProperty("wrong", bool(sentence))
            # The look is looked up anew only when told.
            field.style().unpolish(field)
            field.style().polish(field)
        if sentence:
            self._told[field] = sentence
        else:
            self._told.pop(field, None)
        self.setText("\n".join(self._told.values()))
        self.setVisible(bool(self._told))


def _say(words: str) -> str:
    return QCoreApplication.translate("TypedField", words)
