"""Foaming agent that is enough for the foam of a plan, and not for the buckets of foam that are weighed before it.

A plan waits for the agent of its foam, as its batches do not wait for what is weighed: so that may run short.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import day_name
from blockrun.planner.supplies import SPECK, materials_of
from blockrun.planner.uses import agent_uses
from blockrun.units import show

if TYPE_CHECKING:
    from blockrun.planner.begun.facts import Begun
    from blockrun.planner.tables import PlanTables
    from blockrun.site import Site

_HUNDREDTHS: Final = 100


@dataclass(frozen=True)
class _Batches:
    site: Site
    tables: PlanTables


def short_by_day(site: Site, tables: PlanTables, begun: Begun | None) -> dict[date, float]:
    """Litres of agent that are short on the evening of each day on which some is used; days with enough left out.

    Parameters
    ----------
    site : with what was on hand for the foam weighed before batches poured, too.
    """
    (agent,) = materials_of(site, agent_uses(_Batches(site, tables)), begun) or (None,)
    if agent is None:
        return {}
    return {day: -agent.left_on(day) for day in agent.used if agent.left_on(day) < -SPECK}


def agent_short(site: Site, tables: PlanTables, begun: Begun | None) -> Iterator[str]:
    """Say how much agent is missing on the worst day, and from which day on; nothing where there is enough.

    Of a plan made anew in the middle of a job only days to come matter.
    """
    since = begun.since.date() if begun else date.min
    short_l = {day: short for day, short in short_by_day(site, tables, begun).items() if day >= since}
    if short_l:
        first = min(short_l)
        most_l = math.ceil(max(short_l.values()) * _HUNDREDTHS) / _HUNDREDTHS
        yield (
            "Foaming agent on hand and to come is enough for the foam of the batches, not for the bucket of foam "
            f"weighed before each: {show(most_l, 'volume', site.units)} more must be there, the first of it on "
            f"{day_name(first)}."
        )
