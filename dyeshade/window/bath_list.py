"""The baths that there are, the newest first; those that are not kept yet stand above."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Qt, Signal, Slot
from PySide6.QtWidgets import QListWidget, QListWidgetItem

from dyeshade.window.bathing import Bathing
from dyeshade.words.dye_words import listed
from dyeshade.work.listed_plans import ListedPlan


class BathList(QListWidget):
    """One line for each bath.

    Signals
    -------
    wanted(int)
        The bath with this key is to be taken in hand.
    """

    wanted = Signal(int)

    def __init__(self, bathing: Bathing) -> None:
        super().__init__()
        self._bathing = bathing
        self.setAccessibleName(self.tr("Baths"))
        self.setWordWrap(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        bathing.listed.connect(self._show)
        bathing.shown.connect(self._show)
        self.currentItemChanged.connect(self._chosen)

    @Slot()
    def _show(self) -> None:
        bathing = self._bathing
        lines: list[tuple[int, str]] = []
        new = {key for key in bathing.unkept if key < 0}
        if bathing.key < 0:
            new.add(bathing.key)
        for key in sorted(new):
            typed = bathing.typed if key == bathing.key else bathing.unkept[key]
            words = self.tr("{}\nnot kept yet").format(typed.code or self.tr("a new bath"))
            lines.append((key, words))
        lines += [(one.bath_id, self._words(one)) for one in bathing.baths]
        with QSignalBlocker(self):
            if [(self.item(k).data(Qt.ItemDataRole.UserRole), self.item(k).text())
                    for k in range(self.count())] != lines:  # fmt: skip
                self.clear()
                for key, words in lines:
                    item = QListWidgetItem(words)
                    item.setData(Qt.ItemDataRole.UserRole, key)
                    self.addItem(item)
            for place, (key, _) in enumerate(lines):
                if key == bathing.key:
                    self.setCurrentRow(place)

    def _words(self, one: ListedPlan) -> str:
        state = ""
        if one.bath_id in self._bathing.unkept:
            state = self.tr("changed")
        elif one.under_way:
            state = self.tr("under way")
        elif one.finished:
            state = self.tr("pieces out")
        second = ", ".join(filter(None, (listed(list(one.dyestuffs)), state)))
        if one.exhausts:
            second = self.tr("exhausts {0}; {1}").format(one.exhausts, second)
        return f"{one.code}\n{second}" if second else one.code

    @Slot(QListWidgetItem)
    def _chosen(self, item: QListWidgetItem | None) -> None:
        if item is not None:
            self.wanted.emit(item.data(Qt.ItemDataRole.UserRole))
