"""``dyeshade bath``: the dye bath, each question a command of its own below it."""

from __future__ import annotations

import argparse

from dyeshade.commands import bath_amounts, bath_ph, bath_strip

QUESTIONS = (bath_amounts, bath_ph, bath_strip)
"""Modules of `dyeshade.commands`, in the order in which ``--help`` lists them."""


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    bath = commands.add_parser(
        "bath",
        help="weigh out a dye bath",
        description="Questions to answer before and during a dye bath.",
        allow_abbrev=False,
    )
    questions = bath.add_subparsers(title="questions", required=True, metavar="QUESTION")
    for question in QUESTIONS:
        question.add_to(questions)
