"""How commands that ask the shade library a question take it and print the answer."""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, TypeVar

from dyeshade.commands.asking import add_question
from dyeshade.commands.options import name
from dyeshade.commands.telling import ALL_DONE, SOME_NOT, tell
from dyeshade.errors import DyeshadeError
from dyeshade.words.refusals import refusal_text

if TYPE_CHECKING:
    from dyeshade.library.library import Library

Answer = TypeVar("Answer")

ENDS = (
    "Ends with 0 when there is an answer, 1 when there is none or the library cannot be read, 2 "
    "for wrong usage."
)


def asking_parser(
    commands: argparse._SubParsersAction[argparse.ArgumentParser],
    command: str,
    short: str,
    description: str,
    of_shades: bool = False,
) -> argparse.ArgumentParser:
    """A parser with ``--library`` and ``--json``; `of_shades` adds which shades are asked for."""
    parser = commands.add_parser(
        command, help=short, description=description, epilog=ENDS, allow_abbrev=False
    )
    if of_shades:
        add_question(parser.add_argument_group("which shades"))
    else:
        parser.add_argument(
            "--library",
            type=name,
            metavar="LIBRARY",
            help="the folder of the shade library (default: the one that DYESHADE_LIBRARY names, "
            "or one among your documents)",
        )
    parser.add_argument(
        "--json", action="store_true", help="one JSON object a line instead of sentences"
    )
    return parser


def answer(
    chosen: argparse.Namespace,
    ask: Callable[[Library], Answer],
    lines: Callable[[Answer], Sequence[str]],
    records: Callable[[Answer], Sequence[dict[str, object]]],
    read_only: bool = True,
) -> int:
    """Ask the library, and print the answer for people or for programs.

    `read_only` is False for what writes something down in it as well.
    """
    from dyeshade.library.library import open_library
    from dyeshade.work.library_place import library_folder

    try:
        with open_library(chosen.library or library_folder(), read_only=read_only) as library:
            found = ask(library)
    except DyeshadeError as error:
        tell(refusal_text(error))
        return SOME_NOT
    if chosen.json:
        for record in records(found):
            print(json.dumps(record, allow_nan=False))
    else:
        print("\n".join(lines(found)))
    return ALL_DONE
