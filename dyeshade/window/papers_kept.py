"""What papers leave on this computer: fields as they were left, which pieces have tags."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QComboBox, QLineEdit, QPlainTextEdit, QSpinBox, QWidget


def keep_field(field: QWidget, key: str) -> None:
    """Show in a field what was kept of it, and keep what is chosen or typed from now on.

    A choice is kept by what stands behind its words, which may be in another language next time.

    Parameters
    ----------
    field : QComboBox, QLineEdit, QPlainTextEdit or QSpinBox
    key : str
        Under which it is kept on this computer.
    """
    kept = QSettings().value(key)

    def keep(value: object) -> None:
        QSettings().setValue(key, value)

    if isinstance(field, QComboBox):
        row = -1 if kept is None else field.findData(str(kept))
        if row >= 0:
            field.setCurrentIndex(row)
        field.activated.connect(lambda _row: keep(field.currentData()))
    elif isinstance(field, QLineEdit):
        field.setText(str(kept or ""))
        field.textEdited.connect(keep)
    elif isinstance(field, QPlainTextEdit):
        field.setPlainText(str(kept or ""))
        field.textChanged.connect(lambda: keep(field.toPlainText()))
    elif isinstance(field, QSpinBox):
        if kept is not None and str(kept).isdecimal():
            field.setValue(int(str(kept)))
        field.valueChanged.connect(keep)
    else:
        raise TypeError(type(field))


def tagged_in(folder: Path | None) -> tuple[str, ...]:
    """Codes of a library's pieces that tags were saved for on this computer."""
    kept = "" if folder is None else str(QSettings().value(_tagged_key(folder), "") or "")
    return tuple(code for code in kept.split("\t") if code)


def remember_tagged(folder: Path, codes: Iterable[str]) -> tuple[str, ...]:
    """Keep that further pieces have tags; tells all that have."""
    known = tuple(dict.fromkeys((*tagged_in(folder), *codes)))
    QSettings().setValue(_tagged_key(folder), "\t".join(known))
    return known


def _tagged_key(folder: Path) -> str:
    return f"tagged/{str(folder).replace('/', '|')}"
