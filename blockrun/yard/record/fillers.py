"""What is left of a batch and goes into a filler mould: an extra beside the plan, of which nothing is recorded."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned


def if_filler(name: str, plan: AsPlanned) -> str | None:
    """What to do where somebody tells of a filler mould; None of any other mould."""
    if not any(kind.filler and name in kind.mould_names for kind in plan.site.moulds):
        return None
    return (
        "What is left of a batch and goes into a filler mould is an extra that is not recorded. Once its blocks are on "
        "a rack count them in with all of their mark there, but none of a batch outside its card: "
        "blockrun record DIR counted RACK N MARK. "
        f"Until then keep a note: blockrun record DIR note {name} filled"
    )
