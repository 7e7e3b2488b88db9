"""Records of what is to be met and watched: commissions, their results, home fastness tests.

As in `dye_records`, an `id` is 0 until the library has kept the record, and times are wall-clock
times.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from dyeshade.library.dye_records import require
from dyeshade.library.shade_records import Six

HOME_TESTS = ("light", "wash", "acid_dip", "alkaline_dip", "rubbing")
"""As `dyeshade.insight.fastness.TESTS`."""

PAIRS_OF = ("piece", "white", "blue_wool")

NO_SPREAD: Six = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Commission:
    """A shade that was agreed on, and how near a dyeing has to come.

    Attributes
    ----------
    code : str
        Its short id, as "commission-001".
    what, for_whom : str
    lab_l, lab_a, lab_b : float
        The agreed shade: CIELAB (D65, 2 degrees).
    covariance : tuple of 6 floats
        Of the agreed shade, both parts together, in Lab units squared; zeros where it was typed.
    tolerance : float
        CIEDE2000.
    agreed : datetime
    due : date or None
    weight_g : float or None
        Dry weight of the fibre that is wanted.
    reading_id : int or None
        The reading whose shade was agreed on; None where it was typed, or was removed since.
    """

    code: str
    lab_l: float
    lab_a: float
    lab_b: float
    tolerance: float
    agreed: datetime
    covariance: Six = NO_SPREAD
    what: str = ""
    for_whom: str = ""
    due: date | None = None
    weight_g: float | None = None
    reading_id: int | None = None
    note: str = ""
    id: int = 0

    def __post_init__(self) -> None:
        require(bool(self.code) and self.code == self.code.strip(), f"code {self.code!r}")
        require(self.tolerance > 0, "a tolerance must be above 0")
        require(self.weight_g is None or self.weight_g > 0, "weight must be above 0 g")

    @property
    def lab(self) -> tuple[float, float, float]:
        """L*, a*, b* (D65, 2 degrees) of the agreed shade."""
        return (self.lab_l, self.lab_a, self.lab_b)


@dataclass(frozen=True)
class CommissionResult:
    """A dyeing set beside the agreed shade, as it was judged.

    Attributes
    ----------
    reading_id : int
        The reading that was judged.
    delta_e, low, high : float
        CIEDE2000 from the agreed shade, and the 95 % interval of the true difference.
    chance : float
        That the true difference is at most the tolerance (0..1).
    """

    commission_id: int
    reading_id: int
    delta_e: float
    low: float
    high: float
    chance: float
    judged: datetime
    id: int = 0

    def __post_init__(self) -> None:
        require(0 <= self.chance <= 1, f"chance {self.chance}")
        require(0 <= self.low <= self.high, f"interval {self.low} to {self.high}")


@dataclass(frozen=True)
class HomeTestRecord:
    """A home fastness test as it was set up.

    Attributes
    ----------
    treatment_id : int or None
        The treatment that the treated half went through; None for rubbing, which is none.
    kind : str
        One of `HOME_TESTS`.
    white : bool
        Whether white cloth lies beside the piece.
    blue_wools : object
        JSON: numbers of the blue wool references beside it.
    ended : datetime or None
        None while it goes on.
    photo_days : object
        JSON: days after the beginning on which it is to be photographed, rising; empty for the
        usual ones of its kind.
    """

    piece_id: int
    kind: str
    begun: datetime
    treatment_id: int | None = None
    white: bool = False
    blue_wools: Any = ()
    ended: datetime | None = None
    note: str = ""
    photo_days: Any = ()
    id: int = 0

    def __post_init__(self) -> None:
        require(self.kind in HOME_TESTS, f"home test {self.kind!r}")
        numbers = tuple(self.blue_wools or ())
        require(all(one in range(1, 9) for one in numbers), f"blue wools {numbers}")
        require(not numbers or self.kind == "light", "blue wools belong to a test of light")
        days = list(self.photo_days or ())
        whole = all(isinstance(day, int) and day >= 0 for day in days)
        require(whole and days == sorted(set(days)), f"days {days}")


@dataclass(frozen=True)
class HomeTestPair:
    """An untreated and a treated reading that belong to a home test.

    Attributes
    ----------
    what : str
        Whose pair it is, one of `PAIRS_OF`.
    blue_wool : int or None
        Number of the reference, for a blue wool.
    """

    home_test_id: int
    untreated_id: int
    treated_id: int
    what: str = "piece"
    blue_wool: int | None = None
    id: int = 0

    def __post_init__(self) -> None:
        require(self.what in PAIRS_OF, f"a pair of {self.what!r}")
        fits = (self.blue_wool is not None) == (self.what == "blue_wool")
        require(fits and self.blue_wool in (None, *range(1, 9)), f"blue wool {self.blue_wool}")
        require(self.untreated_id != self.treated_id, "one reading is no pair")
