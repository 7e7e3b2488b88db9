"""What a change did to the library: told to whoever shows it, and turned round to undo it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from dyeshade.library.tables import Record


@dataclass(frozen=True)
class RowChange:
    """One record before and after; None before it was added and after it was removed."""

    kind: str
    id: int
    before: Record | None
    after: Record | None

    def inverse(self) -> RowChange:
        """The change that takes this one back."""
        return RowChange(self.kind, self.id, self.after, self.before)


@dataclass(frozen=True)
class Changes:
    """All that one job changed, in order.

    Attributes
    ----------
    job : str
        Short name of the job, as ``save_readings``; the top floor words it ("Undo ...").
    rows : tuple of RowChange
    """

    job: str
    rows: tuple[RowChange, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.rows)

    def __add__(self, later: Changes) -> Changes:
        return Changes(self.job, self.rows + later.rows)

    @property
    def kinds(self) -> frozenset[str]:
        """Kinds of record that were touched."""
        return frozenset(row.kind for row in self.rows)

    def added(self, kind: str) -> tuple[int, ...]:
        """Ids of the records of a kind that are there now and were not before."""
        return tuple(i for i, row in self._net(kind).items() if row.before is None)

    def changed(self, kind: str) -> tuple[int, ...]:
        """Ids of the records of a kind that were there and still are, with other contents."""
        net = self._net(kind).items()
        return tuple(i for i, row in net if row.before is not None and row.after is not None)

    def removed(self, kind: str) -> tuple[int, ...]:
        """Ids of the records of a kind that were there and are no more."""
        return tuple(i for i, row in self._net(kind).items() if row.after is None)

    def inverse(self) -> Changes:
        """The changes that take these back: each turned round, the last one first."""
        return Changes(self.job, tuple(row.inverse() for row in reversed(self.rows)))

    def _net(self, kind: str) -> dict[int, RowChange]:
        net: dict[int, RowChange] = {}
        for row in self._of(kind):
            known = net.get(row.id)
            net[row.id] = row if known is None else replace(known, after=row.after)
        return {i: row for i, row in net.items() if row.before != row.after}

    def _of(self, kind: str) -> Iterator[RowChange]:
        return (row for row in self.rows if row.kind == kind)
