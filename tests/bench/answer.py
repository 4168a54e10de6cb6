"""What a player says of a yard: values and bounds of the four stages, as numbers that go into a table."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, Final

STAGES: Final = ("late", "finish", "batches", "cement_kg")
Number = int | float | str | None
"""Block-days, an ISO date, batches, or kilograms; None where nothing is known."""


@dataclass(frozen=True)
class Answer:
    """What came of a yard.

    Attributes
    ----------
    values, bounds : by stage; None where nothing was found, or no bound is claimed.
    is_plan : by the minute, so that the audit could read it; else counts, which may promise what no minutes keep.
    findings : what the audit says against it; nothing for a plan that can be worked.
    note : what a reader should know besides.
    best_after_s : seconds from the start to its best plan, where it knows.
    """

    values: tuple[Number, ...] = (None,) * 4
    bounds: tuple[Number, ...] = (None,) * 4
    is_plan: bool = True
    findings: tuple[str, ...] = ()
    note: str = ""
    best_after_s: float | None = None

    @property
    def proven(self) -> tuple[bool, ...]:
        """Whether each value is its bound."""
        pairs = zip(self.values, self.bounds, strict=True)
        return tuple(value is not None and value == bound for value, bound in pairs)

    @property
    def stands(self) -> bool:
        """Whether it is a plan that can be worked."""
        return self.is_plan and not self.findings and None not in self.values

    def write(self, path: Path) -> None:
        """Save it."""
        path.write_text(json.dumps(asdict(self)), encoding="utf-8")

    @classmethod
    def read(cls, path: Path) -> Answer:
        """Load one that was saved."""
        found: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
        whole: dict[str, Any] = {key: tuple(of) if isinstance(of, list) else of for key, of in found.items()}
        return cls(**whole)
