"""What may go wrong, in the words of the yard, on a phone too."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from blockrun.planner.plan import Plan
from blockrun.planner.risk.counted import Chance, Cost, LastPour, Never, OfCourse, OfPart, Risk, SparesWorth, Spread
from blockrun.planner.risk.rates import Cause, Rates
from blockrun.show.risk import risk_text

PHONE, WIDE = 40, 200


@pytest.fixture
def risk(small_plan: Plan) -> Risk:
    courses = (
        OfCourse(1, date(2027, 5, 4), ("full",), Chance(200, 200), 0),
        OfCourse(12, date(2027, 5, 15), ("full", "half"), Chance(199, 200), 0),
    )
    return Risk(
        plan=small_plan,
        rates=Rates(),
        seed=3,
        runs=200,
        asked=200,
        in_time=Chance(101, 200),
        parts=(OfPart("wall", Chance(150, 200), 2, courses),),
        block_days=Spread(0, 4.25, 2, 11),
        last_pour=LastPour(date(2027, 4, 8), date(2027, 4, 9), date(2027, 4, 13)),
        batches=Spread(12, 12.5, 12, 14),
        slack=2,
        costs=(
            Cost(Cause.COLD, 3.14, 0.5, 0.04, Chance(180, 200)),
            Cost(Cause.AWAY, -0.21, -0.1, 1.2, Chance(99, 200)),
        ),
        spares=SparesWorth(
            {("full", "light"): 2, ("half", "light"): 1, ("half", "heavy"): 1}, {("full", "light"): 4}, 0.08, 0.3
        ),
        never=Never(0, 0.0, date(2027, 11, 4)),
    )


def lines(risk: Risk, width: int = WIDE) -> list[str]:
    return risk_text(risk, width).plain.splitlines()


def test_chances_stand_by_course_with_what_they_are_between(risk: Risk) -> None:
    said = lines(risk)
    assert said[0] == "Garden wall: 200 runs of this plan, things going wrong by chance"
    assert "All courses there in time: 50 % of the runs (44-57)." in said
    assert "wall, all in time: 75 % of the runs (69-80); needed 2 days later, 9 of 10 runs hold" in said
    assert "   1  Tue 4 May   100 %  (98-100)" in said


def test_where_no_cause_has_a_rate_nothing_is_left_to_chance(risk: Risk) -> None:
    """What is drawn of it is the same in every run, so no true chance lies elsewhere."""
    none = Rates().without(*Cause)
    said = lines(replace(risk, rates=none, in_time=Chance(200, 200)))
    assert "All courses there in time: 100 % of the runs." in said
    assert "By these rates nothing goes wrong, so all runs are alike. By course, and the day it is needed:" in said
    assert "   1  Tue 4 May   100 %" in said
    assert "(98-100)" in "".join(lines(replace(risk, rates=none.model_copy(update={"days_lost": 0.01}))))


def test_a_chance_is_a_hundred_only_where_every_run_held(risk: Risk) -> None:
    assert "  12  Sat 15 May   99 %  (97-100)" in lines(risk)


def test_what_the_plan_itself_has_late_is_told_apart_from_what_chance_does(risk: Risk) -> None:
    (wall,) = risk.parts
    late = replace(wall, courses=(wall.courses[0], replace(wall.courses[1], chance=Chance(0, 200), planned=3)))
    said = lines(replace(risk, parts=(late,)))
    assert "The plan itself has 1 course late, whatever goes well." in said
    assert "No course later than in the plan: 50 % of the runs (44-57)." in said
    assert "wall, none later than in the plan: 75 % of the runs (69-80); needed 2 days later, 9 of 10 runs hold" in said
    assert "  12  Sat 15 May    0 %  (0-2)  3 days late in the plan" in said
    assert any("without cold snaps: none later than planned in 90 %" in line for line in said)
    assert not any("in the plan" in line or "planned" in line for line in lines(risk) if "course" in line)


def test_how_late_it_gets_is_said_for_half_and_for_nine_in_ten(risk: Risk) -> None:
    said = lines(risk)
    assert "Late: 0 block-days in the plan, 4.2 on the mean; half of the runs up to 2, 9 of 10 up to 11." in said
    assert "Last pour: Thu 8 Apr in the plan; half of the runs by Fri 9 Apr, 9 of 10 by Tue 13 Apr." in said


def test_what_is_worth_having_is_said_by_mark(risk: Risk) -> None:
    said = lines(risk)
    assert "Slack worth having: needed 2 days later, 9 of 10 runs hold." in said
    assert (
        "Spares worth having: 4, for broken blocks alone to miss a course in under 1 run in 20: 2 of full; 1 each of "
        "half (heavy) and half (light). They help if they are there before the courses, and no plan can be told a day "
        "for spares: pour them besides it into moulds that stand empty early on, and record that as poured extra."
        in " ".join(said)
    )
    assert any(line.startswith("The plan casts 4 spares, when it suits: ") for line in said)


def test_where_no_spares_help_that_is_said(risk: Risk) -> None:
    none = replace(risk, spares=SparesWorth({}, {}, 0.0, 0.01))
    enough = replace(risk, spares=SparesWorth(None, {}, 0.5, 0.5))
    assert "Spares worth having: none; without any, 1 % of the runs miss a course by broken blocks alone." in lines(
        none
    )
    assert any("no number is enough" in line for line in lines(enough))


def test_the_dearest_cause_comes_first_and_what_does_good_is_not_hidden(risk: Risk) -> None:
    said = lines(risk)
    assert "- without cold snaps: all in time in 90 %; 3.1 block-days less late, last pour 0.5 days sooner" in said
    assert (
        "- without people missing: all in time in 50 %; 0.2 block-days more late, last pour 0.1 days later, "
        "1.2 batches fewer" in said
    )


def test_what_changes_nothing_is_not_counted_in_noughts(risk: Risk) -> None:
    said = lines(replace(risk, costs=(Cost(Cause.FLAT, 0.0, 0.02, -0.04, Chance(101, 200)),)))
    assert "- without flat batches: all in time in 50 %; nothing else changes" in said


def test_savings_that_come_to_more_than_there_is_are_explained(risk: Risk) -> None:
    said = " ".join(lines(risk))
    assert "What two causes bring about together goes with either of them, so these do not add up to the mean." in said


def test_batches_poured_are_told_for_what_goes_flat_costs_some(risk: Risk) -> None:
    assert "Batches: 12 in the plan, 12.5 on the mean; half of the runs up to 12, 9 of 10 up to 14." in lines(risk)
    assert "A batch that goes flat is seen at once" in " ".join(lines(risk))


def test_runs_that_were_stopped_short_are_told(risk: Risk) -> None:
    assert lines(replace(risk, asked=5000))[1] == "Stopped: 200 of 5,000 runs are played."
    assert not any(line.startswith("Stopped") for line in lines(risk))


def test_a_course_that_is_needed_on_two_days_names_its_marks(risk: Risk) -> None:
    courses = tuple(replace(course, course=1) for course in risk.parts[0].courses)
    said = lines(replace(risk, parts=(replace(risk.parts[0], courses=courses),)))
    assert "  1  Tue 4 May   100 %  (98-100)  full" in said
    assert "  1  Sat 15 May   99 %  (97-100)  full and half" in said


def test_brackets_hold_the_chance_and_not_other_counts(risk: Risk) -> None:
    assert "In brackets where the true chance, by these rates, lies 95 times of 100." in " ".join(lines(risk))


def test_it_says_whose_the_rates_are_and_what_it_does_not_model(risk: Risk) -> None:
    said = " ".join(lines(risk))
    assert "1 % of blocks break at the strip and 0.5 % when moved" in said
    assert "They are ours, nothing is measured" in said
    assert "Not in it: deliveries that come late" in said
    own = " ".join(lines(replace(risk, rates=Rates(flat_batches=0.5))))
    assert "50 % of batches go flat" in own
    assert "They are ours" not in own


def test_an_order_without_days_has_no_chances(risk: Risk) -> None:
    said = lines(replace(risk, parts=()))
    assert "No course has a day it is needed." in said
    assert not any(line.startswith("Slack") or "all in time" in line for line in said)


def test_blocks_never_cast_are_told_and_no_slack_is_claimed(risk: Risk) -> None:
    part = replace(risk.parts[0], slack=None)
    last = LastPour(date(2027, 4, 8), date(2027, 4, 9), None)
    never = Never(57, 1.5, date(2027, 11, 4))
    said = " ".join(lines(replace(risk, never=never, slack=None, parts=(part,), last_pour=last)))
    none = "no later day is enough, more than 1 run in 10 never casts all of it"
    assert f"wall, all in time: 75 % of the runs (69-80); {none}" in said
    assert f"Slack worth having: {none}." in said
    assert "half of the runs by Fri 9 Apr, not 9 of 10 cast all." in said
    seldom = " ".join(lines(replace(risk, never=never, last_pour=replace(last, median=None))))
    assert "Last pour: Thu 8 Apr in the plan; not half of the runs cast all." in seldom
    assert (
        "Never cast: blocks in 57 of 200 runs, 1.5 on the mean of these, though runs go on for months; they count as "
        "late until Thu 4 Nov 2027, where runs end." in said
    )
    assert not any(line.startswith("Never cast") for line in lines(risk))


def test_it_fits_a_phone(risk: Risk) -> None:
    assert max(map(len, lines(risk, PHONE))) <= PHONE
