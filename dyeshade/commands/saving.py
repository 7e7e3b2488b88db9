"""The options of ``dyeshade measure`` that keep readings, and what they say."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from dyeshade.commands.options import moment, name, number, pair, ph_read
from dyeshade.commands.telling import WrongUsage
from dyeshade.library.dye_records import AFTER_A_BATH, FORMS, IN_A_BATH, STATES, TREATMENTS

if TYPE_CHECKING:
    from dyeshade.work.assign_by_tag import ByTags
    from dyeshade.work.pieces_said import PiecesSaid
    from dyeshade.work.said import Said, SaidBath, SaidTreatment

_STEPS = tuple(kind for kind in TREATMENTS if kind not in IN_A_BATH)


def add_saving(measure: argparse.ArgumentParser) -> None:
    """Add the options to the command."""
    keep = measure.add_argument_group(
        "keeping the readings in the shade library",
        "What is said with these goes for every --piece, or, without that, for every piece whose "
        "tag is read in the photo. What the library knows of a piece or a bath need not be said "
        "again.",
    )
    keep.add_argument(
        "--save",
        type=name,
        metavar="LIBRARY",
        help="the folder of the shade library, made where there is none (default: the one that "
        "DYESHADE_LIBRARY names, or one among your documents)",
    )
    keep.add_argument(
        "--piece",
        type=pair,
        action="append",
        metavar="NAME=ID",
        help="the sample NAME is the piece ID; without =ID it gets the next free one; repeatable",
    )
    keep.add_argument(
        "--pieces", metavar="PIECES.json", help="pieces and baths described in a file, instead"
    )
    keep.add_argument(
        "--new-pieces",
        action="store_true",
        help="make pieces of tags that the library does not know",
    )
    keep.add_argument("--fibre", type=name, help="of the pieces, as wool")
    keep.add_argument("--mordant", type=name, help="of the pieces, as alum")
    keep.add_argument(
        "--wof", type=number(0), metavar="PER_CENT", help="of the mordant, to the weight of fibre"
    )
    keep.add_argument("--bath", type=name, metavar="CODE", help="the dye bath, as bath-007")
    keep.add_argument("--dyestuff", type=name, help="in that bath, as weld")
    keep.add_argument("--part", type=name, help="of the plant, as root")
    keep.add_argument("--form", choices=FORMS, help="of the dyestuff (default: dried)")
    keep.add_argument(
        "--ratio",
        type=number(0, above=True),
        help="weight of dyestuff to weight of fibre; 1 is 100 %% wof",
    )
    keep.add_argument(
        "--exhaust-of", type=name, metavar="CODE", help="the bath that this one exhausts"
    )
    keep.add_argument("--vessel", type=name, help="of the bath, as steel pot")
    keep.add_argument(
        "--treatment",
        type=pair,
        action="append",
        metavar="KIND=SUBSTANCE",
        help=f"what the pieces went through besides, in order; KIND is {', '.join(_STEPS)}; "
        "repeatable",
    )
    keep.add_argument(
        "--ph",
        type=ph_read,
        action="append",
        metavar="WHICH=VALUE",
        help="a pH that was read: extraction, bath_start or bath_end of the bath, after of the "
        "afterbath or dip, rinse of the rinse; repeatable",
    )
    keep.add_argument("--state", choices=STATES, help="of the pieces in the photo (default: dry)")
    keep.add_argument(
        "--read",
        type=moment,
        metavar="TIME",
        help="when the pieces looked so (default: the photo's time)",
    )


_OF_PIECES = (
    "fibre",
    "mordant",
    "wof",
    "bath",
    "dyestuff",
    "part",
    "form",
    "ratio",
    "exhaust_of",
    "vessel",
    "treatment",
    "ph",
    "state",
    "read",
)
_OF_A_BATH = ("dyestuff", "exhaust_of", "vessel")


def said_by(chosen: argparse.Namespace) -> PiecesSaid | ByTags | None:
    """What the options say; None where nothing is to be kept.

    Without names of samples the tags in the photos tell which piece each of them is.

    Raises
    ------
    WrongUsage
        For options that do not go together.
    DyeshadeError
        As `dyeshade.work.pieces_file.read_pieces`.
    """
    from dyeshade.work.pieces_file import read_pieces
    from dyeshade.work.pieces_said import PiecesSaid, SampleSaid

    given = [key for key in _OF_PIECES if getattr(chosen, key) is not None]
    if chosen.new_pieces and (chosen.pieces is not None or chosen.piece):
        raise WrongUsage("--new-pieces goes by tags, without --piece and --pieces")
    if chosen.pieces is not None:
        if chosen.piece or given:
            raise WrongUsage(f"--pieces and {_option(['piece', *given][-1])} do not go together")
        return read_pieces(chosen.pieces)
    if not chosen.piece:
        return _by_tags(chosen, given) if chosen.save or given or chosen.new_pieces else None
    names = [sample for sample, _ in chosen.piece]
    if len(set(names)) < len(names):
        raise WrongUsage("--piece names a sample twice")
    _check(chosen, given)
    samples = tuple(SampleSaid(sample, _said(chosen, piece)) for sample, piece in chosen.piece)
    return PiecesSaid(samples, _baths(chosen))


def _by_tags(chosen: argparse.Namespace, given: list[str]) -> ByTags:
    from dyeshade.work.assign_by_tag import ByTags

    _check(chosen, given)
    return ByTags(_said(chosen), _baths(chosen), chosen.new_pieces)


def _said(chosen: argparse.Namespace, piece: str = "") -> Said:
    from dyeshade.work.said import Said

    return Said(
        piece=piece,
        fibre=chosen.fibre or "",
        mordant=chosen.mordant or "",
        mordant_percent_wof=chosen.wof,
        bath=chosen.bath or "",
        treatments=_treatments(chosen),
        state=chosen.state or "dry",
        read=chosen.read,
    )


def _check(chosen: argparse.Namespace, given: list[str]) -> None:
    for key in _OF_A_BATH:
        if key in given and not chosen.bath:
            raise WrongUsage(f"{_option(key)} needs --bath")
    for key in ("part", "form", "ratio"):
        if key in given and not chosen.dyestuff:
            raise WrongUsage(f"{_option(key)} needs --dyestuff")
    if chosen.wof is not None and not chosen.mordant:
        raise WrongUsage("--wof needs --mordant")
    which = [one for one, _ in chosen.ph or ()]
    if len(set(which)) < len(which):
        raise WrongUsage("--ph tells the same pH twice")
    kinds = [kind for kind, _ in chosen.treatment or ()]
    for kind in kinds:
        if kind not in _STEPS:
            raise WrongUsage(f"--treatment {kind}: give one of {', '.join(_STEPS)}")
    for one in which:
        if one == "after" and not set(kinds) & set(AFTER_A_BATH):
            raise WrongUsage("--ph after needs --treatment afterbath or --treatment dip")
        if one == "rinse" and "rinse" not in kinds:
            raise WrongUsage("--ph rinse needs --treatment rinse")
        if one not in ("after", "rinse") and not chosen.bath:
            raise WrongUsage(f"--ph {one} needs --bath")


def _baths(chosen: argparse.Namespace) -> tuple[SaidBath, ...]:
    from dyeshade.work.said import SaidBath, SaidDye

    if not chosen.bath:
        return ()
    phs = tuple(one for one in chosen.ph or () if one[0] not in ("after", "rinse"))
    dyes: tuple[SaidDye, ...] = ()
    if chosen.dyestuff:
        dyes = (SaidDye(chosen.dyestuff, chosen.part or "", chosen.form or "", chosen.ratio),)
    return (
        SaidBath(
            chosen.bath,
            dyes,
            chosen.exhaust_of or "",
            vessel=chosen.vessel or "",
            phs=phs,
        ),
    )


def _treatments(chosen: argparse.Namespace) -> tuple[SaidTreatment, ...]:
    from dyeshade.work.said import SaidTreatment

    phs = dict(chosen.ph or ())
    steps = [SaidTreatment(kind, substance=what) for kind, what in chosen.treatment or ()]
    for which, kinds in (("after", AFTER_A_BATH), ("rinse", ("rinse",))):
        # The pH is that of the last of its kind.
        for place in range(len(steps) - 1, -1, -1):
            if which in phs and steps[place].kind in kinds:
                steps[place] = SaidTreatment(
                    steps[place].kind, substance=steps[place].substance, ph=phs.pop(which)
                )
    return tuple(steps)


def _option(key: str) -> str:
    return "--" + key.replace("_", "-")
