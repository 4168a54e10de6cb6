"""One thing that is wrong with a plan, in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.planner.audit.case import Case

Said = tuple[str, str]
"""Where something is wrong, and the sentence that says what."""

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
    """

    rule: str
    where: str
    said: str

    def __str__(self) -> str:
        """Return the sentence."""
        return self.said


def rule_name(rule: Rule) -> str:
    """Name of a rule as findings carry it."""
    return rule.__name__.replace("_", " ")


def findings_of(rule: Rule, case: Case) -> list[Finding]:
    """All breaches of one rule."""
    name = rule_name(rule)
    return [Finding(name, where, said) for where, said in rule(case)]
