"""What a skein label says."""

from __future__ import annotations

from dyeshade.paper.skein_labels import LabelSheet, LabelWords, SkeinLabel
from dyeshade.words.dye_words import day_words, listed


class _Words:
    """The lines of a label, in the order in which they are read."""

    def heading(self, label: SkeinLabel) -> str:
        """What the label is called by."""
        return label.name or listed(list(label.dyestuffs)).capitalize() or label.piece

    def lines(self, label: SkeinLabel, sheet: LabelSheet) -> tuple[str, ...]:
        """What is said of the skein."""
        content = sheet.content_of(label.fibre)
        weight = "" if label.weight_g is None else f"{label.weight_g:.4g} g"
        made = ", ".join(part for part in (content, label.fibre_make, weight) if part)
        dyed = f"dyed with {listed(list(label.dyestuffs))}" if label.dyestuffs else ""
        if label.mordant:
            dyed = f"{dyed}, mordant {label.mordant}" if dyed else f"mordant {label.mordant}"
        return tuple(line for line in (made, dyed, sheet.note) if line)

    def foot(self, label: SkeinLabel) -> str:
        """The lot, in one line."""
        lot = f"lot {label.lot}" if label.lot else ""
        day = "" if label.dyed is None else day_words(label.dyed)
        return " · ".join(part for part in (lot, f"piece {label.piece}", day) if part)


LABEL_WORDS: LabelWords = _Words()
"""The sentences of a label."""
