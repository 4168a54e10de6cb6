"""Times of the yard: tasks in whole minutes, pauses that may be nought, waits of up to ten years."""

from __future__ import annotations

from typing import Annotated, Final

from blockrun.site.fields import whole_minutes

_YEARS_10: Final = 5_256_000

Task = Annotated[int, whole_minutes("10 min", above=0)]
Pause = Annotated[int, whole_minutes("4 min", least=0)]
Wait = Annotated[int, whole_minutes("7 d", least=0, most=_YEARS_10)]
