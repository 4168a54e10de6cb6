"""What to type where something cannot have been: what was not recorded before it, or a smaller number.

A command comes last, so that it can be copied as it stands.
"""

from __future__ import annotations

from typing import Final

from blockrun.files.day_names import moment_name
from blockrun.yard.journal.events import Laid, Moved, Poured, Rejected, Stacked
from blockrun.yard.now import Clash
from blockrun.yard.record.known import Known

NOTHING: Final = "Nothing was recorded."
_BEFORE: Final = "Correct it, or record first what happened before it."


def todo_of(clash: Clash, known: Known) -> str:
    """What to do about an entry that cannot have been."""
    event = clash.entry.event
    if isinstance(event, Poured):
        return f"{NOTHING} {_before_pour(event, known)}"
    if isinstance(event, Stacked | Laid | Moved | Rejected):
        there = f'Where blocks are: blockrun ready DIR --at "{moment_name(known.at)}"'
        return f"{NOTHING} Correct the number or the mark, or record first how they came there. {there}"
    return f"{NOTHING} {_BEFORE}"


def _before_pour(event: Poured, known: Known) -> str:
    """What must have happened to the moulds of a pour before it."""
    state = known.state
    for fill in event.fills:
        out = next((name for name in (fill.mould, fill.base) if name in state.out_of_use), None)
        if out is not None:
            return f"If it is in use again, first: blockrun record DIR mould {out} back"
        place = fill.base or fill.mould
        here = state.moulds.get(place)
        if here is not None and any(mark and cavity in here.cavities for cavity, mark in enumerate(fill.marks, 1)):
            return f"If it was stripped before, first: {known.strip_typed(place, here.batches)} --at WHEN"
    of_sides = {fill.mould: fill.base for fill in event.fills if fill.base}
    on = [state.sides[mould] for mould, base in of_sides.items() if state.sides.get(mould, base) != base]
    if on:
        return f"If they came off before, first: blockrun record DIR sides {' '.join(on)} --at WHEN"
    return _BEFORE
