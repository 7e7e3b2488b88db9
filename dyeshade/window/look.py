"""How the window looks: light and dark, one accent, and the grey that swatches lie on."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication, QWidget

GROUND: Final = QColor("#777777")
"""Mid grey, L* 50, the same in light and dark: a swatch looks other on every other ground."""

ON_GROUND: Final = QColor("#ffffff")
SPACE: Final = 12
"""Pixels between things that belong to different groups; half of it within a group."""

_RIM: Final = 24
# Pixels of a screen that are left for what a desktop draws around a window.

LOOKS: Final = ("system", "light", "dark")

# Greys without a hue, so that nothing near a swatch tints it; the accent is used for what is
# chosen, and nowhere else.
_LIGHT: Final = {
    "window": "#efefef",
    "base": "#fbfbfb",
    "text": "#1c1c1c",
    "faint": "#5c5c5c",
    "off": "#9a9a9a",
    "button": "#e4e4e4",
    "line": "#c4c4c4",
    "edge": "#7a7a7a",
    "accent": "#2c5a8c",
    "on_accent": "#ffffff",
    "wrong": "#8a4b00",
}
_DARK: Final = {
    "window": "#232323",
    "base": "#303030",
    "text": "#ececec",
    "faint": "#a8a8a8",
    "off": "#7c7c7c",
    "button": "#424242",
    "line": "#545454",
    "edge": "#9a9a9a",
    "accent": "#86b4e4",
    "on_accent": "#10202f",
    "wrong": "#f0b46a",
}


def wanted_look() -> str:
    """The look that was chosen, one of `LOOKS`."""
    kept = str(QSettings().value("look", "system"))
    return kept if kept in LOOKS else "system"


def put_on(application: QApplication, look: str) -> None:
    """Give all windows a look.

    Parameters
    ----------
    application : QApplication
    look : str
        One of `LOOKS`; "system" follows what the desktop says, light where it says nothing.
    """
    dark = look == "dark"
    if look == "system":
        dark = application.styleHints().colorScheme() == Qt.ColorScheme.Dark
    colours = _DARK if dark else _LIGHT
    application.setStyle("Fusion")
    application.setPalette(_palette(colours))
    application.setStyleSheet(_sheet(colours))


def resize_on_screen(widget: QWidget, width: int, height: int) -> None:
    """Give a window a size in pixels, and no more than the screen has: its buttons stay in reach.

    Parameters
    ----------
    widget : QWidget
    width, height : int
    """
    room = widget.screen().availableSize()
    widget.resize(min(width, room.width() - _RIM), min(height, room.height() - 2 * _RIM))


def _palette(colours: dict[str, str]) -> QPalette:
    role = QPalette.ColorRole
    palette = QPalette()
    for where, name in (
        (role.Window, "window"),
        (role.WindowText, "text"),
        (role.Base, "base"),
        (role.AlternateBase, "button"),
        (role.Text, "text"),
        (role.PlaceholderText, "faint"),
        (role.Button, "button"),
        (role.ButtonText, "text"),
        (role.ToolTipBase, "base"),
        (role.ToolTipText, "text"),
        (role.Highlight, "accent"),
        (role.HighlightedText, "on_accent"),
        (role.Accent, "accent"),
        (role.Link, "accent"),
        (role.Mid, "line"),
    ):
        palette.setColor(where, QColor(colours[name]))
    faint = QColor(colours["faint"])
    faint.setAlpha(150)
    for where in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, where, faint)
    return palette


def _sheet(colours: dict[str, str]) -> str:
    return """
    QPushButton, QToolButton {{
        background: {button}; color: {text}; border: 1px solid {line}; border-radius: 4px;
        padding: 6px 12px;
    }}
    QPushButton:hover, QToolButton:hover {{ border-color: {accent}; }}
    QPushButton:focus, QToolButton:focus {{ border: 2px solid {accent}; padding: 5px 11px; }}
    QPushButton:disabled, QToolButton:disabled {{ color: {off}; }}
    QPushButton:checked, QToolButton:checked {{
        background: {accent}; color: {on_accent}; border-color: {accent};
    }}
    QPushButton[main="true"] {{
        background: {accent}; color: {on_accent}; border-color: {accent};
    }}
    QPushButton[main="true"]:focus, QPushButton:checked:focus {{ border: 2px solid {text}; }}
    QPushButton[main="true"]:disabled {{
        background: {button}; color: {off}; border-color: {line};
    }}
    QFileDialog QToolButton {{ padding: 2px; }}
    QFileDialog QToolButton:focus {{ padding: 1px; }}
    QLineEdit, QPlainTextEdit {{
        background: {base}; color: {text}; border: 1px solid {line}; border-radius: 3px;
        padding: 3px 5px;
    }}
    QLineEdit:focus, QPlainTextEdit:focus {{ border-color: {accent}; }}
    QLineEdit:disabled {{ color: {off}; background: {window}; }}
    QCheckBox::indicator, QRadioButton::indicator {{
        width: 11px; height: 11px; padding: 2px; border: 1px solid {edge}; background: {base};
        background-clip: content;
    }}
    QRadioButton::indicator {{ border-radius: 8px; }}
    QCheckBox::indicator {{ border-radius: 3px; }}
    QCheckBox::indicator:checked {{ background: {accent}; background-clip: content; }}
    QRadioButton::indicator:checked {{
        background: qradialgradient(cx: 0.5, cy: 0.5, radius: 0.5, fx: 0.5, fy: 0.5,
            stop: 0 {accent}, stop: 0.62 {accent}, stop: 0.72 {base}, stop: 1 {base});
    }}
    QCheckBox::indicator:focus, QRadioButton::indicator:focus {{ border-color: {accent}; }}
    QCheckBox::indicator:disabled, QRadioButton::indicator:disabled {{ border-color: {line}; }}
    QLineEdit[wrong="true"] {{ border: 2px solid {wrong}; border-radius: 3px; padding: 2px; }}
    QLabel[wrong="true"] {{ color: {wrong}; }}
    QPushButton[place="true"] {{
        background: transparent; border: none; border-bottom: 3px solid transparent;
        border-radius: 0; padding: 8px 14px; color: {text};
    }}
    QPushButton[place="true"]:checked {{ border-bottom-color: {accent}; color: {accent}; }}
    QPushButton[place="true"]:focus {{ background: {line}; padding: 8px 14px; }}
    QPushButton[place="true"]:checked:focus {{
        border: none; border-bottom: 3px solid {accent};
    }}
    QLabel[faint="true"] {{ color: {faint}; }}
    QLabel[head="true"] {{ font-weight: bold; }}
    QListView {{ background: {base}; border: 1px solid {line}; border-radius: 4px; outline: 0; }}
    QListView::item {{ padding: 5px 8px; }}
    QListView::item:selected {{
        background: {button}; color: {text}; border-left: 4px solid {accent};
    }}
    QTableView {{ border: 1px solid {line}; }}
    QListView:focus, QTableView:focus {{ border-color: {accent}; }}
    QGraphicsView {{ border: 1px solid {line}; border-radius: 4px; }}
    QGraphicsView:focus {{ border-color: {accent}; }}
    QDialogButtonBox {{ dialogbuttonbox-buttons-have-icons: 0; }}
    QScrollArea {{ border: none; background: transparent; }}
    QFrame[card="true"] {{ background: {base}; border: 1px solid {line}; border-radius: 6px; }}
    """.format_map(colours)
