"""One thing that is wrong with a plan, in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from blockrun.planner.audit.places import Record, place_of

if TYPE_CHECKING:
    from blockrun.planner.audit.case import Case

Said = tuple[str, str] | tuple[str, str, Record]
"""Where something is wrong, the sentence that says what, and the row to look at where the first does not give it."""

Rule = Callable[["Case"], Iterator[Said]]
"""One rule of the audit: its name names the rule, its docstring says it, what it yields breaks it."""


@dataclass(frozen=True)
class Finding:
    """One breach of one rule.

    Attributes
    ----------
    rule : name of the rule, such as ``strip age``.
    where : the block, batch, mould, rack, day or table it concerns, such as ``gang-4/03 turn 2``.
    said : a sentence a builder understands, with the numbers.
    place : file and rows to look at, such as ``casts.csv row 4``; "" where there is no one place.
    """

    rule: str
    where: str
    said: str
    place: str = field(default="", compare=False)

    def __str__(self) -> str:
        """Return the sentence."""
        return self.said


def rule_name(rule: Rule) -> str:
    """Name of a rule as findings carry it."""
    return rule.__name__.replace("_", " ")


def findings_of(rule: Rule, case: Case) -> list[Finding]:
    """All breaches of one rule."""
    name = rule_name(rule)
    return [
        Finding(name, where, said, place_of(where, next(iter(row), None), case)) for where, said, *row in rule(case)
    ]
