"""The page of cautions: what burns, dusts, falls and shocks, and what is not promised."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from blockrun.show.cautions import CAUTIONS
from blockrun.show.paper.press import Sheet

if TYPE_CHECKING:
    from blockrun.show.paper.asked import Asked


def cautions_page(asked: Asked) -> Iterator[Sheet]:
    """One page, the same for every plan."""
    del asked
    yield Sheet("cautions", {"cautions": list(CAUTIONS)})
