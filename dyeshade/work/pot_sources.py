"""Pot cards for a kept bath, planned or done, and for a commission."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from dyeshade.bath.additives import additive
from dyeshade.bath.fibres import guess_fibre
from dyeshade.bath.recipe import PieceInPot, Recipe, SubstanceShare
from dyeshade.bath.work_out import with_yields
from dyeshade.cie.rgb_spaces import lab_to_srgb
from dyeshade.errors import DyeshadeError, Notice
from dyeshade.library.baths import WholeBath, find_bath, whole_baths
from dyeshade.library.dye_records import Piece
from dyeshade.library.history import histories
from dyeshade.library.library import Library
from dyeshade.library.readings import readings_of
from dyeshade.library.shade_records import Reading
from dyeshade.library.trials import find_commission
from dyeshade.work.bath_typed import TypedBath
from dyeshade.work.commission_again import dyed_like
from dyeshade.work.kept_plan import kept_plan, own_figures
from dyeshade.work.make_pot_card import PotAddition, PotAsked, PotSource, PotStep, WantedShade
from dyeshade.work.ph_typed import SPOONED_AS, ReadPh, own_bounds, read_ph_typed
from dyeshade.work.pot_like import (
    additions_done,
    asked_like,
    bath_before,
    first_known,
    latest_shade,
    mordant_of,
    wanted_of,
    without_ratio,
)
from dyeshade.work.read_bath import ReadBath, read_typed

_UNNEEDED = ("code", "pieces", "taken", "left")
"""Fields of a bath that a card does without where they cannot be read."""


def asked_of_bath(library: Library, code: str, asked: PotAsked) -> PotAsked:
    """A pot card for a kept bath: one that is planned, or one that was done and is done again.

    Fibre, recipe, pot, steps, pH and additions are the bath's. What `asked` says goes before.

    Parameters
    ----------
    library : Library
    code : str
        The bath's.
    asked : PotAsked
        Its pieces may be none: then those of the bath are meant.

    Raises
    ------
    DyeshadeError
        ``bath_unknown``; ``no_fibre``; what is wrong with a field of the plan.
    """
    bath = find_bath(library, code)
    whole = whole_baths(library, [bath.id])[bath.id]
    typed = kept_plan(library, bath.id).typed
    told, unknown = _without_unknown(typed)
    read, ph, own = read_typed(told), read_ph_typed(told), own_figures(library)
    for wrong in (*read.wrong, *ph.wrong):
        if wrong.field.partition(".")[0] not in _UNNEEDED:
            raise wrong.error
    pieces = asked.bath.pieces or read.pieces
    if not pieces:
        raise DyeshadeError("no_fibre")
    given = asked.bath.recipe
    kept_c = first_known(ph.temperature_c, bath.temperature_c)
    were_in = library.where(
        Piece, "id IN (SELECT piece_id FROM treatment WHERE bath_id = ?)", (bath.id,), "id"
    )
    substances = read.recipe.substances or _mordants_of(library, were_in)
    recipe = Recipe(
        given.dyestuffs or tuple(with_yields(read.recipe.dyestuffs, own.yields)),
        given.substances or substances,
        given.liquor_ratio or read.recipe.liquor_ratio or bath.liquor_ratio,
    )
    return replace(
        asked,
        bath=replace(
            asked.bath,
            pieces=pieces,
            recipe=recipe,
            pot=asked.bath.pot or read.pot,
            whole=asked.bath.whole and not told.loose,
            foraged=asked.bath.foraged or told.foraged,
            ranges=own.ranges,
        ),
        temperature_c=first_known(asked.temperature_c, kept_c),
        minutes=first_known(asked.minutes, bath.minutes),
        steps=asked.steps or _steps(read),
        phs=asked.phs or _phs(whole, ph),
        additions=asked.additions or _additions(whole, told),
        bounds=asked.bounds or own_bounds(ph, told),
        wanted=asked.wanted or _came_out(library, bath.id, were_in),
        source=replace(
            asked.source,
            bath=bath.code,
            exhausts=told.exhaust_of,
            left_share=read.left_share,
        ),
        notices=(*asked.notices, *unknown),
    )


def asked_of_commission(library: Library, code: str, asked: PotAsked) -> PotAsked:
    """A pot card for a commission: the agreed shade on the agreed weight of fibre.

    The bath is that of the piece of `dyeshade.work.commission_again.dyed_like`. What `asked` says
    goes before, fibre and recipe too.

    Parameters
    ----------
    library : Library
    code : str
        The commission's.
    asked : PotAsked
        Its pieces may be none: then the commission's weight of the fibre of that piece is meant.

    Raises
    ------
    DyeshadeError
        ``no_fibre``; as `dyed_like`.
    """
    one = find_commission(library, code)
    rgb, in_gamut = lab_to_srgb(one.lab)
    wanted = WantedShade(one.lab, rgb, in_gamut)
    pieces = asked.bath.pieces
    if pieces and asked.bath.recipe.dyestuffs:
        return replace(asked, wanted=asked.wanted or wanted, source=PotSource(commission=one))
    like = dyed_like(library, one.code)
    reading = library.the(Reading, like.reading_id)
    history = histories(library, [reading.piece_id])[reading.piece_id]
    if like.reading_id == one.reading_id:
        wanted, source = replace(wanted, piece=like.piece), PotSource(commission=one)
    else:
        source = PotSource(commission=one, nearest=like.piece, nearest_delta_e=like.delta_e)
    if not pieces:
        kind = guess_fibre(history.fibre.name) if history.fibre is not None else None
        if kind is None or one.weight_g is None:
            raise DyeshadeError("no_fibre")
        pieces = (PieceInPot(kind.name, one.weight_g),)
    asked = replace(asked, wanted=asked.wanted or wanted, source=source)
    return asked_like(library, like.piece, pieces, asked, like.reading_id)


def _without_unknown(typed: TypedBath) -> tuple[TypedBath, list[Notice]]:
    """A bath without dyestuffs of which nobody wrote down how much; and a word for each."""
    unknown = [row for row in typed.dyes if row.name.strip() and not row.ratio.strip()]
    dyes = tuple(row for row in typed.dyes if row not in unknown)
    return replace(typed, dyes=dyes), [without_ratio(row.name) for row in unknown]


def _mordants_of(library: Library, pieces: Sequence[Piece]) -> tuple[SubstanceShare, ...]:
    """The mordant of pieces, where all had the same."""
    found = histories(library, [one.id for one in pieces]).values()
    shares = {mordant_of(history) for history in found}
    return next(iter(shares)) if len(shares) == 1 else ()


def _came_out(library: Library, bath_id: int, pieces: Sequence[Piece]) -> WantedShade | None:
    """The shade of the first piece of which this was the last bath; None before any was read."""
    for piece in pieces:
        if readings_of(library, piece.id):
            found = latest_shade(library, piece.code)
            last = bath_before(found)
            if last is not None and last.bath.id == bath_id:
                return wanted_of(found)
    return None


def _steps(read: ReadBath) -> tuple[PotStep, ...]:
    return tuple(
        PotStep(one.what, one.temperature_c, one.minutes, one.treatment) for one in read.steps
    )


def _phs(whole: WholeBath, ph: ReadPh) -> tuple[tuple[str, float], ...]:
    if ph.target is not None:
        return (("bath_start", ph.target),)
    each = [(which, whole.ph(which)) for which in ("extraction", "bath_start", "bath_end")]
    return tuple((which, value) for which, value in each if value is not None)


def _additions(whole: WholeBath, typed: TypedBath) -> tuple[PotAddition, ...]:
    """What went in; before anything has, what there is to move the pH with."""
    done = additions_done(whole)
    if done or not typed.target.strip():
        return done
    have = [
        additive(row.additive, float(row.percent) if row.percent.strip() else None)
        for row in typed.have
    ]
    return tuple(
        dict.fromkeys(
            PotAddition(
                SPOONED_AS.get(one.substance, one.substance),
                percent=one.percent if one.substance == "vinegar" else None,
            )
            for one in have
        )
    )
