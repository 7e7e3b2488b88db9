"""What was added to a bath and what pH was read after it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from dyeshade.bath.additives import Additive
from dyeshade.bath.equilibrium import Contents
from dyeshade.bath.water import check_ph
from dyeshade.errors import DyeshadeError

SPOON, WEIGHED, VOLUME = "spoon", "weighed", "volume"
MEASURED_SPREAD = {SPOON: 0.12, WEIGHED: 0.02, VOLUME: 0.04}
"""Standard deviation of the logarithm of an amount, by how it was measured out; common practice,
no source. A level spoon differs by about an eighth from what its weight was taken to be."""


@dataclass(frozen=True)
class Instrument:
    """What pH is read with.

    Attributes
    ----------
    name : str
        "strip" or "meter".
    error : float
        How far a single reading may be off, pH.
    bias : float
        How far all of its readings may be off together, pH.
    """

    name: str
    error: float
    bias: float

    def __post_init__(self) -> None:
        if not (0.0 < self.error <= 2.0 and 0.0 <= self.bias <= 2.0):
            raise DyeshadeError("reading_error", error=self.error, bias=self.bias)


STRIP = Instrument("strip", 0.5, 0.2)
METER = Instrument("meter", 0.1, 0.2)
INSTRUMENTS = (STRIP, METER)
"""With what is said of them where the dyer says nothing better; common practice, no source."""


@dataclass(frozen=True)
class Reading:
    """A pH that was read on a cooled drop."""

    ph: float
    instrument: Instrument = STRIP

    def __post_init__(self) -> None:
        check_ph(self.ph)


@dataclass(frozen=True)
class Check:
    """The instrument tried in something of known pH, as a standard buffer; it tells the bias."""

    known_ph: float
    reading: Reading

    def __post_init__(self) -> None:
        check_ph(self.known_ph)


@dataclass(frozen=True)
class Addition:
    """Something that was stirred in.

    Attributes
    ----------
    additive : Additive
    amount : float
        In the additive's unit.
    measured : str
        `SPOON`, `WEIGHED` or `VOLUME`.
    """

    additive: Additive
    amount: float
    measured: str = WEIGHED

    def __post_init__(self) -> None:
        if not 0.0 <= self.amount < 1e6:
            raise DyeshadeError("amount_negative", amount=self.amount)
        if self.measured not in MEASURED_SPREAD:
            raise ValueError(self.measured)

    @property
    def mol(self) -> float:
        """Amount of substance, mol, if all is as it is said to be."""
        return self.amount * self.additive.mol_per_unit

    @property
    def spread(self) -> float:
        """Standard deviation of the logarithm of `mol`."""
        measured = MEASURED_SPREAD[self.measured]
        return float((measured**2 + self.additive.strength_spread**2) ** 0.5)


@dataclass(frozen=True)
class LogStep:
    """An addition, or the liquor as it was before any, and what was read then."""

    addition: Addition | None
    readings: tuple[Reading, ...] = ()


@dataclass(frozen=True)
class BathLog:
    """A bath on its way to a pH.

    Attributes
    ----------
    contents : Contents
        Water, and what is known to be in it besides the liquor's own acids (leftover alum).
    steps : tuple of LogStep
        The first without an addition: the liquor as it was.
    checks : tuple of Check
    """

    contents: Contents
    steps: tuple[LogStep, ...] = (LogStep(None),)
    checks: tuple[Check, ...] = ()

    def __post_init__(self) -> None:
        if not self.steps or self.steps[0].addition is not None:
            raise ValueError("a log begins with the liquor as it was")
        if any(step.addition is None for step in self.steps[1:]):
            raise ValueError("a step without an addition")

    def read(self, *readings: Reading) -> BathLog:
        """The log with readings after its last addition."""
        last = self.steps[-1]
        return replace(
            self,
            steps=(*self.steps[:-1], LogStep(last.addition, (*last.readings, *readings))),
        )

    def added(self, addition: Addition, *readings: Reading) -> BathLog:
        """The log with a further addition."""
        return replace(self, steps=(*self.steps, LogStep(addition, readings)))

    @property
    def additions(self) -> tuple[Addition, ...]:
        """Everything that was added, in order."""
        return tuple(step.addition for step in self.steps if step.addition is not None)
