"""How a pot card is made up: like which piece, for which fibre, for how many."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QComboBox, QLineEdit, QPlainTextEdit, QPushButton, QSpinBox

from dyeshade.bath.fibres import guess_fibre
from dyeshade.bath.recipe import Recipe
from dyeshade.bath.showing import show_weight
from dyeshade.bath.units import SYSTEMS
from dyeshade.bath.work_out import BathAsked
from dyeshade.bath.written import parse_piece, parse_pot
from dyeshade.library.library import Library
from dyeshade.paper.paper_page import LaidPages
from dyeshade.paper.shade_card import Paper
from dyeshade.window.papers_forms import Lay, PaperForm
from dyeshade.window.papers_pieces import ListedPiece
from dyeshade.words.pot_card import pot_card
from dyeshade.work.make_pot_card import PotAsked, laid_pot_cards
from dyeshade.work.pot_like import asked_like

_MOST_STUDENTS = 200


class PotForm(PaperForm):
    """A kept piece's shade again, on the fibre at hand."""

    needs_pieces = False

    def __init__(self) -> None:
        super().__init__()
        self.file_name = self.tr("pot card")
        self.like = QComboBox()
        self.fibre = QPlainTextEdit()
        self.fibre.setPlaceholderText(self.tr("wool 240 g"))
        self.take = QPushButton(self.tr("Ta&ke the chosen pieces"))
        self.pot, self.title, self.maker = QLineEdit(), QLineEdit(), QLineEdit()
        self.pot.setPlaceholderText(self.tr("to the rim, as: enamel 10 L"))
        self.title.setPlaceholderText(self.tr("the dyestuffs"))
        self.students = QSpinBox()
        self.students.setRange(1, _MOST_STUDENTS)
        self.units = QComboBox()
        words = {"metric": self.tr("grams and litres"), "us": self.tr("ounces and gallons")}
        for system in SYSTEMS:
            self.units.addItem(words.get(system, system), system)
        self.add(self.tr("The shade of p&iece"), self.like)
        self.add(self.tr("Fibre, &dry, after scouring"), self.fibre)
        self.column.insertWidget(self.column.count() - 1, self.take)
        self.add(
            self.tr("St&udents"),
            self.students,
            self.tr("The fibre above is one student's; each has a pot of their own."),
        )
        self.add(self.tr("P&ot"), self.pot)
        self.add(self.tr("Title"), self.title)
        self.add(self.tr("Made b&y"), self.maker)
        self.add(self.tr("Units that come first"), self.units)

    def show_pieces(self, pieces: Sequence[ListedPiece]) -> None:
        """Offer pieces whose shade may be wanted; the one that was chosen stays."""
        chosen = self.like.currentData()
        self.like.clear()
        for piece in pieces:
            self.like.addItem(piece.words, piece.code)
        self.like.setCurrentIndex(max(0, self.like.findData(chosen)))

    def fill(self, pieces: Sequence[ListedPiece]) -> list[str]:
        """Put pieces into the pot; tells which cannot go for want of a weight or a known fibre."""
        lines, left = [], []
        for piece in pieces:
            kind = guess_fibre(piece.fibre)
            if kind is None or piece.weight_g is None:
                left.append(piece.code)
                continue
            weight = show_weight(piece.weight_g, str(self.units.currentData()))
            lines.append(f"{piece.code}: {kind.name} {weight}")
        self.fibre.setPlainText("\n".join(lines))
        return left

    def lacks(self) -> str:
        """What has to be said first, "" where nothing has."""
        if self.like.currentData() is None:
            return self.tr(
                "The library holds no pieces yet. A pot card tells how to make the shade of a kept "
                "piece again."
            )
        if not self.fibre.toPlainText().strip():
            return self.tr(
                "Say which fibre goes into the pot and its dry weight, as “wool 240 g”: a line "
                "for each piece. Or choose pieces and take them."
            )
        return ""

    def lay(self, codes: Sequence[str], paper: Paper) -> Lay:
        """Cards, one for each pot that the fibre needs; what is mistyped is refused there."""
        like, pot = str(self.like.currentData()), self.pot.text().strip()
        lines = [one for one in self.fibre.toPlainText().splitlines() if one.strip()]
        title, maker = self.title.text().strip(), self.maker.text().strip()
        students, system = self.students.value(), str(self.units.currentData())

        def job(library: Library) -> LaidPages:
            pieces = tuple(parse_piece(line) for line in lines)
            bath = BathAsked(pieces, Recipe(), parse_pot(pot) if pot else None)
            asked = PotAsked(bath, title, maker, students, paper=paper, system=system)
            return laid_pot_cards(asked_like(library, like, pieces, asked), pot_card)

        return job

    def made_words(self, count: int) -> str:
        """How many cards were made."""
        return self.tr("1 pot card") if count == 1 else self.tr("{} pot cards").format(count)
