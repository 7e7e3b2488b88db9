"""What a dyer says of samples, pieces and baths, as typed in a window or on a command line.

All but codes and names may be left out: "" and None mean that nothing was said. Values are checked
where they are typed; what no record can hold (a pH of 15, a ratio of 0) crashes.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True)
class SaidDye:
    """A dyestuff in a bath.

    Attributes
    ----------
    form : str
        One of `dyeshade.library.dye_records.FORMS`; dried where nothing was said.
    ratio : float or None
        Its weight to the fibre's, 1.0 = 100 % wof.
    """

    name: str
    part: str = ""
    form: str = ""
    ratio: float | None = None
    origin: str = ""


@dataclass(frozen=True)
class SaidAddition:
    """What was added to a bath, and the pH read after it."""

    substance: str
    amount: float
    unit: str
    ph_after: float | None = None


@dataclass(frozen=True)
class SaidBath:
    """A bath.

    Attributes
    ----------
    code : str
    dyes : tuple of SaidDye
        In order; for an exhaust bath those of the bath that it exhausts, where none are said.
    exhaust_of : str
        Code of the bath that it exhausts; its exhaust number is one more than that one's.
    liquor_ratio : float or None
        Weight of water to weight of fibre.
    additions : tuple of SaidAddition
        In order, from the first on.
    phs : tuple of (which, pH)
        Which is "extraction", "bath_start" or "bath_end".
    """

    code: str
    dyes: tuple[SaidDye, ...] = ()
    exhaust_of: str = ""
    started: datetime | None = None
    water: str = ""
    vessel: str = ""
    liquor_ratio: float | None = None
    temperature_c: float | None = None
    minutes: float | None = None
    additions: tuple[SaidAddition, ...] = ()
    phs: tuple[tuple[str, float], ...] = ()
    note: str = ""


@dataclass(frozen=True)
class SaidTreatment:
    """A step that a piece went through.

    Attributes
    ----------
    kind : str
        One of `dyeshade.library.dye_records.TREATMENTS`.
    bath : str
        Code of the dye bath, for a bath or an overdye only.
    ph : float or None
        For an afterbath, a dip or a rinse only.
    """

    kind: str
    bath: str = ""
    substance: str = ""
    amount: float | None = None
    unit: str = ""
    started: datetime | None = None
    minutes: float | None = None
    temperature_c: float | None = None
    ph: float | None = None
    note: str = ""


@dataclass(frozen=True)
class Said:
    """What a dyer says of a measured sample.

    Attributes
    ----------
    piece : str
        The piece's code, as on its tag. "" asks for the next free one, or for the piece that the
        same sample of the same photo was kept with before.
    name, fibre, fibre_make, mordant, mordant_percent_wof, weight_g
        Of the piece.
    bath : str
        Code of the dye bath that the piece was in; the short way to say it as a treatment.
    treatments : tuple of SaidTreatment
        All that the piece went through before the reading, in order, or only what is new.
    state : str
        One of `dyeshade.library.shade_records.STATES`.
    read : datetime or None
        When the piece looked so; the photo's time where nothing is said.
    note : str
        On the reading.
    """

    piece: str = ""
    name: str = ""
    fibre: str = ""
    fibre_make: str = ""
    mordant: str = ""
    mordant_percent_wof: float | None = None
    weight_g: float | None = None
    bath: str = ""
    treatments: tuple[SaidTreatment, ...] = ()
    state: str = "dry"
    read: datetime | None = None
    note: str = ""
