"""How papers are made up: fields for tags, skein labels and piece sheets."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import cast

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from dyeshade.library.library import Library
from dyeshade.paper.paper_page import LaidPages
from dyeshade.paper.piece_sheet import PieceSheet, lay_out_piece_sheets
from dyeshade.paper.shade_card import Paper
from dyeshade.paper.skein_labels import LabelSheet, lay_out_labels
from dyeshade.paper.tag_sheet import TagSheet, TagSize
from dyeshade.paper.tags import lay_out_tags
from dyeshade.window.look import SPACE
from dyeshade.window.papers_kept import keep_field
from dyeshade.words.skein_labels import LABEL_WORDS
from dyeshade.work.make_tags import labels_of, tags_of
from dyeshade.work.side_by_side import Warm

Lay = Callable[[Library], LaidPages]
"""Lays pages out, in the thread of the library."""


class PaperForm(QWidget):
    """Fields of one kind of paper.

    Signals
    -------
    wished()
        Something else is wanted.
    """

    wished = Signal()
    file_name = ""
    """What its file is called unless told."""

    key = ""
    """Under which its fields are kept."""
    needs_pieces = True

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(SPACE // 2)

    def add(self, words: str, field: QWidget, help_: str = "", keep: str = "") -> None:
        """Add a field below its name; with a name to `keep` it is the next time as it was left."""
        label = QLabel(words)
        label.setBuddy(field)
        field.setAccessibleName(words.replace("&", ""))
        self.column.addWidget(label)
        self.column.addWidget(field)
        if help_:
            faint = QLabel(help_)
            faint.setProperty("faint", True)
            faint.setWordWrap(True)
            self.column.addWidget(faint)
        self.column.addSpacing(SPACE // 2)
        if keep:
            keep_field(field, f"papers/{self.key}/{keep}")
        if isinstance(field, QComboBox):
            field.activated.connect(lambda _row: self.wished.emit())
        elif isinstance(field, QLineEdit):
            field.setMaxLength(200)
            field.textEdited.connect(lambda _text: self.wished.emit())
        elif isinstance(field, QPlainTextEdit):
            field.setTabChangesFocus(True)
            field.setFixedHeight(4 * field.fontMetrics().lineSpacing() + SPACE)
            field.textChanged.connect(self.wished)
        elif isinstance(field, QSpinBox):
            field.setMinimumHeight(QLineEdit().sizeHint().height())
            field.valueChanged.connect(lambda _value: self.wished.emit())

    def lay(self, codes: Sequence[str], paper: Paper) -> Lay:
        """How pages of these pieces are laid out, as the fields stand now."""
        raise NotImplementedError

    def made_words(self, count: int) -> str:
        """What was made of so many pieces."""
        raise NotImplementedError


class TagForm(PaperForm):
    """How tags look."""

    key = "tags"

    def __init__(self) -> None:
        super().__init__()
        self.file_name = self.tr("tags")
        self.size = QComboBox()
        for size, words in (
            ("small", self.tr("small, 21 mm wide")),
            ("middle", self.tr("middle, 27 mm wide")),
            ("large", self.tr("large, 36 mm wide")),
        ):
            self.size.addItem(words, size)
        self.copies = QSpinBox()
        self.copies.setRange(1, 100)
        self.add(self.tr("Si&ze"), self.size, keep="size")
        self.add(self.tr("Tags for each p&iece"), self.copies)

    def lay(self, codes: Sequence[str], paper: Paper) -> Lay:
        """Tags, each piece's beside each other."""
        sheet = TagSheet(paper, cast(TagSize, self.size.currentData()))
        copies = self.copies.value()
        return lambda library: lay_out_tags(
            sheet, [tag for tag in tags_of(library, codes) for _ in range(copies)]
        )

    def made_words(self, count: int) -> str:
        """How many tags were made."""
        count *= self.copies.value()
        return self.tr("1 tag") if count == 1 else self.tr("{} tags").format(count)


class LabelForm(PaperForm):
    """What stands on skein labels."""

    key = "labels"

    def __init__(self) -> None:
        super().__init__()
        self.file_name = self.tr("skein labels")
        self.maker, self.note = QLineEdit(), QLineEdit()
        self.contents = QPlainTextEdit()
        self.maker.setPlaceholderText(self.tr("your name or workshop"))
        self.contents.setPlaceholderText(self.tr("wool = 100 % wool"))
        self.note.setPlaceholderText(self.tr("as: wash by hand, cool"))
        self.add(self.tr("Made b&y"), self.maker, keep="maker")
        self.add(
            self.tr("Fibre &content"),
            self.contents,
            self.tr(
                "A line for each fibre, as the law where you sell wants it. For others stands "
                "the fibre as you named it."
            ),
            keep="contents",
        )
        self.add(self.tr("A line m&ore on each"), self.note, keep="note")

    def lay(self, codes: Sequence[str], paper: Paper) -> Lay:
        """Labels in the order of the pieces."""
        contents = []
        for line in self.contents.toPlainText().splitlines():
            fibre, equals, words = (part.strip() for part in line.partition("="))
            if fibre and equals and words:
                contents.append((fibre, words))
        maker, note = self.maker.text().strip(), self.note.text().strip()
        sheet = LabelSheet(paper, maker, tuple(contents), note)
        return lambda library: lay_out_labels(sheet, labels_of(library, codes), LABEL_WORDS)

    def made_words(self, count: int) -> str:
        """How many labels were made."""
        return self.tr("1 skein label") if count == 1 else self.tr("{} skein labels").format(count)


class SheetForm(PaperForm):
    """Piece sheets; photos that were cut out once are kept until the library changes."""

    def __init__(self) -> None:
        super().__init__()
        self.file_name = self.tr("piece sheets")
        self._known: dict[str, PieceSheet] = {}
        words = QLabel(
            self.tr(
                "A page for each piece: its photos, what it went through, its readings and how "
                "far it has moved."
            )
        )
        words.setWordWrap(True)
        words.setProperty("faint", True)
        self.column.addWidget(words)

    def forget(self) -> None:
        """The library has changed."""
        # A new one: the thread of the library may be filling the old one.
        self._known = {}

    def lay(self, codes: Sequence[str], paper: Paper) -> Lay:
        """Sheets in the order of the pieces."""
        known = self._known

        def job(library: Library) -> LaidPages:
            # They take a second to import, and the window begins with this.
            from dyeshade.words.piece_sheet import piece_sheet
            from dyeshade.work.make_piece_sheet import piece_told

            missing = [code for code in codes if code not in known]
            warm = Warm()
            try:
                for code in missing:
                    known[code] = piece_sheet(piece_told(library, code, warm))
            finally:
                warm.close()
            return lay_out_piece_sheets([known[code] for code in codes], paper)

        return job

    def made_words(self, count: int) -> str:
        """How many sheets were made."""
        return self.tr("1 piece sheet") if count == 1 else self.tr("{} piece sheets").format(count)
