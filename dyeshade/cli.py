"""The command line: hands what was typed to one of the commands, and ends as it says."""

from __future__ import annotations

import argparse
import io
import os
import sys
from collections.abc import Sequence

from dyeshade import __version__
from dyeshade.commands import (
    bath,
    calibrate,
    card,
    check_standard,
    commission,
    demo,
    drift,
    fastness,
    home_test,
    measure,
    nearest,
    ph_series,
    piece_sheet,
    pot_card,
    read_again,
    repeatability,
    shades,
    sheet,
    tags,
)
from dyeshade.commands.telling import INTERRUPTED, SOME_NOT, WrongUsage

COMMANDS = (
    sheet,
    measure,
    calibrate,
    shades,
    card,
    tags,
    pot_card,
    piece_sheet,
    demo,
    bath,
    drift,
    fastness,
    home_test,
    ph_series,
    nearest,
    commission,
    repeatability,
    check_standard,
    read_again,
)
"""Modules of `dyeshade.commands`, in the order in which ``--help`` lists them."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command ``dyeshade``.

    Parameters
    ----------
    arguments : sequence of str, optional
        As after the command's name; those of the process unless told.

    Returns
    -------
    int
        0 all done, 1 some photos not measured or a file not written, 2 wrong usage,
        130 interrupted.

    Raises
    ------
    SystemExit
        By argparse: with 2 for wrong usage, with 0 after ``--help`` and ``--version``.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A file's name may hold what the terminal's encoding does not.
            stream.reconfigure(errors="backslashreplace")
    parser = _parser()
    chosen = parser.parse_args(arguments)
    try:
        code: int = chosen.run(chosen)
        # A pipe that was closed early shows when what is left is written.
        sys.stdout.flush()
    except WrongUsage as wrong:
        parser.error(str(wrong))
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        # Whoever read our output has gone, as `head` does; Python would complain once more at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return SOME_NOT
    return code


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="dyeshade",
        description="From a photo of dyed pieces beside a printed grey reference to their shades.",
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"dyeshade {__version__}")
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")
    for command in COMMANDS:
        command.add_to(commands)
    return parser
