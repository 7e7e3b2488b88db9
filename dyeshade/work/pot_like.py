"""A pot card for the shade of a kept piece again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from dyeshade.bath.recipe import DyestuffShare, PieceInPot, Recipe, SubstanceShare
from dyeshade.bath.work_out import BathAsked
from dyeshade.errors import DyeshadeError, Notice
from dyeshade.library.baths import WholeBath
from dyeshade.library.dye_records import WHICH_PH
from dyeshade.library.find import FoundShade, found_shades
from dyeshade.library.history import History
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.shade_records import Reading
from dyeshade.library.trials import readings_of_whole
from dyeshade.work.make_pot_card import PotAddition, PotAsked, PotStep, WantedShade

_AFTERS = ("dip", "afterbath", "rinse")


def asked_like(
    library: Library,
    piece: str,
    pieces: Sequence[PieceInPot],
    asked: PotAsked | None = None,
    reading_id: int | None = None,
) -> PotAsked:
    """A pot card for the shade of a kept piece again, on other fibre.

    Dyestuffs, liquor ratio, temperature, time, additions and pH are those of the piece's last bath
    before its latest dry reading, the mordant is the piece's, the wanted shade that reading.
    What `asked` says goes before.

    Parameters
    ----------
    library : Library
    piece : str
        Its code.
    pieces : sequence of PieceInPot
        The fibre at hand.
    asked : PotAsked, optional
    reading_id : int, optional
        Its reading that is meant; the latest dry one unless told.

    Raises
    ------
    DyeshadeError
        ``piece_unknown`` (piece, near); ``piece_not_dyed`` (piece) where no bath or no reading of
        it is kept.
    """
    if reading_id is None:
        found = latest_shade(library, piece)
    else:
        (found,) = found_shades(library, [library.the(Reading, reading_id)])
    whole = bath_before(found)
    if whole is None:
        raise DyeshadeError("piece_not_dyed", piece=found.history.piece.code)
    dyestuffs = tuple(
        DyestuffShare(lot.name, ratio, lot.form) for lot, ratio in whole.dyestuffs if ratio
    )
    unknown = tuple(without_ratio(lot.name) for lot, ratio in whole.dyestuffs if not ratio)
    given = asked or PotAsked(BathAsked(tuple(pieces), Recipe()))
    recipe = given.bath.recipe
    phs = [(which, found.conditions.ph(which)) for which in WHICH_PH]
    return replace(
        given,
        bath=replace(
            given.bath,
            pieces=tuple(pieces),
            recipe=Recipe(
                recipe.dyestuffs or dyestuffs,
                recipe.substances or mordant_of(found.history),
                recipe.liquor_ratio or whole.bath.liquor_ratio,
            ),
        ),
        temperature_c=first_known(given.temperature_c, whole.bath.temperature_c),
        minutes=first_known(given.minutes, whole.bath.minutes),
        phs=given.phs or tuple((which, ph) for which, ph in phs if ph is not None),
        afters=given.afters or _afters(found),
        additions=given.additions or additions_done(whole),
        wanted=given.wanted or wanted_of(found),
        notices=given.notices
        if recipe.dyestuffs
        else (*given.notices, *unknown, *_exhausted(whole), *_over(found)),
    )


def _exhausted(whole: WholeBath) -> tuple[Notice, ...]:
    number = whole.bath.exhaust_number
    return (Notice("shade_of_an_exhaust_bath", {"number": number}),) if number else ()


def _over(found: FoundShade) -> tuple[Notice, ...]:
    """That a piece was dyed before its last bath."""
    names = [dye.name for bath in found.conditions.baths[:-1] for dye in bath.dyes]
    return (Notice("shade_over_earlier_baths", {"dyestuffs": names}),) if names else ()


def _afters(found: FoundShade) -> tuple[PotStep, ...]:
    """What a piece went through after its last bath that had something in it."""
    steps = found.history.before(found.reading)
    last = max(place for place, step in enumerate(steps) if step.bath is not None)
    return tuple(
        PotStep(
            "",
            step.treatment.temperature_c,
            step.treatment.minutes,
            step.treatment.kind,
            step.treatment.substance,
            step.treatment.amount,
            step.treatment.unit,
            step.ph,
        )
        for step in steps[last + 1 :]
        if step.treatment.kind in _AFTERS and step.treatment.substance
    )


def wanted_of(found: FoundShade) -> WantedShade:
    """A kept shade as the wanted one."""
    reading = found.reading
    red, green, blue = bytes.fromhex(reading.srgb.removeprefix("#"))
    return WantedShade(reading.lab, (red, green, blue), reading.in_gamut, found.history.piece.code)


def latest_shade(library: Library, code: str) -> FoundShade:
    """The shade of a piece when it was read last, dry where it ever was."""
    piece = find_piece(library, code)
    readings = readings_of_whole(library, piece.id)
    dry = [one for one in readings if one.state != "wet"] or readings
    if not dry:
        raise DyeshadeError("piece_not_dyed", piece=piece.code)
    return found_shades(library, [max(dry, key=lambda one: (one.read, one.id))])[0]


def bath_before(found: FoundShade) -> WholeBath | None:
    """The last bath that a piece was in before it was read."""
    steps = [step for step in found.history.before(found.reading) if step.bath is not None]
    return steps[-1].bath if steps else None


def mordant_of(history: History) -> tuple[SubstanceShare, ...]:
    """A piece's mordant as a share of its weight; none where that is not known."""
    mordant = history.mordant
    if mordant is None or not mordant.percent_wof:
        return ()
    return (SubstanceShare(mordant.name, mordant.percent_wof / 100),)


def additions_done(whole: WholeBath) -> tuple[PotAddition, ...]:
    """What was added to a bath, with the pH after it."""
    return tuple(
        PotAddition(one.substance, one.amount, one.unit, one.ph_after, one.percent)
        for one in whole.additions
    )


def without_ratio(dyestuff: str) -> Notice:
    """That nobody wrote down how much of a dyestuff there was."""
    return Notice("dyestuff_without_ratio", {"dyestuff": dyestuff})


def first_known(given: float | None, kept: float | None) -> float | None:
    """The value that was given, else the kept one."""
    return kept if given is None else given
