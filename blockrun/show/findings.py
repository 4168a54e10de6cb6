"""What the audit found, in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from blockrun.planner.audited import findings_said
from blockrun.show.page import ALARM, Page
from blockrun.units import counted

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.audit import Finding


def findings_text(findings: Sequence[Finding], n_rules: int, width: int, units: str) -> Text:
    """List the findings of an audit, a line each."""
    page = Page(width, units)
    if not findings:
        page.line(f"Nothing is wrong with this plan: it passes all {counted(n_rules, 'check')}.")
        return page.text()
    said = findings_said(findings)
    page.line((f"{counted(len(said), 'thing')} wrong with this plan:", ALARM))
    for line in said:
        page.item(line)
    return page.text()
