"""What becomes of a pour of each hour, without a plan."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from math import ceil

import pytest

from blockrun.cure import AgeClock, warm
from blockrun.errors import BadInput, OutOfRange
from blockrun.planner.plan import Plan
from blockrun.planner.times import DayTimes, times_of
from blockrun.show.times import times_text
from blockrun.site import Site, Sky, Strength, Weather
from blockrun.site.weather import TypicalYear

MONDAY = date(2027, 4, 5)
MIDNIGHT = datetime.combine(MONDAY, time())


@pytest.fixture
def site(small_plan: Plan) -> Site:
    """The small yard at a steady 18 degC."""
    return small_plan.site.model_copy(update={"weather": Weather(MONDAY, ((18.0, 18.0),) * 14)})


def of_kind(site: Site, name: str, last: date = MONDAY) -> tuple[DayTimes, ...]:
    found = times_of(site, None, MONDAY, last).kinds
    return next(times.days for times in found if name in {kind.kind for kind in times.kinds})


def test_each_full_hour_is_told_at_which_a_pour_can_end(site: Site):
    """Windows 8:00-12:00 and 12:30-16:00, last foam 15:00."""
    hours = [times.poured.hour for times in of_kind(site, "gang-2")[0].hours]
    assert hours == list(range(9, 16))


def in_heat(site: Site, *hot: int) -> Site:
    """41 degC at some full hours and 18 at others: foam and pour take 14 of the 16 min that a mix keeps in the cool."""
    air_c = tuple(41.0 if hour in hot else 18.0 for hour in range(25))
    weather = Weather(MONDAY, ((18.0, 41.0),) * 14, skies=(Sky(air_c=air_c),) * 14)
    return site.model_copy(update={"weather": weather, "pour_life_min": 16.0})


def test_hours_in_which_a_mix_sets_before_it_is_poured_are_left_out(site: Site):
    """Too hot for foam from a little after ten to a little before two."""
    (monday,) = of_kind(in_heat(site, 11, 12, 13), "gang-2")
    assert [times.poured.hour for times in monday.hours] == [9, 10, 14, 15]
    text = times_text(in_heat(site, 11, 12, 13), times_of(in_heat(site, 11, 12, 13), None, MONDAY, MONDAY), 80).plain
    assert "\n09-10 " in text
    assert "09-15" not in text


def test_a_day_that_is_too_hot_at_every_hour_has_no_pour(site: Site):
    (monday,) = of_kind(in_heat(site, *range(25)), "gang-2")
    assert (monday.stopped, monday.hours) == ("too hot at every hour to pour a mix while it keeps", ())


def test_where_no_hour_of_a_year_is_cool_enough_all_are_told_for_a_plan_pours_at_them(site: Site):
    always = Weather.of_typical(TypicalYear("Fenby", (Sky(air_c=(41.0,) * 25),) * 365))
    hot = site.model_copy(update={"weather": always, "pour_life_min": 16.0})
    assert [times.poured.hour for times in of_kind(hot, "gang-2")[0].hours] == list(range(9, 16))


def test_the_strip_is_the_first_working_time_at_the_age_asked(site: Site):
    clock = AgeClock.of(site)
    kind = next(kind for kind in site.moulds if kind.kind == "gang-2")
    length = kind.strip_and_saw_min + ceil(kind.cavities * site.move_time_min)
    for times in of_kind(site, "gang-2")[0].hours:
        minute = (times.poured - MIDNIGHT) // timedelta(minutes=1)
        assert times.ripe == MIDNIGHT + timedelta(minutes=clock.when(minute, site.curing.strip_at_h))
        assert times.strip >= times.ripe
        assert times.strip == site.calendar.next_stretch(times.ripe, length)


def test_sides_come_off_before_the_strip_where_there_are_bases(site: Site):
    clock = AgeClock.of(site)
    kind = next(kind for kind in site.moulds if kind.kind == "tray-1")
    assert isinstance(kind.sides_off_at_h, float)
    assert {times.sides for times in of_kind(site, "gang-2")[0].hours} == {None}
    for times in of_kind(site, "tray-1")[0].hours:
        minute = (times.poured - MIDNIGHT) // timedelta(minutes=1)
        assert times.sides is not None
        assert MIDNIGHT + timedelta(minutes=clock.when(minute, kind.sides_off_at_h)) <= times.sides < times.strip


def test_blocks_move_as_they_are_stripped_and_are_laid_after_rack_and_age(site: Site):
    kind = next(kind for kind in site.moulds if kind.kind == "gang-2")
    for times in of_kind(site, "gang-2")[0].hours:
        assert times.move - times.strip == timedelta(minutes=kind.strip_and_saw_min)
        assert times.lay >= (times.poured + timedelta(minutes=site.curing.lay_at_min)).date()
        assert times.lay >= (times.move + timedelta(minutes=site.curing.rack_for_min)).date()


def test_the_last_pour_for_a_strip_is_the_minute_before_it_moves_to_the_next_day(site: Site):
    (day,) = of_kind(site, "gang-2")
    (last,) = day.last
    clock = AgeClock.of(site)
    a_minute_later = (last.poured - MIDNIGHT) // timedelta(minutes=1) + 1
    ripe = MIDNIGHT + timedelta(minutes=clock.when(a_minute_later, site.curing.strip_at_h))
    kind = next(kind for kind in site.moulds if kind.kind == "gang-2")
    length = kind.strip_and_saw_min + ceil(kind.cavities * site.move_time_min)
    assert site.calendar.next_stretch(ripe, length).date() > last.strip.date()


def test_colder_never_strips_sooner(site: Site):
    cold = site.model_copy(update={"weather": Weather(MONDAY, ((9.0, 14.0),) * 14)})
    pairs = zip(of_kind(site, "tray-1")[0].hours, of_kind(cold, "tray-1")[0].hours, strict=True)
    assert all(slow.strip >= quick.strip and slow.sides >= quick.sides for quick, slow in pairs)


def test_a_week_of_working_days_is_told_unless_asked(site: Site):
    days = [day.day for day in times_of(site, None).kinds[0].days]
    assert days[0] == MONDAY
    assert all(site.calendar.is_working(day) and day < MONDAY + timedelta(days=7) for day in days)


def test_a_day_too_hot_tells_why_and_no_times(site: Site):
    hot = site.curing.model_copy(update={"most_air_c": 15.0})
    (day,) = of_kind(site.model_copy(update={"curing": hot}), "gang-2")
    assert day.stopped == "the air rises to 18 degC, and 15 degC is the most"
    assert (day.hours, day.last) == ((), ())


def test_moulds_that_are_alike_are_told_together(site: Site):
    twin = site.moulds[0].model_copy(update={"kind": "twin"})
    found = times_of(site.model_copy(update={"moulds": (*site.moulds, twin)}), None).kinds
    assert [[kind.kind for kind in times.kinds] for times in found] == [["gang-2", "twin"], ["tray-1"]]


@pytest.mark.parametrize("changed", [{"heat": "modelled"}, {"strip_at_h": Strength(0.5)}])
def test_what_only_the_mixes_tell_asks_for_the_order(site: Site, changed: dict[str, object]):
    asks = site.model_copy(update={"curing": site.curing.model_copy(update=changed)})
    with pytest.raises(BadInput, match="only the mixes of an order tell this"):
        times_of(asks, None)


def test_heat_is_modelled_with_the_mixes_of_the_order(site: Site, small_plan: Plan):
    warm = site.model_copy(update={"curing": site.curing.model_copy(update={"heat": "modelled"})})
    by_air = times_of(site, small_plan.order, MONDAY, MONDAY).kinds
    by_heat = times_of(warm, small_plan.order, MONDAY, MONDAY).kinds
    assert all(
        quick.ripe < slow.ripe
        for with_heat, without in zip(by_heat, by_air, strict=True)
        for quick, slow in zip(with_heat.days[0].hours, without.days[0].hours, strict=True)
    )


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        (date(2027, 4, 4), MONDAY, "is before the first day of the calendar"),
        (date(2027, 4, 6), MONDAY, "are not 1 to 62 days"),
        (MONDAY, date(2027, 9, 1), "are not 1 to 62 days"),
        (date(9999, 12, 30), date(9999, 12, 31), "is more than ten years after the first day of the calendar"),
        (date(9999, 12, 30), None, "is more than ten years after the first day of the calendar"),
    ],
)
def test_spans_that_cannot_be_told_are_refused(site: Site, first: date, last: date | None, said: str):
    with pytest.raises(BadInput, match=said):
        times_of(site, None, first, last)


def test_no_pour_is_told_of_that_would_stand_in_air_colder_than_the_least(site: Site):
    cold = site.model_copy(update={"weather": Weather(MONDAY, ((18.0, 18.0), (-4.0, 4.0), (18.0, 18.0)))})
    (day,) = of_kind(cold, "gang-2")
    assert day.stopped == "the air falls to -4 degC on Tue 6 Apr, and 5 degC is the least until the strip"
    assert (day.hours, day.last) == ((), ())


def test_pours_that_are_stripped_before_a_frost_are_told_and_later_ones_warned_of(site: Site):
    quick = site.curing.model_copy(update={"strip_at_h": 20.0})
    cold = site.model_copy(
        update={"curing": quick, "weather": Weather(MONDAY, ((18.0, 18.0), (18.0, 18.0), (-4.0, 4.0), (18.0, 18.0)))}
    )
    day = of_kind(cold.model_copy(update={"curing": quick}), "gang-2")[0]
    assert {times.strip.date() for times in day.hours} == {MONDAY + timedelta(days=1)}
    late = of_kind(site.model_copy(update={"curing": quick}), "gang-2")[0]
    assert day.hours == tuple(times for times in late.hours if times.strip.date() == MONDAY + timedelta(days=1))


def test_an_age_that_is_never_reached_is_refused(site: Site):
    curing = site.curing.model_copy(update={"age": "nurse-saul", "datum_c": 10.0, "least_air_c": 0.0})
    cold = site.model_copy(update={"curing": curing, "weather": Weather(MONDAY, ((6.0, 8.0),) * 14)})
    with pytest.raises(OutOfRange, match="ten years away"):
        times_of(cold, None, MONDAY, MONDAY)


def test_a_warm_block_that_is_never_old_enough_is_refused(
    site: Site, small_plan: Plan, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(warm, "FOLLOWED_DAYS", 10)  # not 120: the same answer sooner
    curing = site.curing.model_copy(update={"heat": "modelled", "strip_at_h": 5000.0, "least_air_c": -40.0})
    cold = site.model_copy(update={"curing": curing, "weather": Weather(MONDAY, ((-20.0, -15.0),) * 14)})
    with pytest.raises(BadInput, match="are never as old as that in this weather"):
        times_of(cold, small_plan.order, MONDAY, MONDAY)


def test_modelled_heat_says_how_warm_blocks_get_and_that_corners_lag(site: Site, small_plan: Plan):
    warm = site.model_copy(update={"curing": site.curing.model_copy(update={"heat": "modelled"})})
    said = " ".join(times_of(warm, small_plan.order, MONDAY, MONDAY).said)
    assert "gang-2: the middle may get to about" in said
    assert "Ages are those of the corners" in said
    assert times_of(site, small_plan.order, MONDAY, MONDAY).said == ()
