"""What is wrong with fields that were left, said beside each of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from PySide6.QtCore import QObject, Slot
from PySide6.QtWidgets import QVBoxLayout, QWidget

from dyeshade.window.bath_rows import BathField, BathRow, BathRows
from dyeshade.window.typed_fields import Answers
from dyeshade.window.wording import refusal_words
from dyeshade.work.read_bath import Wrong


class FieldAnswers(QObject):
    """Answers fields by the names that `dyeshade.work.bath_typed.Wrong` gives them.

    A field is answered once it was left, or once all must be right; what was mended is no longer
    answered at once.

    Parameters
    ----------
    rows : mapping of str to BathRows
        Lines by name, whose fields are called as in "pieces.0.weight".
    """

    def __init__(self, rows: Mapping[str, BathRows], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows = rows
        self._single: dict[str, tuple[BathField, Answers]] = {}
        self._left: set[BathField] = set()
        self._wrong: tuple[Wrong, ...] = ()
        for one in rows.values():
            one.left.connect(self._leave)

    def holder(self, name: str, field: BathField) -> QWidget:
        """A field with room for its answer below it."""
        box = QWidget()
        column = QVBoxLayout(box)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(field)
        answers = Answers()
        column.addWidget(answers)
        self.watch(name, field, answers)
        return box

    def watch(self, name: str, field: BathField, answers: Answers) -> None:
        """Answer a field that stands by itself."""
        self._single[name] = (field, answers)
        field.editingFinished.connect(lambda: self._leave(field))

    def forget(self, prefix: str) -> None:
        """Forget fields that are no more."""
        for name in [one for one in self._single if one.startswith(prefix)]:
            self._left.discard(self._single.pop(name)[0])

    def show(self, wrong: Sequence[Wrong]) -> None:
        """Answer what is wrong."""
        self._wrong = tuple(wrong)
        said = {one.field: refusal_words(one.error) for one in reversed(self._wrong)}
        for name, field, answers in self._all():
            sentence = said.get(name, "") if field in self._left else ""
            if answers.said(field) != sentence:
                answers.answer(field, sentence)

    def insist(self) -> bool:
        """Answer every field; whether all is right. The first that is not takes the focus."""
        self._left |= {field for _, field, _ in self._all()}
        self.show(self._wrong)
        named = {one.field for one in self._wrong}
        for name, field, _ in self._all():
            if name in named:
                field.setFocus()
                field.selectAll()
                return False
        return not self._wrong

    def start_afresh(self) -> None:
        """Another bath: nothing was left yet."""
        self._left.clear()
        self.show(self._wrong)

    @Slot(object)
    def _leave(self, field: BathField) -> None:
        self._left.add(field)
        self.show(self._wrong)

    def _all(self) -> Iterator[tuple[str, BathField, Answers]]:
        for name, (field, answers) in self._single.items():
            yield name, field, answers
        for name, rows in self._rows.items():
            for place, row in enumerate(rows.rows):
                assert isinstance(row, BathRow)
                for part, field in row.named.items():
                    yield f"{name}.{place}.{part}", field, row.answers
