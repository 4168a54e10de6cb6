"""A thumb pressed by a plan made anew is kept when it is made anew once more: on the plan of fifteen blocks, by hand.

Batch 1 was recorded as the 7th of the first plan. The second calls it 1, and so does the third; a thumb pressed by the
second is recorded with the digits of that.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from blockrun.planner.begun.facts import BatchPoured, Begun, BlockCast, TurnBegun
from blockrun.planner.label_code import plan_id
from blockrun.planner.plan import Plan
from blockrun.planner.thumbs.turns import Thumbs
from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import Fill, Poured
from blockrun.yard.thumbs import entry_of, thumbs_in, thumbs_standing, went

PLACE, TURN = "gang-2/01", ("gang-2/01", 1)


def tue(clock: str) -> datetime:
    return datetime.fromisoformat(f"2027-04-06T{clock}")


POURED = BatchPoured(
    number=1,
    plan="first",
    was=7,
    mixer="drum",
    mix="light",
    bags=3.5,
    poured=datetime.fromisoformat("2027-04-05T08:24"),
)
POUR = Entry(
    "pour",
    POURED.poured,
    POURED.poured.replace(tzinfo=UTC),
    Poured(batch=7, plan="first", mix="light", fills=(Fill(mould=PLACE, marks=("full", "full")),)),
    1,
)


@pytest.fixture
def second(small_plan: Plan) -> Plan:
    return replace(small_plan, begun=Begun(since=tue("07:00"), batches=(POURED,)))


@pytest.fixture
def third(second: Plan) -> Plan:
    """Made at 10:00, with a spare of the last day in another cavity: other digits."""
    casts = second.tables.casts.copy()
    casts.loc[len(casts) - 1, "cavity"] = 3
    return replace(
        second,
        tables=replace(second.tables, casts=casts),
        begun=Begun(since=tue("10:00"), batches=(POURED,)),
    )


def pressed(plan: Plan, clock: str, shows: str, entries: list[Entry]) -> list[Entry]:
    """The entries with one more, as `blockrun thumb` keeps it."""
    thumbs = Thumbs(plan, thumbs_in(entries))
    _, test = thumbs.press(PLACE, tue(clock), shows, went=went(entries, thumbs.number_of, tue(clock)))  # type: ignore[arg-type]
    entry = entry_of(test, entries, tue(clock).replace(tzinfo=UTC))
    return [*entries, replace(entry, number=len(entries) + 1)]


def test_the_plans_have_digits_of_their_own(second: Plan, third: Plan) -> None:
    assert len({"first", plan_id(second), plan_id(third)}) == 3


def test_a_thumb_of_the_second_plan_puts_the_strip_off_in_the_third(second: Plan, third: Plan) -> None:
    entries = pressed(second, "09:00", "soft", [POUR])
    by_second, by_third = (Thumbs(plan, thumbs_standing(entries)).thumbed[TURN] for plan in (second, third))
    assert by_third.strip == by_second.strip
    assert by_third.is_later


def test_the_next_thumb_is_reckoned_with_the_one_before(second: Plan, third: Plan) -> None:
    """As it is where the plan was not made anew between them."""
    soft = pressed(second, "09:00", "soft", [POUR])
    stripped = {}
    for plan in (second, third):
        entries = pressed(plan, "11:00", "dents", soft)
        told = Thumbs(plan, thumbs_in(entries)).thumbed[TURN]
        assert [test.thumb for test in told.tests] == ["soft", "dents"]
        stripped[plan_id(plan)] = told.may_strip
    assert len({*stripped.values()}) == 1


def test_the_same_thumb_again_is_known_by_the_third(second: Plan, third: Plan) -> None:
    entries = pressed(second, "09:00", "soft", [POUR])
    thumbs = Thumbs(third, thumbs_in(entries))
    after, _ = thumbs.press(PLACE, tue("09:00"), "soft", went=went(entries, thumbs.number_of, tue("09:00")))
    assert after is thumbs


def test_what_the_third_plan_was_made_with_is_heeded_as_it_was(second: Plan, third: Plan) -> None:
    entries, told = pressed(second, "09:00", "soft", [POUR]), tue("15:00")
    full = BlockCast(cavity=1, mark="full", mix="light", batch=1)
    turn = TurnBegun(mould=PLACE, turn=1, strip_from=told, blocks=(full,))
    assert third.begun is not None
    knows = replace(third, begun=third.begun.model_copy(update={"turns": (turn,)}))
    assert Thumbs(knows, thumbs_in(entries)).thumbed[TURN].strip.ripe == told
