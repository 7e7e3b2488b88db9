"""How well a dyer repeats, and the check standard, as lines for people."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping

from dyeshade.insight.check_standard import CheckStandard
from dyeshade.insight.repeatability import Repeatability
from dyeshade.insight.variance_parts import SpreadPart
from dyeshade.words.change_words import APART
from dyeshade.words.dye_words import listed
from dyeshade.words.figure_words import DELTA_E
from dyeshade.words.sentences import counted
from dyeshade.words.shade_lines import dyestuff_names

RULES: Mapping[str, str] = {
    "beyond_limits": "beyond its limits",
    "two_of_three": "far out two times of three",
    "seven_on_one_side": "seven times on one side",
    "seven_one_way": "seven times one way",
    "jump": "a jump from the time before",
}
"""Words for each of `dyeshade.insight.control_chart.RULES`."""


def repeatability_lines(found: Repeatability) -> list[str]:
    """Spreads, and the smallest difference that can be claimed.

    Parameters
    ----------
    found : Repeatability
    """
    lines = [*spread_lines(found), "", *textwrap.wrap(claim_words(found), 90), ""]
    for group in found.groups[:10]:
        pieces = counted(group.pieces, "piece", "pieces")
        baths = counted(group.baths, "bath", "baths")
        fibre = group.conditions.fibre or "fibre not written down"
        lines.append(f"  {dyestuff_names(group.conditions)} on {fibre}: {pieces} of {baths}")
    return lines


def spread_lines(found: Repeatability) -> list[str]:
    """The parts of the spread, a line each, beneath what they come from."""
    readings = sum(len(group.reading_ids) for group in found.groups)
    conditions = counted(len(found.groups), "set of conditions", "sets of conditions")
    lines = [
        f"From {counted(readings, 'reading', 'readings')} at {conditions}, in CIEDE2000:",
        *_part("measuring (repeatability)", found.measuring, found.limit_measuring),
        *_part("between pieces of one bath", found.between_pieces, found.limit_pieces),
        *_part("between baths", found.between_baths, found.limit_baths),
    ]
    if found.between_baths is not None:
        lines.append(f"  intermediate precision: {found.intermediate_precision:.2f}")
    if found.measuring is not None and not found.measuring.stated:
        lines.append(f"  the photos themselves state {found.stated_measuring:.2f} for measuring")
    return lines


def _part(name: str, part: SpreadPart | None, limit: float | None) -> list[str]:
    return [f"  {name}: {part_words(part, limit)}"]


def part_words(part: SpreadPart | None, limit: float | None) -> str:
    """A part of the spread, as in "standard deviation 0.82 (0.60 to 1.30); two differ …"."""
    if part is None:
        return "nothing was repeated that tells"
    sure = "as the photos state" if part.stated else f"{part.low:.2f} to {part.high:.2f}"
    within = "" if limit is None else f"; two differ by up to {limit:.1f} by chance"
    return f"standard deviation {part.sd:.2f} ({sure}){within}"


def claim_words(found: Repeatability) -> str:
    """The smallest difference that can be claimed, in a sentence."""
    if found.limit_baths is None:
        return (
            "No conditions were dyed in two baths yet, so nobody knows by how much two baths "
            "differ by chance. Dye the same again."
        )
    return (
        f"The smallest difference that you can claim between two baths is {DELTA_E} "
        f"{found.limit_baths:.1f}: two baths at equal conditions stay within it 95 times in 100."
    )


def check_standard_lines(found: CheckStandard) -> list[str]:
    """Centre and limits, sessions that warn, and what changed with them.

    Parameters
    ----------
    found : CheckStandard
    """
    sessions = counted(found.learning, "session", "sessions")
    lines = [f"Check standard {found.piece}, limits from its first {sessions}:"]
    for name, chart in zip(("L*", "a*", "b*"), found.charts, strict=True):
        lines.append(
            f"  {name} centre {chart.centre:6.1f}, limits {chart.lower:6.1f} to {chart.upper:6.1f}"
        )
    warned = [session for session in found.sessions if session.warnings]
    for session in warned:
        told = listed([f"{channel} {RULES[rule]}" for channel, rule in session.warnings])
        lines.append(f"  {session.reading.read:%Y-%m-%d}: {told}{_changed(session.changed)}")
    return [*lines, check_verdict(found)]


def check_verdict(found: CheckStandard) -> str:
    """What the latest session says, in a sentence."""
    if found.warns:
        return "The latest session warns: set-up, sheet or light has moved. Measure again."
    return "The latest session is as it should be."


def _changed(changed: tuple[str, ...]) -> str:
    if not changed:
        return ""
    verb = "was" if len(changed) == 1 else "were"
    return f" ({listed([APART[name] for name in changed])} {verb} another, or not known)"
