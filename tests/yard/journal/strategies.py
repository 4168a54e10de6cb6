"""Any event, and any entry."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any, Final

from hypothesis import strategies as st

from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import KINDS, Event, PersonAway, Undone, WeatherSeen

words = st.text(st.characters(codec="utf-8"), max_size=40)
names = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), min_size=1, max_size=12)

st.register_type_strategy(str, names)
st.register_type_strategy(date, st.dates(date(2020, 1, 1), date(2040, 12, 31)))

IN_ORDER: Final = {WeatherSeen: ("min_degc", "max_degc"), PersonAway: ("first", "last")}
"""Fields of which the second is not before the first."""


@st.composite
def built(draw: st.DrawFn, kind: type[Event]) -> Event:
    """An event of a kind."""
    told: dict[str, Any] = {"who": draw(words), "remark": draw(words)}
    if kind in IN_ORDER:
        some = st.floats(-90, 90) if kind is WeatherSeen else st.dates(date(2020, 1, 1), date(2040, 12, 31))
        told |= zip(IN_ORDER[kind], sorted([draw(some), draw(some)]), strict=True)
    return draw(st.builds(kind, **{name: st.just(value) for name, value in told.items()}))


events: st.SearchStrategy[Event] = st.one_of(*(built(kind) for kind in KINDS.values() if kind is not Undone))
moments = st.datetimes(datetime(2020, 1, 1), datetime(2040, 12, 31)).map(lambda at: at.replace(second=0, microsecond=0))  # noqa: DTZ001
written = st.datetimes(datetime(2020, 1, 1), datetime(2040, 12, 31), timezones=st.just(UTC))  # noqa: DTZ001


def entries(some: st.SearchStrategy[Event] = events) -> st.SearchStrategy[Entry]:
    """Entries whose event is one of some."""
    return st.builds(Entry, names, moments, written, some)
