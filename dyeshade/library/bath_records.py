"""What is kept of a bath beside `dye_records`: its plan, its log, its day; the store of dyestuffs.

As there, an `id` is 0 until the library has kept the record, and times are wall-clock times.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from dyeshade.library.dye_records import FORMS, TREATMENTS, require

LINE_KINDS = ("dyestuff", "mordant", "assistant", "water")
MOVE_KINDS = ("bought", "used", "weighed")


def _share(share: float | None) -> bool:
    return share is None or 0 < share <= 1


def _ph(ph: float | None) -> bool:
    return ph is None or 0 <= ph <= 14


@dataclass(frozen=True)
class BathPlanRecord:
    """What was planned for a bath as a whole; a bath has one or none.

    Attributes
    ----------
    liquor_ratio : float or None
        Planned; that of the `Bath` is the one that it had.
    pot_l : float or None
        What the pot holds up to its rim, litres.
    whole : bool
        Whether pieces stay whole when they are shared out over pots.
    left_share : float or None
        Of an exhaust bath: share of the dyestuff that the bath before left in the liquor.
    temperature_c : float or None
        While pH is brought to its target with the fibre in.
    alkalinity_mg_l, water_ph : float or None
        Of the water, as calcium carbonate.
    target_ph, ceiling_ph, floor_ph : float or None
        The last two are the dyer's own.
    have : object
        JSON, ``{"have": [...], "raised": false, "degrees": "mg_l", "alum": "5 g"}``: what there is
        to move the pH with; whether the dyer means a bound of their own that is riskier than common
        practice; in what the alkalinity was given; alum that is left in the liquor, as typed (older
        plans do not say).
    finished : datetime or None
        When the pieces came out.
    """

    bath_id: int
    liquor_ratio: float | None = None
    pot_l: float | None = None
    pot_material: str = ""
    whole: bool = True
    foraged: bool = False
    left_share: float | None = None
    temperature_c: float | None = None
    alkalinity_mg_l: float | None = None
    water_ph: float | None = None
    target_ph: float | None = None
    ceiling_ph: float | None = None
    floor_ph: float | None = None
    have: Any = None
    finished: datetime | None = None
    id: int = 0

    def __post_init__(self) -> None:
        require(self.pot_l is None or self.pot_l > 0, "a pot of nothing")
        require(self.liquor_ratio is None or self.liquor_ratio > 0, "liquor ratio")
        require(_share(self.left_share), f"left share {self.left_share}")
        for ph in (self.water_ph, self.target_ph, self.ceiling_ph, self.floor_ph):
            require(_ph(ph), f"pH {ph}")


@dataclass(frozen=True)
class BathPiece:
    """Fibre in the pot; `code` is the piece's, or "" for one that has none yet."""

    bath_id: int
    code: str
    fibre: str
    weight_g: float
    written: str = ""
    place: int = 1
    id: int = 0

    def __post_init__(self) -> None:
        require(self.weight_g > 0, "weight must be above 0 g")


@dataclass(frozen=True)
class BathLine:
    """Something weighed or measured out.

    Attributes
    ----------
    kind : str
        One of `LINE_KINDS`.
    form : str
        Of a dyestuff.
    on_fibre : str
        Of a mordant or assistant: a kind or group of fibre, "" for all.
    share : float
        Planned, to the dry weight of the fibre that it is for.
    planned, actual : float
        Grams, of water litres.
    written, written_actual : str
        The share and the actual amount as they were typed.
    """

    bath_id: int
    kind: str
    name: str
    share: float
    planned: float
    form: str = ""
    on_fibre: str = ""
    actual: float | None = None
    written: str = ""
    written_actual: str = ""
    place: int = 1
    id: int = 0

    def __post_init__(self) -> None:
        require(self.kind in LINE_KINDS and bool(self.name.strip()), f"line {self.kind}")
        require(self.kind != "dyestuff" or self.form in FORMS, f"form {self.form!r}")
        require(self.share > 0 and self.planned > 0, "a line of nothing")
        require(self.actual is None or self.actual >= 0, "amount below 0")


@dataclass(frozen=True)
class LogReading:
    """A pH read on the way to a target.

    Attributes
    ----------
    addition_id : int or None
        The addition that it was read after; None for the liquor as it was.
    instrument : str
        "strip" or "meter".
    error, bias : float
        How far one reading, and how far all of them together, may be off, pH.
    known_ph : float or None
        Of a check in something of known pH: what it has; then the reading is none of the bath.
    photo_id : int or None
        Of the photo of the strip, where a photo told the pH.
    """

    bath_id: int
    addition_id: int | None
    ph: float
    instrument: str
    error: float
    bias: float
    known_ph: float | None = None
    read: datetime | None = None
    photo_id: int | None = None
    id: int = 0

    def __post_init__(self) -> None:
        require(_ph(self.ph) and _ph(self.known_ph), f"pH {self.ph}")
        require(self.error > 0 and self.bias >= 0, "error of a reading")


@dataclass(frozen=True)
class DayStep:
    """A step of the dye day, planned beside actual.

    Attributes
    ----------
    treatment : str
        What the pieces go through, one of `TREATMENTS`.
    what : str
        In the dyer's words: "heat slowly", "simmer, not boil".
    minutes : float or None
        Planned.
    started, ended : datetime or None
        Actual; a step with the first and without the last is under way.
    """

    bath_id: int
    treatment: str
    what: str = ""
    temperature_c: float | None = None
    minutes: float | None = None
    started: datetime | None = None
    ended: datetime | None = None
    note: str = ""
    place: int = 1
    id: int = 0

    def __post_init__(self) -> None:
        require(self.treatment in TREATMENTS, f"treatment {self.treatment!r}")
        require(self.minutes is None or self.minutes >= 0, "time below 0")
        require(self.ended is None or self.started is not None, "ended before it began")


@dataclass(frozen=True)
class DyestuffMove:
    """What became of a lot: bought or gathered, used in a bath, weighed again."""

    dyestuff_lot_id: int
    kind: str
    grams: float
    bath_id: int | None = None
    moved: datetime | None = None
    id: int = 0

    def __post_init__(self) -> None:
        require(self.kind in MOVE_KINDS and self.grams >= 0, f"move {self.kind} {self.grams}")


@dataclass(frozen=True)
class OwnDensity:
    """Bulk density of the dyer's own powder, from level spoons that were weighed."""

    substance: str
    low_g_ml: float
    usual_g_ml: float
    high_g_ml: float
    standard_uncertainty_g_ml: float
    spoon_sd: float
    coverage: float
    weighed: datetime | None = None
    id: int = 0

    def __post_init__(self) -> None:
        require(0 < self.low_g_ml <= self.usual_g_ml <= self.high_g_ml, "density out of order")


@dataclass(frozen=True)
class OwnRange:
    """A dyer's own usual range of a substance on a fibre, as shares of its weight."""

    substance: str
    on_fibre: str
    low: float
    high: float
    id: int = 0

    def __post_init__(self) -> None:
        require(0 <= self.low <= self.high, "range out of order")


@dataclass(frozen=True)
class OwnYield:
    """What of a dyestuff comes of another form: "dried" of fresh, "extract" of dried."""

    dyestuff: str
    form: str
    share: float
    id: int = 0

    def __post_init__(self) -> None:
        require(self.form in FORMS[1:] and _share(self.share), f"yield {self.form} {self.share}")


@dataclass(frozen=True)
class Preference:
    """What a dyer has chosen once, as units or spoons."""

    name: str
    value: str
    id: int = 0


@dataclass(frozen=True)
class StripKind:
    """A kind of pH strip, its printed scale marked once.

    Attributes
    ----------
    scale : object
        JSON, as `dyeshade.work.strip_kinds` writes it: the blocks' pH row by row, their colours.
    """

    name: str
    scale: Any
    made: datetime | None = None
    id: int = 0

    def __post_init__(self) -> None:
        require(bool(self.name.strip()), "a strip without a name")
