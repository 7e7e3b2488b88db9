"""What a dyer writes down: lots, mordants, pieces, treatments, baths, additions, pH.

Every record has an `id`, 0 until the library has kept it. Times are wall-clock times where the dyer
works, without a zone, as cameras write them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

FORMS = ("fresh", "dried", "extract")
"""Forms of a dyestuff."""

TREATMENTS = (
    "scour",
    "tannin",
    "mordant",
    "bath",
    "dip",
    "overdye",
    "afterbath",
    "rinse",
    "wash",
    "light",
    "rest",
)
"""What a piece goes through."""

IN_A_BATH = ("bath", "overdye")
"""Treatments that put the piece into a dye bath."""

AFTER_A_BATH = ("dip", "afterbath")
"""Treatments whose pH is the one called "after"."""

WHICH_PH = ("extraction", "bath_start", "bath_end", "after", "rinse")
"""Which pH was read: of the extraction, the bath at its start or end, an afterbath or dip, the
rinse water. They are never pooled."""

STATES = ("wet", "dry", "after_rinse", "after_wash", "after_light")
"""States of a piece when it is read: dry means 24 h or more, the others dry again after that."""


def require(fine: bool, what: str) -> None:
    """Crash on a record that nothing should have made: what people type is checked above."""
    if not fine:
        raise ValueError(what)


def wall_time(time: datetime) -> datetime:
    """The time on the clock where it was taken, to the second, its zone left out."""
    return time.replace(tzinfo=None, microsecond=0)


@dataclass(frozen=True)
class DyestuffLot:
    """A dyestuff as it was bought or gathered; `form` is one of `FORMS`."""

    name: str
    part: str = ""
    form: str = "dried"
    origin: str = ""
    lot_date: date | None = None
    note: str = ""
    id: int = 0

    def __post_init__(self) -> None:
        require(bool(self.name.strip()), "a dyestuff needs a name")
        require(self.form in FORMS, f"form {self.form!r}")


@dataclass(frozen=True)
class FibreLot:
    """A fibre (wool, silk, cotton) as it was bought; `make` says yarn or cloth and how fine."""

    name: str
    make: str = ""
    origin: str = ""
    lot_date: date | None = None
    note: str = ""
    id: int = 0

    def __post_init__(self) -> None:
        require(bool(self.name.strip()), "a fibre needs a name")


@dataclass(frozen=True)
class Mordant:
    """A way of mordanting: what with (`name`), and how much of it in per cent of the fibre."""

    name: str
    percent_wof: float | None = None
    note: str = ""
    id: int = 0

    def __post_init__(self) -> None:
        require(bool(self.name.strip()), "a mordant needs a name")
        require(self.percent_wof is None or self.percent_wof >= 0, "mordant below 0 %")


@dataclass(frozen=True)
class Piece:
    """One dyed skein, swatch or cloth.

    Attributes
    ----------
    code : str
        The short id that a dyer writes on its tag, as "W-014"; upper and lower case are the same.
    weight_g : float or None
        Dry weight of the fibre after scouring.
    """

    code: str
    name: str = ""
    fibre_lot_id: int | None = None
    mordant_id: int | None = None
    weight_g: float | None = None
    note: str = ""
    id: int = 0

    def __post_init__(self) -> None:
        require(bool(self.code) and self.code == self.code.strip(), f"code {self.code!r}")
        require(self.weight_g is None or self.weight_g > 0, "weight must be above 0 g")


@dataclass(frozen=True)
class Bath:
    """A dye bath.

    Attributes
    ----------
    code : str
        Its short id, as "bath-007".
    exhaust_number : int
        0 for a first bath, 1 for its first exhaust bath, and so on.
    parent_bath_id : int or None
        The bath that this one exhausts.
    liquor_ratio : float or None
        Weight of water to weight of fibre.
    """

    code: str
    started: datetime | None = None
    water: str = ""
    vessel: str = ""
    liquor_ratio: float | None = None
    temperature_c: float | None = None
    minutes: float | None = None
    exhaust_number: int = 0
    parent_bath_id: int | None = None
    note: str = ""
    id: int = 0

    def __post_init__(self) -> None:
        require(bool(self.code) and self.code == self.code.strip(), f"code {self.code!r}")
        require(self.exhaust_number >= 0, "exhaust number below 0")
        require(
            self.parent_bath_id is None or self.exhaust_number > 0, "an exhaust bath is no first"
        )
        require(self.minutes is None or self.minutes >= 0, "time below 0")
        require(self.liquor_ratio is None or self.liquor_ratio > 0, "liquor ratio")


@dataclass(frozen=True)
class BathDyestuff:
    """A dyestuff in a bath; `ratio` is its weight to the fibre's (1.0 = 100 % wof)."""

    bath_id: int
    dyestuff_lot_id: int
    ratio: float | None = None
    place: int = 1
    id: int = 0

    def __post_init__(self) -> None:
        require(self.ratio is None or self.ratio > 0, "ratio must be above 0")


@dataclass(frozen=True)
class Addition:
    """What was added to a bath, in order of `place`, and the pH read after it.

    Attributes
    ----------
    additive : str
        Where it was added to reach a pH: its short name in `dyeshade.bath.additives`, else "".
    percent : float or None
        Of vinegar or a stock solution: what its label says.
    measured : str
        How it was measured out, as in `dyeshade.bath.reach.log`, or "".
    """

    bath_id: int
    substance: str
    amount: float
    unit: str
    ph_after: float | None = None
    place: int = 1
    added: datetime | None = None
    additive: str = ""
    percent: float | None = None
    measured: str = ""
    id: int = 0

    def __post_init__(self) -> None:
        require(bool(self.substance.strip()) and bool(self.unit.strip()), "substance and unit")
        require(self.amount >= 0, "amount below 0")
        require(self.ph_after is None or 0 <= self.ph_after <= 14, f"pH {self.ph_after}")


@dataclass(frozen=True)
class Treatment:
    """A step that a piece went through, in order of `place`.

    Attributes
    ----------
    kind : str
        One of `TREATMENTS`.
    bath_id : int or None
        For a bath or an overdye: which bath.
    substance, amount, unit
        What was used, as "white vinegar", 10, "ml/l".
    """

    piece_id: int
    kind: str
    bath_id: int | None = None
    substance: str = ""
    amount: float | None = None
    unit: str = ""
    started: datetime | None = None
    minutes: float | None = None
    temperature_c: float | None = None
    note: str = ""
    place: int = 0
    id: int = 0

    def __post_init__(self) -> None:
        require(self.kind in TREATMENTS, f"treatment {self.kind!r}")
        require(self.bath_id is None or self.kind in IN_A_BATH, f"a {self.kind} has no dye bath")
        require(self.minutes is None or self.minutes >= 0, "time below 0")


@dataclass(frozen=True)
class PhReading:
    """A pH that was read.

    Attributes
    ----------
    which : str
        One of `WHICH_PH`; the first three belong to a bath, the others to a treatment of a piece.
    ph_sd : float or None
        Standard uncertainty: about 0.05 for a meter, 0.3 for a strip (common practice, no source).
    by : str
        "meter", "strip" or what else.
    """

    which: str
    ph: float
    ph_sd: float | None = None
    read: datetime | None = None
    bath_id: int | None = None
    treatment_id: int | None = None
    by: str = ""
    id: int = 0

    def __post_init__(self) -> None:
        require(self.which in WHICH_PH, f"which pH: {self.which!r}")
        require(0 <= self.ph <= 14, f"pH {self.ph}")
        of_bath = self.which in WHICH_PH[:3]
        fits = (self.bath_id is not None) == of_bath and (self.treatment_id is None) == of_bath
        require(fits, f"the pH of {self.which} belongs to a {'bath' if of_bath else 'treatment'}")
