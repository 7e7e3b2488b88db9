"""A bath of the Hollow Weir Dye Room, invented, as it is typed."""

from __future__ import annotations

from dyeshade.work.bath_typed import (
    TypedBath,
    TypedDye,
    TypedHave,
    TypedPiece,
    TypedStep,
    TypedSubstance,
)

WELD_BATH = TypedBath(
    code="bath-001",
    pieces=(TypedPiece("W-001", "wool", "120 g"), TypedPiece("", "silk", "4 oz")),
    dyes=(TypedDye("weld", "dried", "two to one"),),
    substances=(
        TypedSubstance("alum", "15 %"),
        TypedSubstance("cream of tartar", "6 %", "wool"),
    ),
    liquor="30:1",
    pot="10 L",
    material="enamel",
    temperature="38 °C",
    target="7.5",
    alkalinity="120",
    water_ph="7.6",
    have=(
        TypedHave("soda_anhydrous_stock", "10", "millilitre", "1 ml"),
        TypedHave("vinegar", "5", "millilitre", "5 ml"),
    ),
    steps=(
        TypedStep("bath", "heat slowly", "", "45"),
        TypedStep("bath", "simmer, not boil", "80 °C", "60"),
        TypedStep("rinse", "until clear"),
    ),
)
