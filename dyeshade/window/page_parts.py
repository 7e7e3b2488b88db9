"""Small parts that the pages of the bath room are made of."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QFormLayout,
    QFrame,
    QLabel,
    QPushButton,
    QScrollArea,
    QWidget,
)

from dyeshade.window.look import SPACE


class _Upwards(QScrollArea):
    """As wide as what is in it needs, so that nothing is cut off at its side."""

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """Wide enough."""
        hint = super().minimumSizeHint()
        bar = self.verticalScrollBar().sizeHint().width()
        return QSize(self.widget().minimumSizeHint().width() + bar, hint.height())

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """What is in it may have become wider."""
        if event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
        return super().eventFilter(watched, event)


def scrolled(inner: QWidget) -> QScrollArea:
    """A part that is scrolled upwards and downwards only."""
    area = _Upwards()
    area.setWidget(inner)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    return area


def head(words: str) -> QLabel:
    """Words above a group."""
    label = QLabel(words)
    label.setProperty("head", True)
    return label


def told(wrong: bool = False, faint: bool = False) -> QLabel:
    """A label for sentences that come and go."""
    label = QLabel()
    label.setWordWrap(True)
    label.setProperty("wrong", wrong)
    label.setProperty("faint", faint)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    label.hide()
    return label


def tell(label: QLabel, lines: Sequence[str], between: str = "\n\n") -> None:
    """Show sentences, or nothing where there are none."""
    label.setText(between.join(lines))
    label.setVisible(bool(lines))


def order_tabs(*stops: QWidget) -> None:
    """Tab goes as it is read."""
    for one, other in pairwise(stops):
        QWidget.setTabOrder(one, other)


def main_first(buttons: QDialogButtonBox, main: QPushButton) -> None:
    """Tab comes to what a dialog is for before it comes to what leaves it."""
    order_tabs(main, *(one for one in buttons.buttons() if one is not main))


def form() -> QFormLayout:
    """Named fields below each other."""
    layout = QFormLayout()
    layout.setHorizontalSpacing(SPACE)
    layout.setVerticalSpacing(SPACE // 2)
    layout.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
    return layout


def add(layout: QFormLayout, words: str, field: QWidget, holder: QWidget | None = None) -> None:
    """Add a field with its name."""
    label = QLabel(words)
    label.setBuddy(field)
    show_whole(label)
    layout.addRow(label, holder or field)


def show_whole(label: QLabel) -> None:
    """Give a field's name room for all of its letters.

    Those of another font, as a delta's, are drawn a little wider than they are measured.
    """
    label.ensurePolished()
    label.setMinimumWidth(label.sizeHint().width() + SPACE // 2)
