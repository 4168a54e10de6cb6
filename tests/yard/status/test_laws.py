"""Laws of how a job stands, whatever is recorded, right or wrong, and in whatever order it came."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.planner.as_planned import AsPlanned, load_as_planned
from blockrun.planner.risk.rates import Rates
from blockrun.show.status import status_text
from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import (
    Blocks,
    BlocksCounted,
    Counted,
    DayLost,
    Delivered,
    Fill,
    Laid,
    MouldOut,
    Moved,
    PersonAway,
    Poured,
    Rejected,
    Stacked,
    Stripped,
)
from blockrun.yard.status.standing import progress_of
from tests.yard.status.conftest import PLANS

SMALL: Final[AsPlanned] = load_as_planned(PLANS / "small")
OPENS: Final = datetime.fromisoformat("2027-04-05T07:30")

moulds = st.sampled_from(["gang-2/01", "gang-2/02"])
marks = st.sampled_from(["full", "half"])
blocks = st.builds(Blocks, mark=marks, mix=st.just("light"), count=st.integers(1, 4))
several = st.lists(blocks, min_size=1, max_size=2).map(tuple)
fills = st.builds(Fill, mould=moulds, base=st.just(""), marks=st.lists(marks, min_size=1, max_size=2))
days = st.integers(0, 9).map(lambda days: date(2027, 4, 5) + timedelta(days=days))
materials = st.sampled_from(["cement", "foaming agent", "oil"])
events: st.SearchStrategy[Any] = st.one_of(
    st.builds(
        Poured,
        batch=st.integers(1, 5),
        plan=st.sampled_from([SMALL.id, "1234"]),
        mix=st.sampled_from(["light", "light", "other"]),
        fills=st.lists(fills, min_size=1, max_size=2),
        foam_g_l=st.one_of(st.none(), st.floats(80, 110)),
        wet_density_kg_m3=st.one_of(st.none(), st.floats(600, 900)),
    ),
    st.builds(Stripped, mould=moulds, whole=several, broken=st.one_of(st.just(()), several)),
    st.builds(Moved, rack=st.just("east"), blocks=several, mould=moulds),
    st.builds(Stacked, rack=st.just("east"), blocks=several),
    st.builds(Laid, part=st.just("wall"), course=st.sampled_from([None, 1, 2]), blocks=several),
    st.builds(Rejected, place=st.just("mould"), name=moulds, blocks=several, why=st.just("flat")),
    st.builds(BlocksCounted, place=st.just("rack"), name=st.just("east"), mark=marks, mix=st.just("light"),
              count=st.integers(0, 5)),
    st.builds(Delivered, material=materials, amount=st.floats(0.5, 50)),
    st.builds(Counted, material=materials, amount=st.floats(0, 50)),
    st.builds(DayLost, day=days),
    st.builds(PersonAway, first=days, last=st.just(date(2027, 4, 20))),
    st.builds(MouldOut, mould=moulds),
)  # fmt: skip
happened = st.integers(0, 5 * 24 * 4).map(lambda quarters: OPENS + timedelta(minutes=15 * quarters))


@st.composite
def journals(draw: st.DrawFn) -> list[Entry]:
    told = draw(st.lists(st.tuples(happened, events), max_size=14))
    return [Entry(f"k{n}", at, at.replace(tzinfo=UTC), event, n + 1) for n, (at, event) in enumerate(told)]


@given(entries=journals(), at=happened, data=st.data())
@settings(max_examples=80)
def test_the_order_in_which_entries_came_does_not_matter(
    entries: list[Entry], at: datetime, data: st.DataObject
) -> None:
    mixed = data.draw(st.permutations(entries))
    assert progress_of(SMALL, entries, at, Rates()) == progress_of(SMALL, mixed, at, Rates())


@given(entries=journals(), at=happened)
@settings(max_examples=80)
def test_every_block_is_somewhere_and_all_of_it_fits_a_phone(entries: list[Entry], at: datetime) -> None:
    progress = progress_of(SMALL, entries, at, Rates())
    told = progress.blocks
    there = told.in_moulds + told.beside + told.on_racks + told.stacked + told.laid
    assert told.good == there
    assert told.cast + told.found == there + told.lost
    assert all(late.ready is None or late.ready > late.needed for late in progress.late)
    assert (
        max(
            map(
                len,
                status_text(progress, "US", 40, "blockrun replan plan", "blockrun record plan day").plain.splitlines(),
            )
        )
        <= 40
    )


@given(entries=journals(), at=happened, bags=st.floats(1, 50))
@settings(max_examples=40)
def test_what_is_delivered_and_counted_is_never_lost(entries: list[Entry], at: datetime, bags: float) -> None:
    """A count now gives what was counted; a delivery on top of it, so much more."""
    count = Entry("count", at, at.replace(tzinfo=UTC) + timedelta(days=1), Counted(material="cement", amount=bags))
    more = Entry("more", at, at.replace(tzinfo=UTC) + timedelta(days=2), Delivered(material="cement", amount=2.0))
    (cement, *_) = progress_of(SMALL, [*entries, count, more], at, Rates()).reserves
    assert cement.amount == pytest.approx(bags + 2.0)
