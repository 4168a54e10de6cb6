"""Times of the yard: tasks in whole minutes, pauses that may be nought, waits of up to ten years."""

from __future__ import annotations

from typing import Annotated, Final

from blockrun.site.fields import whole_minutes

A_YEAR_MIN: Final = 365 * 24 * 60
TEN_YEARS_MIN: Final = 10 * A_YEAR_MIN

Task = Annotated[int, whole_minutes("10 min", above=0)]
Pause = Annotated[int, whole_minutes("4 min", least=0)]
Wait = Annotated[int, whole_minutes("7 d", least=0, most=TEN_YEARS_MIN)]
