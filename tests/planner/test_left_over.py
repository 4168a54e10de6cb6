"""What is left of batches, worked out by hand for the plan of four batches in tests/plans/small.

They make 175, 150, 100 and 83.333 L, their moulds take 147.702, 128.544, 92.7 and 74.16 L, and 4 L stay in the drum
each time: 23.298, 17.456, 3.3 and 5.173 L are left. They are poured from Monday 08:14, Tuesday 13:59, Thursday 09:04
and 09:32. What is poured on Monday at 08:24 is old enough to strip on Tuesday at 12:45, as the days say.
"""

from __future__ import annotations

import dataclasses
from datetime import datetime

import pytest

from blockrun.planner.begun import Begun
from blockrun.planner.left_over import LeftOver, left_over
from blockrun.planner.plan import Plan
from blockrun.site import MouldKind

TINY = "100 x 100 x 100 mm"
"""1.03 L with its overfill of 3 %."""
LONG = "300 x 100 x 100 mm"
"""3.09 L."""
THIN = "600 x 300 x 100 mm"
"""18.54 L: as large as the block thin, of the mix light."""


def filler(cavity: str = TINY, cavities: int = 2, **changes: object) -> MouldKind:
    given = {"kind": "extra", "count": 1, "cavities": cavities, "cavity": cavity, "filler": "true"}
    return MouldKind.model_validate(given | {"strip_time": "5 min", "clean_time": "5 min"} | changes)


def of(plan: Plan, *fillers: MouldKind) -> LeftOver:
    moulds = (*plan.site.moulds, *fillers)
    return left_over(dataclasses.replace(plan, site=plan.site.model_copy(update={"moulds": moulds})))


def filled(found: LeftOver) -> list[list[tuple[str, int]]]:
    """Of each batch, the filler moulds that it goes into and how many of their cavities."""
    return [[(fills.mould, fills.cavities) for fills in left.fills] for left in found.batches.values()]


def test_what_is_left_is_what_neither_the_moulds_nor_the_drum_have(small_plan: Plan) -> None:
    found = of(small_plan)
    assert [round(left.left_l, 3) for left in found.batches.values()] == [23.298, 17.456, 3.3, 5.173]
    assert (filled(found), found.ripe, found.blocks, found.poured_l) == ([[], [], [], []], (), 0, 0)


def test_a_mould_that_is_no_filler_takes_nothing(small_plan: Plan) -> None:
    assert filled(of(small_plan, filler(filler="false"))) == [[], [], [], []]


def test_a_filler_takes_what_is_left_and_is_free_again_once_stripped_and_cleaned(small_plan: Plan) -> None:
    """By Tuesday 12:55 and Thursday 08:10 it is; on Thursday the second batch finds it full."""
    found = of(small_plan, filler())
    assert filled(found) == [[("extra/01", 2)], [("extra/01", 2)], [("extra/01", 2)], []]
    assert found.blocks == 6
    assert found.poured_l == pytest.approx(6.18)


def test_a_filler_can_be_stripped_from_the_first_working_minute_at_which_it_is_old_enough(small_plan: Plan) -> None:
    ripe = of(small_plan, filler()).ripe
    assert [(one.mould, one.blocks) for one in ripe] == [("extra/01", 2)] * 3
    assert [f"{one.at:%a %H:%M}" for one in ripe][:2] == ["Tue 12:45", "Thu 08:00"]


def test_a_filler_still_being_cleaned_is_not_poured(small_plan: Plan) -> None:
    """Stripped from 12:45 to 13:45 on Tuesday, then cleaned until 13:59: just in time, and a minute more is not."""
    in_time, late = (filler(strip_time="60 min", clean_time=time) for time in ("14 min", "15 min"))
    assert filled(of(small_plan, in_time))[1] == [("extra/01", 2)]
    assert filled(of(small_plan, late))[1] == []


def test_no_strip_of_a_filler_runs_on_after_work(small_plan: Plan) -> None:
    """From 12:45 to 16:00, when they close down, is 195 min; what takes longer is done on Wednesday morning."""
    fits, waits = (filler(strip_time=time, clean_time="0 min") for time in ("74 min", "196 min"))
    assert filled(of(small_plan, fits))[1] == [("extra/01", 2)]
    assert filled(of(small_plan, waits))[1:3] == [[], [("extra/01", 2)]]


def test_a_filler_that_no_part_of_a_day_is_long_enough_for_stays_empty(small_plan: Plan) -> None:
    assert filled(of(small_plan, filler(strip_time="241 min"))) == [[], [], [], []]


def test_a_later_batch_of_the_day_fills_up_what_an_earlier_one_began(small_plan: Plan) -> None:
    """Of 3.3 L one cavity of 3.09 L is filled, of 5.173 L the other; both are as old as the later pour."""
    found = of(small_plan, filler(LONG))
    assert filled(found)[2:] == [[("extra/01", 1)], [("extra/01", 1)]]
    assert found.ripe[-1].blocks == 2
    alone = of(small_plan, filler(LONG, cavities=1))
    assert filled(alone)[2:] == [[("extra/01", 1)], []]
    assert found.ripe[-1].at >= alone.ripe[-1].at


def test_the_largest_cavities_are_filled_first(small_plan: Plan) -> None:
    """Of 23.298 L one thin block takes 18.54 L; 4.758 L are left, one long one takes 3.09 L, one tiny one 1.03 L."""
    kinds = (filler(kind="c"), filler(LONG, kind="b"), filler(THIN, kind="a"))
    assert filled(of(small_plan, *kinds))[0] == [("a/01", 1), ("b/01", 1), ("c/01", 1)]


def test_moulds_of_a_kind_are_filled_one_after_the_other(small_plan: Plan) -> None:
    assert filled(of(small_plan, filler(LONG, count=4)))[0] == [("extra/01", 2), ("extra/02", 2), ("extra/03", 2),
                                                                ("extra/04", 1)]  # fmt: skip


def test_a_block_as_large_as_an_ordered_one_of_its_mix_has_its_mark(small_plan: Plan) -> None:
    (fills,) = of(small_plan, filler(THIN)).batches[1].fills
    assert fills.mark == "thin"


def test_a_block_of_another_size_or_mix_has_no_mark(small_plan: Plan) -> None:
    (fills,) = of(small_plan, filler()).batches[1].fills
    assert fills.mark == ""
    batches = small_plan.tables.batches.assign(mix="heavy")
    heavy = dataclasses.replace(small_plan, tables=dataclasses.replace(small_plan.tables, batches=batches))
    (fills,) = of(heavy, filler(THIN)).batches[1].fills
    assert fills.mark == ""


def test_nothing_is_poured_that_would_stand_in_frost_before_its_strip(small_plan: Plan) -> None:
    """The night of Wednesday the 7th falls to 9 degC, that of Thursday to 8: only Monday's pour is stripped before."""
    curing = small_plan.site.curing.model_copy(update={"least_air_c": 9.5})
    cold = dataclasses.replace(small_plan, site=small_plan.site.model_copy(update={"curing": curing}))
    assert filled(of(cold, filler())) == [[("extra/01", 2)], [], [], []]


def test_a_filler_ages_by_the_clock_of_its_mould_where_heat_is_modelled(small_plan: Plan) -> None:
    curing = small_plan.site.curing.model_copy(update={"heat": "modelled"})
    warm = dataclasses.replace(small_plan, site=small_plan.site.model_copy(update={"curing": curing}))
    kind = filler(THIN, cavities=1, walls="polystyrene 200 mm", cover="polystyrene 200 mm")
    by_air, by_heat = of(small_plan, kind).ripe[0], of(warm, kind).ripe[0]
    assert by_heat.at < by_air.at


def test_a_filler_out_of_use_takes_nothing(small_plan: Plan) -> None:
    begun = Begun(since=datetime.fromisoformat("2027-04-05T07:00"), out_of_use=("extra/01",))
    assert filled(of(dataclasses.replace(small_plan, begun=begun), filler())) == [[], [], [], []]
