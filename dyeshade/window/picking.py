"""Opens what a wanted shade is picked in: a photo, or the pieces of the library."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QDialog

from dyeshade.window.colour_field import ColourField
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.measuring import Measuring
from dyeshade.window.pick_photo import PickPhoto
from dyeshade.window.pick_piece import PickPiece
from dyeshade.work.compare_choices import PieceShade, piece_shades


class Picking(QObject):
    """Serves colour fields wherever they are.

    Signals
    -------
    opened(QDialog)
        A dialog stands open above a field's window.
    """

    opened = Signal(object)

    def __init__(self, desk: LibraryDesk, measuring: Measuring, parent: QObject) -> None:
        super().__init__(parent)
        self._desk, self._measuring = desk, measuring

    def serve(self, field: ColourField) -> None:
        """Open for a field what it asks for."""
        field.photo_wanted.connect(self.open_photo)
        field.piece_wanted.connect(self.open_pieces)

    def open_photo(self, field: ColourField) -> None:
        """Let the field's colour be picked from a photo."""
        dialog = PickPhoto(self._measuring, field.window())
        dialog.taken.connect(field.choose)
        self._open(dialog)

    def open_pieces(self, field: ColourField) -> None:
        """Let the field's colour be that of a piece."""

        def show(pieces: Sequence[PieceShade]) -> None:
            dialog = PickPiece(pieces, field.window())
            dialog.taken.connect(field.choose)
            self._open(dialog)

        self._desk.ask(piece_shades, show)

    def _open(self, dialog: QDialog) -> None:
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()
        self.opened.emit(dialog)
