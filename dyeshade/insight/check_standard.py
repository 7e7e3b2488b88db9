"""The check standard: a stable coloured object measured each session, on a control chart.

Where it seems to have moved, it is the set-up, the sheet or the light that has.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from dyeshade.errors import DyeshadeError
from dyeshade.insight.control_chart import ControlChart, control_chart
from dyeshade.insight.difference import Measured, apart, measured
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import readings_of
from dyeshade.library.shade_records import Reading

LEARNING = 10
"""Sessions that centre and limits are made of unless told (ours; 20 to 25 are better: common
practice, no source)."""

LEAST_SESSIONS = 5
LEAST_SD = 0.1
"""Lab units: limits are never narrower than three of these (ours: what no photo tells)."""

CHANNELS = ("L*", "a*", "b*")


@dataclass(frozen=True, eq=False)
class Session:
    """One reading of the check standard.

    Attributes
    ----------
    reading : Reading
    warnings : tuple of (channel, rule)
        Channels of `CHANNELS`, rules of `dyeshade.insight.control_chart.RULES`.
    changed : tuple of str
        What differs from the session before, or is not known: as
        `dyeshade.insight.difference.Difference.apart`.
    """

    reading: Reading
    warnings: tuple[tuple[str, str], ...]
    changed: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class CheckStandard:
    """The check standard's charts.

    Attributes
    ----------
    piece : str
        Its code.
    charts : tuple of ControlChart
        Of L*, a*, b*.
    sessions : tuple of Session
        In the order of time.
    learning : int
        How many sessions the limits are made of.
    """

    piece: str
    charts: tuple[ControlChart, ControlChart, ControlChart]
    sessions: tuple[Session, ...]
    learning: int

    @property
    def warns(self) -> bool:
        """Whether the latest session is a warning."""
        return bool(self.sessions[-1].warnings)


def check_standard(library: Library, piece: str, learning: int | None = None) -> CheckStandard:
    """The charts of a piece that serves as check standard.

    Parameters
    ----------
    library : Library
    piece : str
        Its code.
    learning : int, optional
        How many of the first sessions make the limits; `LEARNING` unless told, or all where there
        are fewer.

    Raises
    ------
    DyeshadeError
        ``piece_unknown``; ``few_sessions`` (piece, sessions, needed).
    """
    found = find_piece(library, piece)
    dry = [one for one in readings_of(library, found.id) if one.state != "wet"]
    if len(dry) < LEAST_SESSIONS:
        raise DyeshadeError(
            "few_sessions", piece=found.code, sessions=len(dry), needed=LEAST_SESSIONS
        )
    return charts_of(found.code, measured(library, dry), learning)


def charts_of(piece: str, sessions: list[Measured], learning: int | None = None) -> CheckStandard:
    """The charts of sessions at hand, in the order of time. Else as `check_standard`."""
    count = min(learning or LEARNING, len(sessions))
    labs = np.array([one.lab for one in sessions])
    lightness, red, yellow = (
        control_chart([float(value) for value in labs[:, k]], count, LEAST_SD) for k in range(3)
    )
    charts = (lightness, red, yellow)
    told = []
    for k, one in enumerate(sessions):
        warnings = tuple(
            (channel, rule)
            for channel, chart in zip(CHANNELS, charts, strict=True)
            for rule in chart.points[k].warnings
        )
        told.append(Session(one.reading, warnings, apart(sessions[k - 1], one) if k else ()))
    return CheckStandard(piece, charts, tuple(told), count)
