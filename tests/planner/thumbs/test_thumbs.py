"""Thumbs move the strips of a plan made by hand: 24 h at 20 degC are over on Tuesday, 12:45; the strip is at 12:50."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest

from blockrun.cure.thumb import SOONEST, THUMBS, Thumb
from blockrun.errors import BadInput
from blockrun.planner.begun.facts import BatchPoured, Begun
from blockrun.planner.label_code import plan_id
from blockrun.planner.plan import Plan
from blockrun.planner.thumbs.follows import Follows, follows
from blockrun.planner.thumbs.paces import SEVERAL, paces, strip_at_proposed
from blockrun.planner.thumbs.pressed import ThumbTest
from blockrun.planner.thumbs.thumbed import Thumbed
from blockrun.planner.thumbs.turns import Thumbs
from blockrun.planner.went import Stands, Went
from blockrun.site import Strength, Weather


def at(text: str) -> datetime:
    return datetime.fromisoformat(f"2027-04-{text}")


def pressed(plan: Plan, *tests: tuple[str, str, str]) -> Thumbs:
    """Press thumbs one after the other: mould, when, what it shows."""
    thumbs = Thumbs(plan)
    for mould, when, shows in tests:
        thumbs, _ = thumbs.press(mould, at(when), next(thumb for thumb in THUMBS if thumb == shows))
    return thumbs


def of(thumbs: Thumbs, mould: str, turn: int = 1) -> Thumbed:
    return thumbs.thumbed[mould, turn]


def then(thumbs: Thumbs, mould: str, turn: int = 1) -> Follows:
    return follows(thumbs, of(thumbs, mould, turn))


def with_curing(plan: Plan, **curing: object) -> Plan:
    changed = plan.site.curing.model_copy(update=curing)
    return replace(plan, site=plan.site.model_copy(update={"curing": changed}))


# how old it is, and from when it is stripped


def test_a_test_holds_what_the_plan_says_of_the_mould(small_plan: Plan) -> None:
    _, test = Thumbs(small_plan).press("gang-2/1", at("06 12:45"), "dents", "in a corner")
    assert test == ThumbTest(
        at("06 12:45"), "gang-2/01", "", 1, (1,), "light", at("05 08:24"), pytest.approx(24, abs=0.02), "dents",
        at("06 12:50"), at("07 08:00"), "in a corner", plan_id(small_plan),
    )  # fmt: skip


def test_a_thumb_as_due_leaves_the_plan_as_it_is(small_plan: Plan) -> None:
    thumbed = of(pressed(small_plan, ("gang-2/01", "06 07:50", "dents")), "gang-2/01")
    assert thumbed.told.factor == 1
    assert (thumbed.strip.begins, thumbed.moved("strip")) == (at("06 12:50"), None)


def test_dents_at_its_age_put_the_strip_off(small_plan: Plan) -> None:
    thumbed = of(pressed(small_plan, ("gang-2/01", "06 12:45", "dents")), "gang-2/01")
    assert thumbed.is_later
    assert (thumbed.strip.reckoned, thumbed.strip.begins) == (at("06 12:45"), at("07 08:00"))


def test_firm_before_its_age_lets_it_be_stripped_from_then(small_plan: Plan) -> None:
    thumbed = of(pressed(small_plan, ("gang-2/01", "06 10:30", "firm")), "gang-2/01")
    assert thumbed.is_sooner
    assert (thumbed.may_strip, thumbed.strip.begins) == (at("06 10:30"), at("06 12:50"))


def test_however_firm_it_waits_for_four_fifths_of_its_age(small_plan: Plan) -> None:
    ripe = of(pressed(small_plan, ("gang-2/01", "06 04:00", "firm")), "gang-2/01").strip.ripe
    later = pressed(small_plan, ("gang-2/01", f"{ripe:%d %H:%M}", "firm"))
    assert ripe > at("06 04:00")
    assert later.tests[0].age_h == pytest.approx(SOONEST * 24, abs=0.02)


def test_firm_sooner_than_a_thumb_can_tell_moves_nothing(small_plan: Plan) -> None:
    thumbed = of(pressed(small_plan, ("gang-2/01", "05 20:00", "firm")), "gang-2/01")
    assert (thumbed.told.agrees, thumbed.moved("strip")) == (False, None)


def test_a_strength_is_waited_for_however_firm(small_plan: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("blockrun.planner.ages.Ages.hours", lambda self, asked: 24.0)
    plan = with_curing(small_plan, strip_at_h=Strength(0.5))
    assert not of(pressed(plan, ("gang-2/01", "06 10:30", "firm")), "gang-2/01").is_sooner
    assert of(pressed(plan, ("gang-2/01", "06 12:45", "dents")), "gang-2/01").is_later


def test_modelled_heat_has_a_clock_of_its_own(small_plan: Plan) -> None:
    warm = with_curing(small_plan, heat="modelled")
    as_air = pressed(small_plan, ("gang-2/01", "06 07:50", "soft")).tests[0]
    modelled = pressed(warm, ("gang-2/01", "06 07:50", "soft")).tests[0]
    assert modelled.age_h > as_air.age_h


def test_a_test_of_another_plan_moves_nothing(small_plan: Plan) -> None:
    tests = pressed(small_plan, ("gang-2/01", "06 12:45", "dents")).tests
    other = Thumbs(small_plan, [replace(tests[0], plan="another")])
    assert (other.thumbed, len(other.tests)) == ({}, 1)


def test_a_test_that_names_no_plan_is_of_this_one_where_the_pour_is_the_same(small_plan: Plan) -> None:
    (test,) = pressed(small_plan, ("gang-2/01", "06 12:45", "dents")).tests
    assert Thumbs(small_plan, [replace(test, plan="")]).thumbed
    assert Thumbs(small_plan, [replace(test, plan="", poured=at("05 08:25"))]).thumbed == {}


def test_a_test_made_by_the_plan_before_is_of_the_batch_as_this_one_numbers_it(small_plan: Plan) -> None:
    (test,) = pressed(small_plan, ("gang-2/01", "06 12:45", "dents")).tests
    poured = BatchPoured(
        number=1, plan="before", was=7, mixer="drum", mix="light", bags=2, poured=at("05 08:24")
    )  # fmt: skip
    anew = replace(small_plan, begun=Begun(since=at("06 13:00"), batches=(poured,)))
    assert list(Thumbs(anew, [replace(test, plan="before", batches=(7,), turn=3)]).thumbed) == [("gang-2/01", 1)]
    assert Thumbs(anew, [replace(test, plan="before", batches=(8,))]).thumbed == {}


# what is recorded counts before the plan


def recorded(poured: datetime, *batches: int) -> Went:
    return Went({"gang-2/01": Stands(frozenset(batches), poured)}, frozenset(batches))


def test_a_batch_poured_later_than_planned_is_younger_when_it_is_pressed(small_plan: Plan) -> None:
    as_planned = Thumbs(small_plan).press("gang-2/01", at("06 12:45"), "dents")[1]
    thumbs, test = Thumbs(small_plan).press("gang-2/01", at("06 12:45"), "dents", "", recorded(at("05 14:00"), 1))
    assert (test.poured, test.turn) == (at("05 14:00"), 1)
    assert test.age_h < as_planned.age_h
    assert of(thumbs, "gang-2/01").strip.reckoned > at("06 13:00")


def early(plan: Plan, shows: Thumb) -> Thumbed:
    """Batch 4 fills half of what the plan has on Thursday, on Monday already, and is pressed on Tuesday."""
    thumbs, _ = Thumbs(plan).press("gang-2/01", at("06 09:00"), shows, "", recorded(at("05 09:42"), 4))
    return of(thumbs, "gang-2/01", 3)


def test_a_batch_poured_on_an_earlier_day_is_pressed_again_by_its_pour(small_plan: Plan) -> None:
    thumbed = early(small_plan, "soft")
    assert thumbed.turn.strip == at("12 08:00")
    assert thumbed.strip.begins == thumbed.may_strip < at("08 00:00")


def test_and_may_be_stripped_by_it(small_plan: Plan) -> None:
    thumbed = early(small_plan, "firm")
    assert thumbed.is_sooner
    assert thumbed.moved("strip") == thumbed.may_strip < at("07 12:00")


def test_only_batches_that_were_poured_are_of_a_test(small_plan: Plan) -> None:
    thumbed = early(small_plan, "dents")
    assert thumbed.tests[-1].batches == thumbed.turn.batches == (4,)
    assert thumbed.turn.mix == "heavy"
    assert len(thumbed.turn.casts) == 1


def test_what_is_recorded_as_stripped_is_pressed_no_more(small_plan: Plan) -> None:
    with pytest.raises(BadInput, match="nothing stands in gang-2/01 at 2027-04-06 12:45, by what is recorded"):
        Thumbs(small_plan).press("gang-2/01", at("06 12:45"), "dents", "", Went({}, frozenset({1})))


def test_a_batch_that_the_plan_has_elsewhere_is_told_so(small_plan: Plan) -> None:
    with pytest.raises(BadInput, match="the plan never has in gang-2/01 what stands there as recorded"):
        Thumbs(small_plan).press("gang-2/01", at("06 12:45"), "dents", "", recorded(at("05 14:00"), 99))


@pytest.mark.parametrize("other", [{"batches": (9,)}, {"mix": "heavy"}])
def test_a_test_of_other_batches_or_another_mix_moves_nothing(small_plan: Plan, other: dict[str, Any]) -> None:
    """First turns are poured at the same minute in every plan of a yard."""
    tests = pressed(small_plan, ("gang-2/01", "06 12:45", "dents")).tests
    assert Thumbs(small_plan, [replace(tests[0], **other)]).thumbed == {}


def test_a_thumb_that_sinks_in_releases_no_strip_at_that_minute(small_plan: Plan) -> None:
    when = ("06 12:45", "07 15:00", "08 15:00", "09 07:00", "09 08:05")
    thumbed = of(pressed(small_plan, *[("gang-2/01", moment, "soft") for moment in when]), "gang-2/01")
    assert (thumbed.sinks_in, thumbed.press_again) == (True, True)
    assert thumbed.strip.begins >= thumbed.firm_counts > at("10 08:00")


def with_nights(plan: Plan, *least_c: float) -> Plan:
    """Days as mild as they were, with other nights from Monday on."""
    days = tuple((night, 22) for night in least_c)
    return replace(plan, site=plan.site.model_copy(update={"weather": Weather(at("05").date(), days)}))


def test_a_firm_thumb_in_air_that_freezes_is_ice_and_tells_nothing(small_plan: Plan) -> None:
    frosty = with_nights(small_plan, 10, -4, 10)
    thumbed = of(pressed(frosty, ("gang-2/01", "06 06:00", "firm")), "gang-2/01")
    assert (thumbed.is_sooner, thumbed.press_again, len(thumbed.iced)) == (False, True, 1)
    assert thumbed.told.factor == 1


def test_nor_does_ice_end_the_wait_after_a_dent(small_plan: Plan) -> None:
    frosty = with_nights(small_plan, 10, 10, -4, 10)
    dented = of(pressed(frosty, ("gang-2/01", "06 12:45", "dents")), "gang-2/01")
    iced = of(pressed(frosty, ("gang-2/01", "06 12:45", "dents"), ("gang-2/01", "07 06:00", "firm")), "gang-2/01")
    assert (iced.strip.begins, iced.press_again) == (dented.strip.begins, True)


def test_no_strip_is_before_a_thumb_on_ice(small_plan: Plan) -> None:
    frosty = with_nights(small_plan, 10, 10, -4, 10)
    when = ("gang-2/01", "06 12:45", "dents"), ("gang-2/01", "07 07:00", "firm")
    assert of(pressed(frosty, *when), "gang-2/01").strip.ripe == at("07 07:00")


def test_after_any_frost_since_the_pour_firm_brings_no_strip_forward(small_plan: Plan) -> None:
    cold = with_nights(small_plan, 10, 0, 10)
    frosty = with_nights(small_plan, 10, -0.5, 10)
    assert of(pressed(cold, ("gang-2/02", "06 11:30", "firm")), "gang-2/02").told.factor > 1
    thumbed = of(pressed(frosty, ("gang-2/02", "06 11:30", "firm")), "gang-2/02")
    assert (thumbed.froze, thumbed.iced, thumbed.strip.ripe) == (True, (), thumbed.strip.reckoned)
    assert of(pressed(cold, ("gang-2/02", "06 11:30", "firm")), "gang-2/02").strip.ripe == at("06 11:30")


def test_the_same_test_twice_counts_once(small_plan: Plan) -> None:
    thumbs = pressed(small_plan, ("gang-2/01", "06 12:45", "dents"))
    again, known = thumbs.press("GANG-2/1", at("06 12:45"), "dents", "once more")
    assert (again, known) == (thumbs, thumbs.tests[0])


def test_what_was_put_off_is_pressed_again_and_stripped(small_plan: Plan) -> None:
    """It was to be filled again by 14:09: the thumb at 15:45 is still in the first turn."""
    thumbs = pressed(small_plan, ("gang-2/01", "06 12:45", "dents"), ("gang-2/01", "06 15:45", "firm"))
    thumbed = of(thumbs, "gang-2/01")
    assert (thumbed.press_again, thumbed.set_aside) == (False, ())
    assert (thumbed.told.agrees, thumbed.strip.ripe) == (True, at("06 15:45"))


def test_a_dent_two_minutes_before_the_strip_puts_it_off_until_pressed_again(small_plan: Plan) -> None:
    thumbed = of(pressed(small_plan, ("gang-2/01", "06 12:43", "dents")), "gang-2/01")
    assert (thumbed.is_later, thumbed.press_again) == (True, True)
    assert at("06 12:50") < thumbed.firm_counts < thumbed.strip.begins


def test_firm_minutes_after_dents_brings_no_strip_back(small_plan: Plan) -> None:
    dented = pressed(small_plan, ("gang-2/01", "06 12:40", "dents"))
    then_firm = pressed(small_plan, ("gang-2/01", "06 12:40", "dents"), ("gang-2/01", "06 12:50", "firm"))
    assert of(then_firm, "gang-2/01").strip == of(dented, "gang-2/01").strip
    assert of(then_firm, "gang-2/01").set_aside == then_firm.tests[1:]
    assert of(then_firm, "gang-2/01").press_again


def test_firm_frees_the_mould_from_the_moment_that_is_told(small_plan: Plan) -> None:
    dented = pressed(small_plan, ("gang-2/01", "06 12:40", "dents"))
    counts = of(dented, "gang-2/01").firm_counts + timedelta(minutes=1)  # ages are kept to a hundredth of an hour
    freed, _ = dented.press("gang-2/01", counts, "firm")
    assert of(freed, "gang-2/01").strip.ripe == counts


def test_dents_near_the_strip_age_ask_for_another_press_where_the_strip_is_late_anyway(small_plan: Plan) -> None:
    thumbed = of(pressed(small_plan, ("gang-2/01", "06 11:20", "dents")), "gang-2/01")
    assert (thumbed.told.factor < 1, thumbed.press_again) == (True, True)


def test_tests_that_gainsay_each_other_go_by_the_softer(small_plan: Plan) -> None:
    thumbs = pressed(small_plan, ("gang-2/01", "06 10:30", "firm"), ("gang-2/01", "06 12:50", "dents"))
    thumbed = of(thumbs, "gang-2/01")
    assert (thumbed.set_aside, thumbed.is_later) == (thumbs.tests[:1], True)


def test_saving_the_tests_and_reading_them_moves_the_same(small_plan: Plan) -> None:
    thumbs = pressed(small_plan, ("gang-2/01", "06 12:45", "dents"), ("tray-1/b02", "07 15:00", "soft"))
    assert Thumbs(small_plan, thumbs.tests).thumbed == thumbs.thumbed


# moulds with bases


@pytest.fixture
def late_sides(small_plan: Plan) -> Plan:
    """Sides that wait for 16 h at 20 degC, over on Tuesday before work; they come off at 08:00."""
    gang, tray = small_plan.site.moulds
    moulds = (gang, tray.model_copy(update={"sides_off_at_h": 16.0}))
    return replace(small_plan, site=small_plan.site.model_copy(update={"moulds": moulds}))


def test_soft_keeps_the_sides_on_too(late_sides: Plan) -> None:
    thumbed = of(pressed(late_sides, ("tray-1/01", "06 07:50", "soft")), "tray-1/01")
    assert thumbed.sides is not None
    assert thumbed.sides.begins > at("06 13:00")
    assert thumbed.moved("sides") == thumbed.sides.begins < thumbed.strip.begins


def test_no_strip_begins_before_the_sides_are_off(small_plan: Plan) -> None:
    gang, tray = small_plan.site.moulds
    moulds = (gang, tray.model_copy(update={"sides_off_at_h": 24.0}))
    as_old = replace(small_plan, site=small_plan.site.model_copy(update={"moulds": moulds}))
    thumbed = of(pressed(as_old, ("tray-1/01", "06 07:50", "soft")), "tray-1/01")
    assert thumbed.sides is not None
    assert thumbed.sides.ripe == thumbed.strip.ripe
    assert thumbed.sides.ends <= thumbed.strip.begins


def test_frost_since_the_pour_brings_no_sides_forward(small_plan: Plan) -> None:
    gang, tray = small_plan.site.moulds
    moulds = (gang, tray.model_copy(update={"sides_off_at_h": 20.0}))
    plan = replace(small_plan, site=small_plan.site.model_copy(update={"moulds": moulds}))
    for least_c, froze in ((0, False), (-0.5, True)):
        thumbed = of(pressed(with_nights(plan, 10, least_c, 10), ("tray-1/01", "06 07:55", "firm")), "tray-1/01")
        assert thumbed.sides is not None
        assert (thumbed.froze, thumbed.sides.ripe < thumbed.sides.reckoned) == (froze, not froze)


@pytest.mark.parametrize(("asked", "is_sooner"), [(20.0, True), (Strength(0.3), False)])
def test_firm_brings_sides_forward_unless_they_wait_for_a_strength(
    small_plan: Plan, monkeypatch: pytest.MonkeyPatch, asked: float | Strength, is_sooner: bool
) -> None:
    monkeypatch.setattr("blockrun.planner.ages.Ages.sides_h", lambda self, kind: 20.0)
    gang, tray = small_plan.site.moulds
    moulds = (gang, tray.model_copy(update={"sides_off_at_h": asked}))
    plan = replace(small_plan, site=small_plan.site.model_copy(update={"moulds": moulds}))
    sides = of(pressed(plan, ("tray-1/01", "06 04:00", "firm")), "tray-1/01").sides
    assert sides is not None
    assert (sides.ripe < sides.reckoned) == is_sooner


def test_dents_as_due_let_the_sides_come_off(late_sides: Plan) -> None:
    thumbed = of(pressed(late_sides, ("tray-1/01", "06 07:50", "dents")), "tray-1/01")
    assert (thumbed.sides_later, thumbed.moved("sides")) == (False, None)


def test_sides_that_stay_on_keep_the_next_fill_waiting(late_sides: Plan) -> None:
    """The mould is filled again at 13:59, on its other base."""
    found = then(pressed(late_sides, ("tray-1/01", "06 07:50", "soft")), "tray-1/01")
    assert [(fill.place, fill.turn.base) for fill in found.fills if fill.too_soon] == [("tray-1/01", "tray-1/b02")]


def test_a_thumb_after_the_sides_came_off_says_nothing_of_them(small_plan: Plan) -> None:
    assert of(pressed(small_plan, ("tray-1/b01", "06 08:00", "dents")), "tray-1/01").sides is None


# what follows


def test_the_next_fill_that_can_no_longer_begin_in_time_is_told(small_plan: Plan) -> None:
    (fill,) = then(pressed(small_plan, ("gang-2/01", "06 12:45", "dents")), "gang-2/01").fills
    assert (fill.place, fill.turn.batches, fill.too_soon) == ("gang-2/01", (2,), True)
    assert (fill.free, fill.turn.filled) == (at("07 08:20"), at("06 13:59"))


def test_a_base_that_is_free_later_may_still_be_in_time(small_plan: Plan) -> None:
    (fill,) = then(pressed(small_plan, ("tray-1/b01", "06 12:50", "dents")), "tray-1/01").fills
    assert (fill.place, fill.turn.batches, fill.too_soon) == ("tray-1/b01", (3,), False)


def test_a_mould_cleaned_later_by_plan_is_free_as_planned(small_plan: Plan) -> None:
    """Pressed five minutes after its strip was to begin, it is stripped by 13:05, and was to be cleaned at 13:13."""
    (fill,) = then(pressed(small_plan, ("gang-2/02", "06 12:55", "firm")), "gang-2/02").fills
    assert (fill.free, fill.too_soon) == (at("06 13:23"), False)


def test_a_mould_free_to_the_minute_is_in_time(small_plan: Plan) -> None:
    (fill,) = then(pressed(small_plan, ("gang-2/02", "06 13:39", "firm")), "gang-2/02").fills
    assert (fill.free, fill.turn.filled, fill.too_soon) == (at("06 13:59"), at("06 13:59"), False)


def test_places_on_the_rack_are_held_longer(small_plan: Plan) -> None:
    (rack,) = then(pressed(small_plan, ("gang-2/01", "06 12:45", "dents")), "gang-2/01").racks
    assert (rack.rack, rack.blocks, rack.over) == ("east", 2, 0)
    assert (rack.planned, rack.until) == (at("13 13:00"), at("14 08:10"))


def test_blocks_that_then_have_no_place_are_counted(small_plan: Plan) -> None:
    """At 13:00 seven others lie on east: five of the second turns, one spare, one that leaves at 13:07."""
    racks = tuple(rack.model_copy(update={"places": 8}) for rack in small_plan.site.racks)
    full = replace(small_plan, site=small_plan.site.model_copy(update={"racks": racks}))
    (rack,) = then(pressed(full, ("gang-2/01", "06 12:45", "dents")), "gang-2/01").racks
    assert rack.over == 1


def test_blocks_are_ready_later_only_where_the_rack_and_not_their_age_holds_them(small_plan: Plan) -> None:
    assert then(pressed(small_plan, ("gang-2/01", "06 12:45", "dents")), "gang-2/01").later == ()
    soon = with_curing(small_plan, rack_for_min=28 * 1440)
    casts = soon.tables.casts.assign(ready=soon.tables.casts["rack_from"] + (at("29") - at("01")))
    soon = replace(soon, tables=replace(soon.tables, casts=casts))
    (later,) = then(pressed(soon, ("gang-2/01", "06 12:45", "dents")), "gang-2/01").later
    assert (later.count, later.mark, later.part, later.course) == (2, "full", "wall", 1)
    assert (later.planned.isoformat(), later.ready.isoformat(), later.days_late) == ("2027-05-04", "2027-05-05", 1)


def test_frost_that_it_now_stands_through_is_told(small_plan: Plan) -> None:
    days = ((10, 21), (11, 22), (2, 18), (8, 19), (10, 20))
    frosty = replace(small_plan, site=small_plan.site.model_copy(update={"weather": Weather(at("05").date(), days)}))
    assert then(pressed(frosty, ("gang-2/01", "06 12:50", "dents")), "gang-2/01").frost == (at("07").date(),)


def test_moulds_of_the_same_batch_are_named(small_plan: Plan) -> None:
    found = then(pressed(small_plan, ("gang-2/01", "06 12:45", "dents")), "gang-2/01")
    assert found.same_batch == ("gang-2/02", "tray-1/b01")
    thumbs = pressed(small_plan, ("gang-2/01", "06 12:45", "dents"), ("gang-2/01", "06 15:45", "firm"))
    assert then(thumbs, "gang-2/01").same_batch == ()


# all of them together


def a_test(day: int, age_h: float, thumb: str, mix: str = "light", batch: int = 1) -> ThumbTest:
    shows = next(one for one in THUMBS if one == thumb)
    poured = at(f"{day:02} 08:00")
    when = at(f"{day + 1:02} 10:00")
    return ThumbTest(when, f"gang-2/{batch:02}", "", 1, (batch,), mix, poured, age_h, shows, when, when)


def test_pours_that_agree_on_a_slower_pace_speak_for_a_later_strip() -> None:
    found = paces([a_test(day, 24.0, "dents") for day in range(5, 5 + SEVERAL)], 24.0)
    assert [(one.n_tests, one.n_pours, one.n_slower, one.told.factor) for one in found] == [(3, 3, 3, 0.75)]
    assert strip_at_proposed(found, 24.0) == (32, found[0])


def test_once_that_is_written_the_same_tests_propose_no_more() -> None:
    found = paces([a_test(day, 24.0, "dents") for day in range(5, 8)], 32.0)
    assert (found[0].told.factor, strip_at_proposed(found, 30.0)) == (1, None)


def test_one_slow_pour_is_not_several_however_often_it_is_pressed() -> None:
    tests = [a_test(5, 24.0 + n / 10, "dents") for n in range(5)]
    assert strip_at_proposed(paces(tests, 24.0), 24.0) is None


def test_one_slow_pour_among_several_proposes_nothing() -> None:
    found = paces([a_test(5, 24.0, "dents"), a_test(6, 20.0, "dents"), a_test(7, 21.0, "dents")], 24.0)
    assert (found[0].n_pours, found[0].n_slower, found[0].told.factor < 1) == (3, 1, True)
    assert strip_at_proposed(found, 24.0) is None


def test_a_faster_pace_proposes_nothing() -> None:
    found = paces([a_test(day, 20.0, "firm") for day in range(5, 9)], 24.0)
    assert found[0].told.factor > 1
    assert strip_at_proposed(found, 24.0) is None


def test_each_mix_has_its_pace_and_the_slowest_sets_the_age() -> None:
    slow = [a_test(day, 24.0, "soft", "lean", batch=2) for day in range(5, 8)]
    found = paces([a_test(5, 24.0, "firm"), *slow], 24.0)
    assert [one.mix for one in found] == ["", "lean", "light"]
    assert not found[0].told.agrees
    hours, of_mix = strip_at_proposed(found, 24.0) or (0, None)
    assert (hours, of_mix) == (52, found[1])


def test_no_tests_tell_no_pace() -> None:
    assert paces([], 24.0) == []


def test_a_mould_just_poured_is_told_to_wait(small_plan: Plan) -> None:
    plan = with_curing(small_plan, heat="modelled")  # it counts from the next quarter of an hour
    with pytest.raises(BadInput, match="poured just before"):
        Thumbs(plan).press("gang-2/01", at("05 08:25"), "soft")
