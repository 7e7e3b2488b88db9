"""What people call the kinds of records in the shade library: one of them, and several."""

from __future__ import annotations

from collections.abc import Mapping

RECORD_NAMES: Mapping[str, tuple[str, str]] = {
    "dyestuff_lot": ("lot of dyestuff", "lots of dyestuff"),
    "fibre_lot": ("lot of fibre", "lots of fibre"),
    "mordant": ("mordant", "mordants"),
    "piece": ("piece", "pieces"),
    "bath": ("bath", "baths"),
    "bath_dyestuff": ("dyestuff of a bath", "dyestuffs of baths"),
    "addition": ("addition to a bath", "additions to baths"),
    "treatment": ("treatment of a piece", "treatments of pieces"),
    "ph_reading": ("pH reading", "pH readings"),
    "photo": ("photo", "photos"),
    "calibration": ("calibration", "calibrations"),
    "sheet_reading": ("measured sheet", "measured sheets"),
    "reading": ("reading", "readings"),
    "draft": ("unsaved work", "unsaved works"),
    "bath_plan": ("plan of a bath", "plans of baths"),
    "bath_piece": ("piece in a bath's plan", "pieces in plans of baths"),
    "bath_line": ("amount in a bath's plan", "amounts in plans of baths"),
    "log_reading": ("pH in a bath's log", "pH readings in logs of baths"),
    "day_step": ("step of a dye day", "steps of dye days"),
    "dyestuff_move": ("entry in the dyestuff store", "entries in the dyestuff store"),
    "own_density": ("weight of a spoonful", "weights of spoonfuls"),
    "own_range": ("range of your own", "ranges of your own"),
    "own_yield": ("yield of your own", "yields of your own"),
    "preference": ("choice", "choices"),
    "strip_kind": ("kind of strip", "kinds of strips"),
    "commission": ("commission", "commissions"),
    "commission_result": ("dyeing for a commission", "dyeings for commissions"),
    "home_test": ("home test", "home tests"),
    "home_test_pair": ("pair of readings of a home test", "pairs of readings of home tests"),
}
"""By the kind that `dyeshade.library.tables` gives them."""
