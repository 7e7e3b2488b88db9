"""``dyeshade tags``: tags and skein labels for pieces, new pieces by the dozen with them."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from dyeshade.commands.options import name, number, pair, whole
from dyeshade.commands.telling import ALL_DONE, SOME_NOT, WrongUsage, tell
from dyeshade.errors import DyeshadeError
from dyeshade.paper.shade_card import PAPERS
from dyeshade.paper.tag_sheet import TAG_SIZES
from dyeshade.words.refusals import refusal_text

if TYPE_CHECKING:
    from dyeshade.library.library import Library
    from dyeshade.work.make_tags import MadePaper

_MOST_COPIES = 100


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    tags = commands.add_parser(
        "tags",
        help="make tags and skein labels for pieces",
        description="Make tags with the ids of pieces, to read and as codes that are read from "
        "photos, or labels for skeins that are sold, as a PDF.",
        epilog="Ends with 0 when they were made, 1 when they were not, 2 for wrong usage.",
        allow_abbrev=False,
    )
    tags.add_argument(
        "--library",
        type=name,
        metavar="LIBRARY",
        help="the folder of the shade library (default: the one that DYESHADE_LIBRARY names, or "
        "one among your documents)",
    )
    which = tags.add_argument_group("of which pieces")
    which.add_argument(
        "--piece", type=name, action="append", metavar="ID", help="of this piece; repeatable"
    )
    which.add_argument(
        "--new", type=whole, metavar="N", help="of N pieces that are made for it, as for a class"
    )
    which.add_argument("--fibre", type=name, help="of the new pieces, as wool")
    which.add_argument("--mordant", type=name, help="of the new pieces, as alum")
    which.add_argument(
        "--wof", type=number(0), metavar="PER_CENT", help="of that mordant, to the weight of fibre"
    )
    which.add_argument(
        "--weight",
        type=number(0, above=True),
        metavar="GRAMS",
        help="of each new piece, dry, after scouring",
    )
    which.add_argument(
        "--name",
        type=name,
        action="append",
        metavar="NAME",
        help="names a new piece, as after a student; repeatable",
    )
    looks = tags.add_argument_group("how they look")
    looks.add_argument("--paper", choices=PAPERS, default="A4", help="(default: A4)")
    looks.add_argument("--size", choices=TAG_SIZES, help="21, 27 or 36 mm wide (default: small)")
    looks.add_argument("--copies", type=whole, metavar="N", help="tags for each piece (default: 1)")
    looks.add_argument(
        "--label", action="store_true", help="labels for skeins that are sold instead of tags"
    )
    looks.add_argument("--maker", type=name, help="who made them, on labels")
    looks.add_argument(
        "--content",
        type=pair,
        action="append",
        metavar="FIBRE=WORDS",
        help='what labels say of a fibre, as "wool=100 %% wool"; repeatable',
    )
    looks.add_argument("--note", type=name, help="a line more on labels, as how to wash them")
    tags.add_argument("--out", required=True, metavar="TAGS.pdf", help="where they go")
    tags.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Make the tags or labels.

    Raises
    ------
    WrongUsage
        For options that do not go together.
    """
    from dyeshade.library.library import open_library, open_or_create
    from dyeshade.words.papers import made_words, missing_on_paper, new_pieces_words
    from dyeshade.work.library_place import library_folder

    _check(chosen)
    folder = chosen.library or library_folder()
    try:
        opened = open_or_create(folder) if chosen.new else open_library(folder, read_only=True)
        with opened as library:
            pieces, made = _made(chosen, library)
    except DyeshadeError as error:
        tell(refusal_text(error))
        return SOME_NOT
    tell(made_words(made.count, made.pages, "label" if chosen.label else "tag", chosen.out))
    if chosen.new:
        tell(new_pieces_words(pieces))
    if made.missing:
        tell(missing_on_paper(made.missing))
    return ALL_DONE


def _check(chosen: argparse.Namespace) -> None:
    from dyeshade.work.make_pieces import MOST_AT_ONCE

    if (chosen.piece is None) == (chosen.new is None):
        raise WrongUsage("tell which pieces: --piece ID, or --new N")
    if chosen.new is not None and not 1 <= chosen.new <= MOST_AT_ONCE:
        raise WrongUsage(f"--new makes 1 to {MOST_AT_ONCE} pieces")
    if chosen.copies is not None and not 1 <= chosen.copies <= _MOST_COPIES:
        raise WrongUsage(f"--copies are 1 to {_MOST_COPIES}")
    if chosen.new is None:
        for option in ("fibre", "mordant", "weight", "name"):
            if getattr(chosen, option) is not None:
                raise WrongUsage(f"--{option} is of new pieces: give --new")
    elif chosen.name and len(chosen.name) > chosen.new:
        raise WrongUsage("there are more names than new pieces")
    if chosen.wof is not None and not chosen.mordant:
        raise WrongUsage("--wof needs --mordant")
    for option in ("maker", "content", "note"):
        if getattr(chosen, option) is not None and not chosen.label:
            raise WrongUsage(f"--{option} stands on labels: give --label")
    for option in ("size", "copies"):
        if getattr(chosen, option) is not None and chosen.label:
            raise WrongUsage(f"--{option} is of tags, not of labels")


def _made(chosen: argparse.Namespace, library: Library) -> tuple[Sequence[str], MadePaper]:
    """Codes of the pieces, and what was made for them."""
    from dyeshade.work.make_pieces import make_pieces_with
    from dyeshade.work.said import Said

    if chosen.new is None:
        return chosen.piece, _paper(chosen, library, chosen.piece)
    said = Said(
        fibre=chosen.fibre or "",
        mordant=chosen.mordant or "",
        mordant_percent_wof=chosen.wof,
        weight_g=chosen.weight,
    )
    make = partial(_paper, chosen, library)
    pieces, made = make_pieces_with(library, chosen.new, said, chosen.name or (), make)
    return pieces.codes, made


def _paper(chosen: argparse.Namespace, library: Library, pieces: Sequence[str]) -> MadePaper:
    from dyeshade.paper.skein_labels import LabelSheet
    from dyeshade.paper.tag_sheet import TagSheet
    from dyeshade.words.skein_labels import LABEL_WORDS
    from dyeshade.work.make_tags import make_labels, make_tags

    if not chosen.label:
        sheet = TagSheet(chosen.paper, chosen.size or "small")
        return make_tags(library, pieces, sheet, chosen.out, chosen.copies or 1)
    labels = LabelSheet(
        chosen.paper, chosen.maker or "", tuple(chosen.content or ()), chosen.note or ""
    )
    return make_labels(library, pieces, labels, chosen.out, LABEL_WORDS)
