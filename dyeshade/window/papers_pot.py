"""How a pot card is made up: the bath of what, for which fibre, for how many."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtWidgets import QComboBox, QLineEdit, QPlainTextEdit, QPushButton, QSpinBox

from dyeshade.bath.fibres import guess_fibre
from dyeshade.bath.recipe import Recipe
from dyeshade.bath.showing import show_weight
from dyeshade.bath.units import SYSTEMS
from dyeshade.bath.work_out import BathAsked
from dyeshade.bath.written import parse_piece, parse_pot
from dyeshade.library.library import Library
from dyeshade.library.trial_records import Commission
from dyeshade.paper.paper_page import LaidPages
from dyeshade.paper.shade_card import Paper
from dyeshade.window.papers_forms import Lay, PaperForm
from dyeshade.window.papers_pieces import ListedPiece, listed_pieces
from dyeshade.words.commission_words import commission_head
from dyeshade.words.dye_words import listed
from dyeshade.words.pot_card import pot_card
from dyeshade.work.listed_plans import ListedPlan, listed_plans
from dyeshade.work.make_pot_card import PotAsked, laid_pot_cards
from dyeshade.work.pot_like import asked_like

_MOST_STUDENTS = 200
PIECE, BATH, COMMISSION = "piece", "bath", "commission"


@dataclass(frozen=True)
class ForPapers:
    """What of a library papers can be made of; the newest first."""

    pieces: Sequence[ListedPiece]
    baths: Sequence[ListedPlan]
    commissions: Sequence[Commission]


def for_papers(library: Library) -> ForPapers:
    """What of a library papers can be made of."""
    commissions = library.where(Commission, "1", (), "agreed DESC, id DESC")
    return ForPapers(listed_pieces(library), listed_plans(library), commissions)


class PotForm(PaperForm):
    """A kept piece's shade again, a bath, or a commission; on the fibre at hand."""

    key = "pot"
    needs_pieces = False

    def __init__(self) -> None:
        super().__init__()
        self.file_name = self.tr("pot card")
        self._offered: dict[str, list[tuple[str, str]]] = {PIECE: [], BATH: [], COMMISSION: []}
        self.source, self.like = QComboBox(), QComboBox()
        for source, words in (
            (PIECE, self.tr("The shade of a piece again")),
            (BATH, self.tr("A bath, planned or kept")),
            (COMMISSION, self.tr("A commission")),
        ):
            self.source.addItem(words, source)
        self.fibre = QPlainTextEdit()
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
        for box in (self.source, self.like):
            box.setSizeAdjustPolicy(
                QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
            )
        self.source.activated.connect(lambda _row: self._offer())
        self.add(self.tr("A card &for"), self.source)
        self.column.insertWidget(self.column.count() - 1, self.like)
        self.like.setAccessibleName(self.tr("Which one"))
        self.like.activated.connect(lambda _row: self.wished.emit())
        self.add(self.tr("Fibre, &dry, after scouring"), self.fibre)
        self.column.insertWidget(self.column.count() - 1, self.take)
        self.add(
            self.tr("St&udents"),
            self.students,
            self.tr("The fibre above is one student's; each has a pot of their own."),
        )
        self.add(self.tr("P&ot"), self.pot)
        self.add(self.tr("Title"), self.title)
        self.add(self.tr("Made b&y"), self.maker, keep="maker")
        self.add(self.tr("Units that come first"), self.units, keep="units")
        self._offer()

    def show_records(self, records: ForPapers) -> None:
        """Offer what a card may be made for; what was chosen stays."""
        chosen = self.like.currentData()
        self._offered = {
            PIECE: [(one.words, one.code) for one in records.pieces if one.dyed],
            BATH: [(_bath_words(one), one.code) for one in records.baths],
            COMMISSION: [(commission_head(one), one.code) for one in records.commissions],
        }
        self._offer(chosen)

    def choose(self, source: str, code: str) -> None:
        """Make the card for a piece, a bath or a commission."""
        self.source.setCurrentIndex(self.source.findData(source))
        self._offer(code)
        self.wished.emit()

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
        source = self.source.currentData()
        if self.like.currentData() is None:
            return {
                PIECE: self.tr(
                    "No piece was read after a dye bath yet. A pot card tells how to make the "
                    "shade of a kept piece again."
                ),
                BATH: self.tr(
                    "The library holds no baths yet. Plan one in “The bath”, and keep it."
                ),
                COMMISSION: self.tr("No commission is kept yet."),
            }[source]
        if source == PIECE and not self.fibre.toPlainText().strip():
            return self.tr(
                "Say which fibre goes into the pot and its dry weight, as “wool 240 g”: a line "
                "for each piece. Or choose pieces and take them."
            )
        return ""

    def lay(self, codes: Sequence[str], paper: Paper) -> Lay:
        """Cards, one for each pot that the fibre needs; what is mistyped is refused there."""
        source, of = self.source.currentData(), str(self.like.currentData())
        pot = self.pot.text().strip()
        lines = [one for one in self.fibre.toPlainText().splitlines() if one.strip()]
        title, maker = self.title.text().strip(), self.maker.text().strip()
        students, system = self.students.value(), str(self.units.currentData())

        def job(library: Library) -> LaidPages:
            pieces = tuple(parse_piece(line) for line in lines)
            bath = BathAsked(pieces, Recipe(), parse_pot(pot) if pot else None)
            asked = PotAsked(bath, title, maker, students, paper=paper, system=system)
            # Takes a second to import, and the window begins with it.
            from dyeshade.work.pot_sources import asked_of_bath, asked_of_commission

            if source == BATH:
                asked = asked_of_bath(library, of, asked)
            elif source == COMMISSION:
                asked = asked_of_commission(library, of, asked)
            else:
                asked = asked_like(library, of, pieces, asked)
            return laid_pot_cards(asked, pot_card)

        return job

    def made_words(self, count: int) -> str:
        """How many cards were made."""
        return self.tr("1 pot card") if count == 1 else self.tr("{} pot cards").format(count)

    def _offer(self, chosen: str | None = None) -> None:
        source = self.source.currentData()
        self.like.clear()
        for words, code in self._offered[source]:
            self.like.addItem(words, code)
        self.like.setCurrentIndex(max(0, self.like.findData(chosen)))
        self.fibre.setPlaceholderText(
            {
                PIECE: self.tr("wool 240 g"),
                BATH: self.tr("that of the bath, or as: wool 240 g"),
                COMMISSION: self.tr("as agreed on, or as: wool 240 g"),
            }[source]
        )


def _bath_words(one: ListedPlan) -> str:
    return "  ".join(filter(None, (one.code, listed(list(one.dyestuffs)))))
