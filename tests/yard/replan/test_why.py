"""What is said of a plan made anew: batches that nobody recorded, thumbs, and files that changed."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

from blockrun.site.curing import Stack
from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import Thumbed
from blockrun.yard.now import Lot, State
from blockrun.yard.replan.going_on import Changed
from blockrun.yard.replan.happened import happened
from blockrun.yard.replan.kept import Kept
from blockrun.yard.replan.why import not_recorded, stack_gone, why_otherwise
from tests.yard.replan.went import went

EVENING = datetime.fromisoformat("2027-04-06T18:00")


def test_those_of_a_lost_day_are_known_not_to_be(small_kept: Kept) -> None:
    assert not_recorded(small_kept, State(), EVENING) == (1, 2)
    assert not_recorded(small_kept, State(lost={date(2027, 4, 6)}), EVENING) == (1,)


def test_a_thumb_that_put_a_strip_off_is_among_the_reasons(small_kept: Kept) -> None:
    at = datetime.fromisoformat("2027-04-06T12:48")
    thumb = Entry("thumb", at, at.replace(tzinfo=UTC), Thumbed(mould="gang-2/01", thumb="soft"), 99)
    told = [*went(small_kept.as_planned, at), thumb]
    begun = happened([small_kept], told, at, 2, 1)
    assert "a thumb put off the strip of gang-2/01" in why_otherwise(small_kept, told, begun)


def test_files_that_changed_are_among_them() -> None:
    assert Changed().said == ()
    assert Changed(site=Path("yard.yaml")).said == ("the site is as yard.yaml has it now",)


def test_a_stack_that_was_taken_out_of_the_site_with_blocks_on_it_is_told(small_kept: Kept) -> None:
    state, bare = State(), small_kept.plan.site
    small = bare.model_copy(update={"stack": Stack(places=40, layers=4)})
    assert list(stack_gone(state, small, bare)) == []
    state.stacks["stack"].put(("full", "light"), Lot((small_kept.id, 1), EVENING, EVENING, 12))
    told = "12 blocks stand on the stack, and the site has none any more: ground for all is assumed"
    assert list(stack_gone(state, small, bare)) == [told]
    assert list(stack_gone(state, bare, bare)) == list(stack_gone(state, small, small)) == []
