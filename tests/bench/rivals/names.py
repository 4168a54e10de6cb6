"""What the rivals are called."""

from typing import Final

RIVALS: Final = ("foreman", "textbook", "days-highs", "days-scip")
