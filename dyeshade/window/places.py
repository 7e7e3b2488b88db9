"""The places of the window, in the order in which they stand in its bar.

A new place is a line here: a name for the code, and a function that builds its widget.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QWidget

from dyeshade.window.assigning import Assigning
from dyeshade.window.bath_place import BathPlace
from dyeshade.window.card_place import CardPlace
from dyeshade.window.compare_place import ComparePlace
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.library_place import LibraryPlace
from dyeshade.window.measuring import Measuring
from dyeshade.window.measuring_place import MeasuringPlace
from dyeshade.window.papers_place import PapersPlace
from dyeshade.window.presenter import Presenter
from dyeshade.window.sheet_place import SheetPlace
from dyeshade.window.start_place import StartPlace


@dataclass(frozen=True)
class Shared:
    """What places share.

    Attributes
    ----------
    measuring : Measuring
    assigning : Assigning
    presenter : Presenter
    desk : LibraryDesk
        Whoever wants to know or change something of the shade library asks here.
    undo : QUndoStack
        What is changed becomes a step of it.
    """

    measuring: Measuring
    assigning: Assigning
    presenter: Presenter
    desk: LibraryDesk
    undo: QUndoStack


@dataclass(frozen=True)
class Place:
    """One place.

    Attributes
    ----------
    key : str
    words : callable
        Gives its name in the bar; called when there is a translator.
    build : callable
        Makes its widget.
    """

    key: str
    words: Callable[[], str]
    build: Callable[[Shared], QWidget]


def _say(words: str) -> str:
    return QCoreApplication.translate("Places", words)


PLACES: tuple[Place, ...] = (
    Place("start", lambda: _say("Start"), lambda _shared: StartPlace()),
    Place(
        "measuring",
        lambda: _say("Measuring"),
        lambda shared: MeasuringPlace(shared.measuring, shared.assigning, shared.desk),
    ),
    Place(
        "library",
        lambda: _say("The library"),
        lambda shared: LibraryPlace(shared.desk, shared.presenter),
    ),
    Place(
        "bath", lambda: _say("The bath"), lambda shared: BathPlace(shared.desk, shared.presenter)
    ),
    Place(
        "compare",
        lambda: _say("Compare"),
        lambda shared: ComparePlace(shared.desk, shared.presenter, shared.measuring),
    ),
    Place(
        "card",
        lambda: _say("Shade card"),
        lambda shared: CardPlace(shared.desk, shared.presenter, shared.undo),
    ),
    Place(
        "papers",
        lambda: _say("Tags and sheets"),
        lambda shared: PapersPlace(shared.desk, shared.presenter),
    ),
    Place("sheet", lambda: _say("The sheet"), lambda shared: SheetPlace(shared.presenter)),
)
