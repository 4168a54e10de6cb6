"""Times of a table as plain datetimes, which compare many times faster than the frame's own."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pandas as pd


def moments(column: pd.Series) -> list[datetime]:
    """Times of a column, to the second; an empty one, where the column may have such, is None."""
    return list(column.to_numpy().astype("datetime64[s]").tolist())
