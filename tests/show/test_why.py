"""Clashes, days of a plan and changes in the words of the yard, on a phone too."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache

import pytest

from blockrun.planner.plan import Plan
from blockrun.planner.whatif.changes import Change
from blockrun.planner.whatif.solved import Refused, Solved
from blockrun.planner.whatif.tried import Trial, Tried
from blockrun.planner.why.explain import explain
from blockrun.planner.why.facts import Lower, Stock, Wanted
from blockrun.planner.why.frees import Way
from blockrun.planner.why.held import Held, LateCourse, held
from blockrun.planner.why.rules import Thing
from blockrun.planner.why.taken import HeldDay, Taken
from blockrun.show.held import held_text
from blockrun.show.report.holding import holding
from blockrun.show.whatif import whatif_text
from blockrun.show.why import why_text
from blockrun.site import Stack
from tests.planner.why.by_hand import CLASHES, THURSDAY, a_site, an_order, two_sizes

PHONE, WIDE = 40, 200


@cache
def said(name: str, width: int = WIDE) -> str:
    site, order, *_ = CLASHES[name]
    return why_text(explain(site, order), site, width).plain


def test_a_clash_reads_as_one_would_say_it() -> None:
    assert said("moulds").splitlines() == [
        "By Thu 15 Apr 10 blocks are needed, and at most 8 can be ready.",
        "For north course 1 (10 blocks).",
        "- 1 gang mould, stripped 24 h after the pour: filled 4 times by Thu 8 Apr at the most, 2 blocks a time",
        "- blocks are laid 7 d after the pour, so they are poured by Thu 8 Apr",
        "The least that frees this: one more gang mould.",
        "",
        "Late in every plan:",
        "- north course 1 (10 blocks): needed Thu 15 Apr, not all there before Fri 16 Apr",
    ]


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("racks", "- 2 places on the racks, each kept for 7 d"),
        ("mixers", "- drum: at most 3 batches a day and 12 by then, of 30 L at the most"),
        ("cement", "- cement: 2 bags on hand or delivered by then"),
        (
            "frost",
            "- too cold: 4 days under 5 degC (from Mon 5 Apr to Thu 8 Apr); no mould may stand full then",
        ),
        ("age", "- blocks are laid 7 d after the pour, so the first are ready on Mon 12 Apr"),
        ("age", "Only a later day, or an earlier start, frees this."),
        ("cold", "(in the cold; 24 h at 20 degC)"),
        (
            "stack",
            "- 1 place on the stack, 4 layers high: 8 blocks are to stand there on Thu 15 Apr, and 4 at the most",
        ),
        ("sides", "- 1 set of gang sides, off the blocks 5 h after the pour: filled 8 times"),
        ("bases", "- 2 gang bases, stripped 24 h after the pour: each filled 4 times"),
    ],
)
def test_each_fact_has_its_words(name: str, words: str) -> None:
    assert words in said(name)


def test_where_one_change_is_not_enough_it_is_not_said_to_be_a_matter_of_dates() -> None:
    site, order, *_ = CLASHES["moulds"]
    why = explain(site, order)
    no_way = replace(why, late=(replace(why.late[0], ways=()),))
    text = why_text(no_way, site, WIDE).plain
    assert "No one change that was tried frees this: something else may be short by then, too." in text
    assert "Only a later day" not in text


def test_what_was_tried_for_some_blocks_alone_says_that_others_may_pay_for_it() -> None:
    """Ten by Thursday, and two that have no date."""
    words = "This was tried for these blocks alone: others of the order may have to wait for it."
    site, order, *_ = CLASHES["moulds"]
    why = explain(site, two_sizes(("A", 10, THURSDAY), ("A", 2, None)))
    assert words in why_text(why, site, WIDE).plain
    assert words not in why_text(explain(site, order), site, WIDE).plain
    none = replace(why, late=(replace(why.late[0], ways=(Way((a_change("two more moulds"),), None),)),))
    assert words not in why_text(none, site, WIDE).plain


def test_only_a_later_day_is_said_where_no_day_of_pouring_is_of_use() -> None:
    site, order, *_ = CLASHES["age"]
    why = explain(site, order)
    some = replace(why, late=(replace(why.late[0], clash=replace(why.late[0].clash, last_pour=THURSDAY)),))
    text = why_text(some, site, WIDE).plain
    assert "No change that was tried frees this. A later day, or an earlier start, does." in text
    assert "Only" not in text


def test_where_it_was_stopped_nothing_is_said_of_what_was_not_tried() -> None:
    site, order, *_ = CLASHES["moulds"]
    why = explain(site, order)
    cut = replace(why, late=(replace(why.late[0], ways=(), cut_short=True),), stopped=True)
    text = why_text(cut, site, WIDE).plain
    assert "Not all that may free this was tried." in text
    assert "No one change" not in text
    assert "No block is proved" not in why_text(replace(cut, late=()), site, WIDE).plain


def test_later_days_that_are_short_of_the_same_are_told_with_what_frees_all() -> None:
    site, order, *_ = CLASHES["moulds"]
    why = explain(site, order)
    later = replace(why, late=(replace(why.late[0], until=date(2027, 4, 20)),))
    said = "So it is on later days, up to Tue 20 Apr; what frees this alone is reckoned for those, too."
    assert said in why_text(later, site, WIDE).plain.replace("\u00a0", " ")
    both = Way((a_change("one more mould"), a_change("one more person")), None)
    together = replace(later, late=(replace(later.late[0], ways=(both,)),))
    start = "No one change that was tried frees this; for Thu 15 Apr it takes at least, together: "
    words = f"{start}one more mould and one more person."
    assert words in why_text(together, site, WIDE).plain.replace("\u00a0", " ")


def test_a_change_that_does_not_free_all_later_days_is_told_with_the_last_it_frees() -> None:
    two, four = (a_change("two more moulds"),), (a_change("four more moulds"),)
    ways = the_ways(Way(two, two, until=THURSDAY), Way(two, four, until=THURSDAY)).replace("\u00a0", " ")
    later = "For later days no plan was found with that."
    assert f"This frees it up to Thu 15 Apr: two more moulds. {later}" in ways
    less = "less may do, but two more moulds at the least"
    assert f"This frees it up to Thu 15 Apr: four more moulds; {less}. {later}" in ways


def test_a_stack_that_ran_out_is_told_with_its_places_and_layers() -> None:
    full = Taken("stack", 40, 40, "places", ran_out=True)
    days = (HeldDay(date(2027, 4, 5), 0, 3, (full,)), HeldDay(date(2027, 4, 6), 3, 0, ()))
    text = held_text(Held(days, (), stack=Stack(places=40, layers=4)), 0, WIDE).plain
    assert "- the stack would be too full (40 places, 4 layers high): 1 day" in text
    assert "Mon 5 Apr    0 poured; the stack would be too full\n" in text


def the_ways(*ways: Way) -> str:
    site, order, *_ = CLASHES["moulds"]
    why = explain(site, order)
    return why_text(replace(why, late=(replace(why.late[0], ways=ways),)), site, WIDE).plain


def a_change(words: str) -> Change:
    return Change(words, lambda site: site)


def test_a_change_for_which_no_plan_was_found_is_not_said_to_be_enough() -> None:
    two, four = (a_change("two more moulds"),), (a_change("four more moulds"),)
    assert "The least that frees this: two more moulds." in the_ways(Way(two, two))
    both = "The least that frees this, each alone: two more moulds or four more moulds."
    assert both in the_ways(Way(two, two), Way(four, four))
    assert "This frees it: four more moulds; less may do, but two more moulds at the least." in the_ways(Way(two, four))
    none = the_ways(Way(two, None))
    assert "At least two more moulds, and it may take more: no plan was found with that." in none
    assert "frees this" not in none


def test_changes_that_are_of_use_together_alone_are_said_so() -> None:
    both = (a_change("one more mould"), a_change("one more person"))
    more = (a_change("one more mould"), a_change("two more people"))
    start = "No one change that was tried frees this; "
    assert f"{start}together these do: one more mould and one more person." in the_ways(Way(both, both))
    less = "; less may do, but at the least one more mould and one more person."
    assert f"{start}together these do: one more mould and two more people{less}" in the_ways(Way(both, more))
    assert f"{start}it takes at least, together: one more mould and one more person. No plan" in the_ways(
        Way(both, None)
    )


def test_where_all_of_the_yard_allows_less_than_the_clash_that_is_said() -> None:
    site, order, *_ = CLASHES["moulds"]
    why = explain(site, order)
    (reason,) = why.late
    less = replace(why, late=(replace(reason, clash=replace(reason.clash, in_all=6)),))
    assert "With all else as it is, at most 6." in why_text(less, site, WIDE).plain
    lower = (Lower(Thing.frost, None), Lower(Thing.sides, "gang-4"))
    named = replace(why, late=(replace(reason, clash=replace(reason.clash, in_all=6, lower=lower)),))
    said = "With all else as it is (days too cold to pour and gang-4 sides), at most 6."
    assert said in why_text(named, site, WIDE).plain
    assert "With all else" not in why_text(why, site, WIDE).plain


def test_a_delivery_that_comes_by_the_last_pour_is_told_with_its_day() -> None:
    site, order, *_ = CLASHES["cement"]
    why = explain(site, order)
    came = Stock(Thing.cement, there=2.0, at_first=1.0, last_came=date(2027, 4, 12))
    clash = replace(why.late[0].clash, facts=(came,))
    text = why_text(replace(why, late=(replace(why.late[0], clash=clash),)), site, WIDE).plain
    said = "- cement: 2 bags on hand or delivered by then, the last on Mon 12 Apr; 1 bag on the first day"
    assert said in text


def test_days_on_which_the_same_ran_out_stand_together() -> None:
    none_left = (Taken("cement", 0, 0, "bags", ran_out=True),)
    days = (HeldDay(date(2027, 4, day), 0, 3, none_left) for day in (5, 6, 7))
    lines = held_text(Held((*days, HeldDay(date(2027, 4, 8), 3, 0, ())), ()), 0, WIDE).plain.splitlines()
    assert lines[-2:] == [
        "Mon 5 Apr    0 poured each day to Wed 7 Apr; cement is used up",
        "Thu 8 Apr    3 poured; the last blocks",
    ]


def test_nothing_is_waited_for_by_the_last_blocks() -> None:
    busy = (Taken("people", 900, 900, "min", ran_out=True),)
    lines = held_text(Held((HeldDay(date(2027, 4, 5), 3, 0, busy),), ()), 0, WIDE).plain.splitlines()
    assert lines[-1] == "Mon 5 Apr    3 poured; the last blocks"


def test_courses_that_are_late_in_every_plan_are_not_told_again() -> None:
    first, second = (LateCourse("north", n, date(2027, 4, 15), 2, date(2027, 4, 19)) for n in (1, 2))
    back = Held((HeldDay(date(2027, 4, 5), 3, 0, ()),), (first, second))
    both = held_text(back, 8, WIDE).plain
    assert "Late in this plan:" in both
    assert "north course 1" in both
    rest = held_text(back, 8, WIDE, told={("north", 1, date(2027, 4, 15))}).plain
    assert "Late in this plan, besides those:" in rest
    assert "north course 1" not in rest
    assert "north course 2" in rest
    assert "Late in" not in held_text(back, 8, WIDE, told={("north", n, date(2027, 4, 15)) for n in (1, 2)}).plain


def test_no_degrees_are_told_of_a_plan_whatever_its_units() -> None:
    cold = (Taken("gang-4", 2, 2, "moulds", ran_out=True, cold=True),)
    text = held_text(Held((HeldDay(date(2027, 4, 5), 3, 3, cold), HeldDay(date(2027, 4, 6), 3, 0, ())), ()), 0, WIDE)
    assert "- cold: moulds set so slowly that they are waited for: 1 day" in text.plain
    assert "degC" not in text.plain


def test_a_mould_that_is_the_only_one_is_not_all_of_them() -> None:
    full = (Taken("tray-3 sides", 1, 1, "moulds", ran_out=True),)
    text = held_text(Held((HeldDay(date(2027, 4, 5), 3, 3, full),), ()), 0, WIDE).plain
    assert "the one tray-3 sides full" in text


def test_air_under_the_least_of_the_yard_is_not_called_frost(small_plan: Plan) -> None:
    days = (HeldDay(date(2027, 4, 5), 0, 3, (Taken("frost", 0, 0, "days", ran_out=True),)),)
    back = Held((*days, HeldDay(date(2027, 4, 6), 3, 0, ())), ())
    text = held_text(back, 0, WIDE).plain
    assert "- too cold to pour: air under the least of the yard before the strip: 1 day" in text
    assert "frost" not in text
    chart = holding(back, small_plan.site.calendar)
    assert chart is not None
    assert [level.text for level in chart.levels] == ["too cold to pour"]


def test_one_day_before_the_last_pour_is_one_day() -> None:
    full = (Taken("tray-3 sides", 3, 3, "moulds", ran_out=True),)
    days = (HeldDay(date(2027, 4, 5), 52, 7, full), HeldDay(date(2027, 4, 6), 7, 0, ()))
    assert "Before it is 1 working day; what ran out on it:" in held_text(Held(days, ()), 0, WIDE).plain


def test_what_holds_back_the_last_pour_is_told_where_nothing_is_late() -> None:
    text = why_text(explain(a_site(), an_order(10, None)), a_site(), WIDE).plain
    assert "No block is proved to be late." in text
    assert "The last pour cannot be on Thu 8 Apr or before: of 10 blocks at most 8 can be poured by then." in text


def test_days_of_a_plan_say_what_ran_out(small_plan: Plan) -> None:
    lines = held_text(held(small_plan), 0, WIDE).plain.splitlines()
    assert lines[0] == "Last pour Thu 8 Apr, 0 block-days late."
    assert "- gang-2 all full: 3 days" in lines
    assert any(line.startswith("Wed 7 Apr    0 poured; all 2 gang-2 full, in the cold") for line in lines)
    assert "Thu 8 Apr    5 poured; the last blocks" in lines


def test_each_thing_that_ran_out_has_its_words() -> None:
    out = [
        Taken("gang-4 sides", 3, 3, "moulds", ran_out=True),
        Taken("drum", 500, 540, "min", ran_out=True),
        Taken("rack", 119, 120, "places", ran_out=True),
        Taken("people", 900, 1000, "min", ran_out=True),
        Taken("cement", 5, 5, "bags", ran_out=True),
    ]
    lines = held_text(Held((HeldDay(date(2027, 4, 5), 9, 3, tuple(out)),), ()), 0, WIDE).plain.splitlines()
    assert lines[-1] == (
        "Mon 5 Apr    9 poured; all 3 gang-4 sides full; drum has no time for one batch more; the racks are full; "
        "nobody is free for one batch more; cement is used up"
    )
    assert "- drum has no time for one batch more: 1 day" in lines


NOW = Solved(0, 0, date(2027, 4, 12), date(2027, 4, 12), 5, 125.0, 5.0, 40.0)


def then(day: int, soonest: int, batches: int = 5, bags: float = 5.0, cost: float = 40.0) -> Solved:
    return Solved(0, 0, date(2027, 4, day), date(2027, 4, soonest), batches, 25 * bags, bags, cost)


def trial(words: str, answer: Solved | Refused) -> Trial:
    return Trial((Change(words, lambda site: site),), answer)


TRIED = Tried(
    NOW,
    (
        trial("two more gang-4 moulds", then(8, 8, 6, 5.5, 43.5)),
        trial("one more person", then(10, 9)),
        trial("a drum half as big again", then(12, 11)),
        trial("more rack", then(12, 12)),
        trial("an hour longer each day", then(12, 12)),
        trial("Saturdays worked too", Refused("it freezes")),
    ),
    (),
    ("one more gang-4 base",),
)


def test_changes_say_days_saved_how_sure_it_is_and_what_they_take() -> None:
    lines = whatif_text(TRIED, WIDE).plain.splitlines()
    assert lines[:8] == [
        "As the yard is: 0 block-days late, last pour Mon 12 Apr 2027, 5 batches, 5 bags of cement, cost 40.00",
        "",
        "two more gang-4 moulds: four days earlier (proven)",
        "  1 batch more, 1/2 bag of cement more, 3.50 dearer",
        "one more person: two days earlier (at least 2, at most 3)",
        "a drum half as big again: nothing found; between 0 and 1 day earlier",
        "more rack; an hour longer each day: nothing (proven no gain)",
        "Saturdays worked too: no plan: it freezes",
    ]


def test_what_there_was_no_time_for_and_what_has_no_price_is_said() -> None:
    text = " ".join(whatif_text(TRIED, WIDE).plain.split())
    assert "Not solved, for there was no time: one more gang-4 base." in text
    assert "Days found, batches, cement and cost are between two plans" in text
    assert "no price given for moulds" in text


def test_a_yard_as_it_is_that_had_not_all_its_time_says_so() -> None:
    said = "no time for all of the work on it"
    assert said not in whatif_text(TRIED, WIDE).plain
    assert said in " ".join(whatif_text(replace(TRIED, cut_short=True), WIDE).plain.split())


def test_that_little_work_is_behind_all_of_it_is_said() -> None:
    said = "There was time for little work on each"
    assert said not in whatif_text(TRIED, WIDE).plain
    assert said in whatif_text(replace(TRIED, is_quick=True), WIDE).plain


def test_what_was_not_solved_is_told_apart_from_one_another() -> None:
    two = ("one more person and an hour longer each day", "Saturdays worked too, laying as well")
    text = " ".join(whatif_text(replace(TRIED, unsolved=two), WIDE).plain.split())
    assert "one more person and an hour longer each day; Saturdays worked too, laying as well." in text


def test_where_no_change_was_solved_one_line_is_empty_before_what_was_not() -> None:
    lines = whatif_text(replace(TRIED, single=()), WIDE).plain.splitlines()
    assert lines[1:3] == ["", "Not solved, for there was no time: one more gang-4 base."]


def test_block_days_saved_are_told_before_days() -> None:
    late = Solved(9, 9, date(2027, 4, 12), date(2027, 4, 12), 5, 125.0, 5.0, None)
    text = whatif_text(Tried(late, (trial("one more mould", then(9, 9)),), (), ()), WIDE).plain
    assert "one more mould: 9 block-days less late (proven); three days earlier (found)" in text
    assert "no price given" in text.splitlines()[0]


def test_a_yard_without_a_plan_says_which_change_gives_it_one() -> None:
    text = whatif_text(Tried(Refused("it freezes"), (trial("moulds kept warmer", NOW),), (), ()), WIDE).plain
    assert "As the yard is there is no plan: it freezes." in text
    assert "moulds kept warmer: a plan, last pour Mon 12 Apr 2027" in text


def test_all_of_it_fits_a_phone(small_plan: Plan) -> None:
    texts = [said(name, PHONE) for name in ("moulds", "frost")]
    texts += [held_text(held(small_plan), 0, PHONE).plain, whatif_text(TRIED, PHONE).plain]
    assert [line for text in texts for line in text.splitlines() if len(line) > PHONE] == []


@pytest.mark.parametrize(
    ("wanted", "said"),
    [
        (Wanted("south", 1, 2, 6, 17), "For south courses 1 to 2 (6 of their 17 blocks)."),
        (Wanted("south", 1, 1, 1, 17), "For south course 1 (1 of its 17 blocks)."),
        (Wanted("south", 1, 2, 17, 17), "For south courses 1 to 2 (17 blocks)."),
        (Wanted("", None, None, 3, 5), "For spares (3 blocks)."),
    ],
)
def test_a_clash_about_some_sizes_says_of_how_many_blocks_they_are(wanted: Wanted, said: str) -> None:
    site, order, *_ = CLASHES["moulds"]
    why = explain(site, order)
    about = replace(why, late=(replace(why.late[0], clash=replace(why.late[0].clash, wanted=(wanted,))),))
    assert said in why_text(about, site, WIDE).plain


def test_of_a_plan_made_anew_the_days_before_count_good_blocks_and_say_so() -> None:
    days = (HeldDay(date(2027, 4, 5), 14, 3, ()), HeldDay(date(2027, 4, 7), 3, 0, ()))
    note = "Before Wed 7 Apr good blocks alone are counted: what broke or was rejected is not."
    assert note in held_text(Held(days, (), date(2027, 4, 7)), 0, WIDE).plain
    assert "good blocks" not in held_text(Held(days, ()), 0, WIDE).plain
