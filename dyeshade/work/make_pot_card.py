"""Makes pot cards: a bath worked out for the fibre at hand, with what is wanted of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from dyeshade.bath.amounts import BathPlan
from dyeshade.bath.ceilings import OwnBounds, PhRange, acid_for, range_for_all
from dyeshade.bath.fibres import find_fibre
from dyeshade.bath.hazards import FOAMING, cautions_for, vinegar_cautions
from dyeshade.bath.substances import find_substance
from dyeshade.bath.units import METRIC
from dyeshade.bath.work_out import BathAsked, work_out
from dyeshade.errors import Notice
from dyeshade.library.trial_records import Commission
from dyeshade.paper.paper_page import LaidPages, write_pages_pdf
from dyeshade.paper.pot_card import PotCard, lay_out_pot_cards
from dyeshade.paper.shade_card import Paper
from dyeshade.work.make_tags import MadePaper


@dataclass(frozen=True)
class PotStep:
    """A step at the pot; what is None is left blank, to be filled in.

    Attributes
    ----------
    what : str
        In the dyer's own words, or one of `STEPS`, which the top floor words.
    temperature_c, minutes : float or None
    treatment : str
        One of `dyeshade.library.dye_records.TREATMENTS`, or "" where the words say it.
    substance, amount, unit
        What goes in, as "white vinegar", 10, "ml/l".
    ph : float or None
        Read after it.
    """

    what: str
    temperature_c: float | None = None
    minutes: float | None = None
    treatment: str = ""
    substance: str = ""
    amount: float | None = None
    unit: str = ""
    ph: float | None = None


STEPS = ("wet_out", "mordant", "dissolve", "dye", "cool", "rinse", "dry")
"""Steps that every bath has, in their order; without a mordant that one is left out."""


@dataclass(frozen=True)
class PotAddition:
    """What goes in on the way to a pH: last time so much of it, and the pH read after it.

    `percent` is what the label of a vinegar or stock solution says, where that is known.
    """

    substance: str
    amount: float | None = None
    unit: str = ""
    ph_after: float | None = None
    percent: float | None = None


@dataclass(frozen=True)
class WantedShade:
    """The shade that is wanted: L*, a*, b*; sRGB 0..255; of which piece, "" where of none."""

    lab: tuple[float, float, float]
    rgb: tuple[int, int, int]
    in_gamut: bool = True
    piece: str = ""


@dataclass(frozen=True)
class PotSource:
    """Where a pot card's bath and shade come from, as far as the card tells it.

    Attributes
    ----------
    bath : str
        Code of a kept bath, "" for none.
    exhausts : str
        Code of the bath whose liquor it is in, "" for none.
    left_share : float or None
        What is left of that one's dyestuff.
    commission : Commission or None
    nearest : str
        Code of the piece whose bath was taken, since its shade comes nearest to the agreed one.
    nearest_delta_e : float or None
        How near, CIEDE2000.
    """

    bath: str = ""
    exhausts: str = ""
    left_share: float | None = None
    commission: Commission | None = None
    nearest: str = ""
    nearest_delta_e: float | None = None


@dataclass(frozen=True)
class PotAsked:
    """What a pot card is asked for.

    Attributes
    ----------
    bath : BathAsked
        Fibre and recipe; of one student, for a class.
    title, maker : str
    students : int
        How many do the same, each in a pot of their own; 1 for no class.
    temperature_c, minutes : float or None
        Of the dye bath.
    steps : tuple of PotStep
        Instead of the usual ones.
    afters : tuple of PotStep
        What follows the bath, as a dip or a rinse with something in it.
    phs : tuple of (which, pH)
        Those wanted; which is one of `dyeshade.library.dye_records.WHICH_PH`.
    additions : tuple of PotAddition
    bounds : OwnBounds or None
        How far the dyer lets the pH go, where they have said so.
    wanted : WantedShade or None
    source : PotSource
    notices : tuple of Notice
        What is not known of the bath.
    paper : str
    system : str
        Units that come first.
    """

    bath: BathAsked
    title: str = ""
    maker: str = ""
    students: int = 1
    temperature_c: float | None = None
    minutes: float | None = None
    steps: tuple[PotStep, ...] = ()
    afters: tuple[PotStep, ...] = ()
    phs: tuple[tuple[str, float], ...] = ()
    additions: tuple[PotAddition, ...] = ()
    bounds: OwnBounds | None = None
    wanted: WantedShade | None = None
    source: PotSource = PotSource()
    notices: tuple[Notice, ...] = ()
    paper: Paper = "A4"
    system: str = METRIC


@dataclass(frozen=True)
class PotPlan:
    """What stands on the card of one pot, as values.

    Attributes
    ----------
    asked : PotAsked
    plan : BathPlan
        Of this pot.
    pot, pots : int
        Its number, from 1, and how many there are.
    steps : tuple of PotStep
    ph_range : PhRange or None
        What the fibre in the pot bears at the bath's temperature, where that is known.
    notices : tuple of Notice
        What is unusual about the amounts.
    cautions : tuple of Notice
    """

    asked: PotAsked
    plan: BathPlan
    pot: int
    pots: int
    steps: tuple[PotStep, ...]
    ph_range: PhRange | None = None
    notices: tuple[Notice, ...] = ()
    cautions: tuple[Notice, ...] = field(default=())


PotWords = Callable[[PotPlan], PotCard]
"""Words a pot's plan."""


def make_pot_card(asked: PotAsked, out: str | Path, words: PotWords) -> MadePaper:
    """Write pot cards as a PDF, a page for each pot that the fibre needs.

    Parameters
    ----------
    asked : PotAsked
    out : str or Path
        An older file there is replaced once the new one is whole.
    words : PotWords

    Raises
    ------
    DyeshadeError
        As `dyeshade.bath.work_out.work_out`; ``bath_temperature``, ``ph_off_scale``;
        ``cannot_write`` (path, reason).
    """
    laid = laid_pot_cards(asked, words)
    write_pages_pdf(laid, out)
    return MadePaper(len(laid.pages), len(laid.pages), laid.missing)


def laid_pot_cards(asked: PotAsked, words: PotWords) -> LaidPages:
    """The same, not written yet; for a preview."""
    return lay_out_pot_cards([words(one) for one in pot_plans(asked)], asked.paper)


def pot_plans(asked: PotAsked) -> tuple[PotPlan, ...]:
    """What stands on each pot's card."""
    bath = work_out(asked.bath)
    plans = bath.pots or (bath.plan,)
    added = [one.substance for one in asked.additions]
    material = "" if asked.bath.pot is None else asked.bath.pot.material
    return tuple(
        PotPlan(
            asked,
            plan,
            number,
            len(plans),
            asked.steps or _usual_steps(asked),
            _borne(plan, asked),
            (*asked.notices, *bath.plan.notices),
            (
                *cautions_for(
                    plan, material, asked.bath.foraged, asked.bath.hot, _in_reach(plan, added)
                ),
                *_acids(plan, added),
                *vinegar_cautions(one.percent for one in asked.additions if _is_vinegar(one)),
            ),
        )
        for number, plan in enumerate(plans, 1)
    )


def _usual_steps(asked: PotAsked) -> tuple[PotStep, ...]:
    left_out = set() if asked.bath.recipe.substances else {"mordant"}
    if any(one.treatment == "rinse" for one in asked.afters):
        left_out.add("rinse")
    steps: list[PotStep] = []
    for one in STEPS:
        if one not in left_out:
            held = (asked.temperature_c, asked.minutes) if one == "dye" else (None, None)
            steps.append(PotStep(one, *held))
        if one == "cool":
            steps += asked.afters
    return tuple(steps)


def _borne(plan: BathPlan, asked: PotAsked) -> PhRange | None:
    """What all fibres in a pot bear together."""
    if asked.temperature_c is None:
        return None
    kinds = list(dict.fromkeys(find_fibre(piece.fibre).bears_as for piece in plan.pieces))
    return range_for_all(kinds, asked.temperature_c, asked.bounds)


def _in_reach(plan: BathPlan, added: Sequence[str]) -> Sequence[str]:
    """What goes in, and vinegar where there is soda.

    Whoever goes too far with soda reaches for it, and the card has lines to write it on.
    """
    found = map(find_substance, (*(line.name for line in plan.lines), *added))
    foams = FOAMING.intersection(one.name for one in found if one is not None)
    return (*added, "vinegar") if foams else added


def _acids(plan: BathPlan, added: Sequence[str]) -> tuple[Notice, ...]:
    kinds = dict.fromkeys(find_fibre(piece.fibre).bears_as for piece in plan.pieces)
    acids = [one for one in added if one in ("citric acid", "cream of tartar")]
    told = [notice for kind in kinds for acid in acids for notice in acid_for(kind, acid)]
    return tuple(told[:1])


def _is_vinegar(addition: PotAddition) -> bool:
    found = find_substance(addition.substance)
    return found is not None and found.name == "vinegar"
