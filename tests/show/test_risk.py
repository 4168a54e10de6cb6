"""What may go wrong, in the words of the yard, on a phone too."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from blockrun.planner.plan import Plan
from blockrun.planner.risk.counted import Chance, Cost, LastPour, OfCourse, OfPart, Risk, SparesWorth, Spread
from blockrun.planner.risk.rates import Cause, Rates
from blockrun.show.risk import risk_text

PHONE, WIDE = 40, 200


@pytest.fixture
def risk(small_plan: Plan) -> Risk:
    courses = (
        OfCourse(1, date(2027, 5, 4), Chance(200, 200), 0),
        OfCourse(12, date(2027, 5, 15), Chance(199, 200), 0),
    )
    return Risk(
        plan=small_plan,
        rates=Rates(),
        seed=3,
        runs=200,
        in_time=Chance(101, 200),
        parts=(OfPart("wall", Chance(150, 200), 2, courses),),
        block_days=Spread(0, 4.25, 2, 11),
        last_pour=LastPour(date(2027, 4, 8), 1.5, date(2027, 4, 9), date(2027, 4, 13)),
        slack=2,
        costs=(
            Cost(Cause.COLD, 3.14, 0.5, Chance(180, 200)),
            Cost(Cause.AWAY, -0.21, -0.1, Chance(99, 200)),
        ),
        spares=SparesWorth(
            {("full", "light"): 2, ("half", "light"): 1, ("half", "heavy"): 1}, {("full", "light"): 4}, 0.08, 0.3
        ),
        never=0.0,
    )


def lines(risk: Risk, width: int = WIDE) -> list[str]:
    return risk_text(risk, width).plain.splitlines()


def test_chances_stand_by_course_with_what_they_are_between(risk: Risk) -> None:
    said = lines(risk)
    assert said[0] == "Garden wall: 200 runs of this plan, things going wrong by chance"
    assert "All courses there in time: 50 % of the runs (44-57)." in said
    assert "wall, all in time: 75 % of the runs (69-80); needed 2 days later, 9 of 10 runs hold" in said
    assert "   1  Tue 4 May   100 %  (98-100)" in said


def test_a_chance_is_a_hundred_only_where_every_run_held(risk: Risk) -> None:
    assert "  12  Sat 15 May   99 %  (97-100)" in lines(risk)


def test_how_late_it_gets_is_said_for_half_and_for_nine_in_ten(risk: Risk) -> None:
    said = lines(risk)
    assert "Late: 0 block-days in the plan, 4.2 on the mean; half of the runs up to 2, 9 of 10 up to 11." in said
    assert "Last pour: Thu 8 Apr in the plan; half of the runs by Fri 9 Apr, 9 of 10 by Tue 13 Apr." in said


def test_what_is_worth_having_is_said_by_mark(risk: Risk) -> None:
    said = lines(risk)
    assert "Slack worth having: needed 2 days later, 9 of 10 runs hold." in said
    assert (
        "Spares worth having: 4, for broken blocks alone to miss a course in under 1 run in 20: 2 of full; 1 each of "
        "half (heavy) and half (light). Cast them before they are needed." in " ".join(said)
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
    assert "- without cold snaps: 3.1 block-days less late, last pour 0.5 days sooner; all in time in 90 %" in said
    assert "- without people missing: 0.2 block-days more late, last pour 0.1 days later; all in time in 50 %" in said


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


def test_blocks_never_cast_are_told(risk: Risk) -> None:
    assert any("1.5 blocks on the mean" in line for line in lines(replace(risk, never=1.5)))


def test_it_fits_a_phone(risk: Risk) -> None:
    assert max(map(len, lines(risk, PHONE))) <= PHONE
