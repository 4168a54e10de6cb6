"""Cautions that print with every sheet."""

from __future__ import annotations

from typing import Final

DUST: Final = "Cutting and sweeping raise dust that harms the lungs: wet the work or wear a mask."

CAUTIONS: Final = (
    "Fresh mix burns skin and eyes: gloves, goggles, and water at hand to rinse at once.",
    DUST,
    "A wet block or a filled mould may be too heavy for one person: lift in pairs.",
    "Mixer and generator stand near water: dry leads, a residual-current breaker, no wet hands.",
    "Strength is not promised: what a block may carry, lintels and dome openings above all, a licensed engineer "
    "and the local code decide.",
)

SHORT: Final = (
    "Fresh mix burns skin and eyes. Dust when cutting, heavy lifts, electricity near water: take care. Strength is not "
    "promised: an engineer and the local code decide what a block may carry."
)
