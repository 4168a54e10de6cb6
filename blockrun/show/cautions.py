"""Cautions that print with every sheet."""

from __future__ import annotations

from typing import Final

DUST: Final = (
    "Cutting and sweeping raise dust that harms the lungs: work wet, or with a fitted respirator (P3, or N100)."
)
"""What holds back fine dust is common practice, no source."""

BURNS: Final = "Fresh mix burns skin and eyes: gloves, goggles, and water at hand to rinse at once."

CAUTIONS: Final = (
    BURNS,
    DUST,
    "A wet block or a filled mould may be too heavy for one person, or for two: lift as the notes on lifting say, by "
    "two, by three, or with a trolley or a hoist.",
    "Mixer and generator stand near water: dry leads, a residual-current breaker, no wet hands.",
    "Strength is not promised: what a block may carry, lintels and dome openings above all, a licensed engineer "
    "and the local code decide.",
)

SHORT: Final = (
    "Fresh mix burns skin and eyes. Dust when cutting, heavy lifts, electricity near water: take care. Strength is not "
    "promised: an engineer and the local code decide what a block may carry."
)
