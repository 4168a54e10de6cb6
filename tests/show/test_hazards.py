"""What the head of a day says to do about its weather."""

import dataclasses
import re
from datetime import date

from blockrun.planner.plan import Plan
from blockrun.show.days import days_text
from blockrun.show.hazards import hazards_said
from blockrun.show.page import GLUE
from blockrun.site import DayWeather, Site, Sky, Weather


def said(site: Site, low: float, high: float, forecast: bool = True, **sky: object) -> list[str]:
    found = hazards_said(DayWeather(low, high, forecast, sky=Sky(**sky)), site, pours=True)
    return [line.replace(GLUE, " ") for line in found]


def with_curing(site: Site, **changed: float) -> Site:
    return site.model_copy(update={"curing": site.curing.model_copy(update=changed)})


def test_frost_under_the_least_air_says_not_to_pour(small_plan: Plan) -> None:
    assert said(small_plan.site, -2, 6) == [
        "FROST, -2 degC: do not pour; cover blocks in moulds, on racks "
        "and on the stack, do not wet them in frost or on its eve, even where a chore says so."
    ]


def test_frost_that_the_yard_allows_asks_for_covers_and_warm_water(small_plan: Plan) -> None:
    assert said(with_curing(small_plan.site, least_air_c=-5.0), -2, 6) == [
        "FROST, -2 degC: cover what is poured at once and warm the water; cover blocks in moulds, on racks "
        "and on the stack, do not wet them in frost or on its eve, even where a chore says so."
    ]


def test_frost_overrules_only_chores_that_there_are(small_plan: Plan) -> None:
    """The days print the chores of the yard at their hours, frost or not."""
    assert small_plan.site.chores
    (frost,) = said(small_plan.site.model_copy(update={"chores": ()}), -2, 6)
    assert frost.endswith("do not wet them in frost or on its eve.")


def test_a_day_of_frost_on_which_chores_wet_blocks_does_not_forbid_what_it_lists(small_plan: Plan) -> None:
    """Frost before dawn on Thursday the 8th, and none on Friday: what is wetted by day is dry before it freezes."""
    mild = (7.0, 15.0)
    nights = Weather(date(2027, 4, 5), (mild, mild, mild, (-1.0, 15.0), *[mild] * 20))
    plan = dataclasses.replace(small_plan, site=small_plan.site.model_copy(update={"weather": nights}))
    text = on_one_line(plan, 8)
    assert " wet the rack" in text
    assert "FROST, -1 degC" in text
    assert "wet them only at the hours listed, and not if they would still be wet when it freezes." in text
    assert "do not wet" not in text


def test_in_the_cold_only_what_there_is_is_to_be_covered(small_plan: Plan) -> None:
    """On Friday the 16th all blocks are on racks and on the stack; on Monday the 5th they are poured."""
    cold = Weather(date(2027, 4, 5), ((3.0, 9.0),) * 30)
    plan = dataclasses.replace(small_plan, site=small_plan.site.model_copy(update={"weather": cold}))
    assert "COLD, 3 degC: cover racks, they set slowly." in on_one_line(plan, 16)
    assert "cover moulds, they set slowly." in on_one_line(plan, 5)
    assert "07:30 cover racks: 3 degC today" in on_one_line(plan, 16)


def on_one_line(plan: Plan, day: int) -> str:
    then = date(2027, 4, day)
    return " ".join(days_text(plan, 80, then, then).plain.replace(GLUE, " ").split())


def test_cold_without_frost(small_plan: Plan) -> None:
    assert said(with_curing(small_plan.site, least_air_c=1.0), 3, 9) == [
        "COLD, 3 degC: warm the water; cover moulds and racks, they set slowly."
    ]


def test_heat_says_how_the_pour_life_shrinks_and_over_the_limit_not_to_pour(small_plan: Plan) -> None:
    assert said(small_plan.site, 20, 33) == [
        "HEAT, 33 degC: pour in the cool hours, use cool water; at the hottest the mix keeps 21 min, not 25 min (our "
        "choice, no standard); the limit of a pour counts it, by the hour of each batch; cover each mould once struck "
        "off."
    ]
    assert said(with_curing(small_plan.site, most_air_c=32.0), 20, 33) == [
        "HEAT, 33 degC: do not pour; keep blocks damp and in the shade."
    ]


def test_a_day_over_one_limit_has_no_advice_how_to_pour_for_another(small_plan: Plan) -> None:
    """Frost at dawn and heat at noon, rain and wind: what is not poured needs no cool water and no roof."""
    sky = {"rain_mm": 12.0, "wind_km_h": (45.0,)}
    assert said(small_plan.site, -2, 36, **sky) == [
        "FROST, -2 degC: do not pour; cover blocks in moulds, on racks "
        "and on the stack, do not wet them in frost or on its eve, even where a chore says "
        "so.",
        "HEAT, 36 degC: keep blocks damp and in the shade.",
    ]


def test_rain_over_what_stops_the_pour_says_so(small_plan: Plan) -> None:
    dry = with_curing(small_plan.site, rain_stops_mm=5.0)
    assert said(dry, 10, 20, rain_mm=12.0) == ["RAIN, 12 mm: do not pour; keep rain off what is in the moulds."]
    assert said(dry, 10, 20, rain_mm=4.0)[0].startswith("RAIN, 4 mm: pour under a roof")


def test_a_day_over_the_limit_only_when_nobody_works_is_no_day_to_pour(small_plan: Plan) -> None:
    """37 degC at 19:00, after the yard has closed."""
    air = (20.0,) * 18 + (30.0, 37.0, 30.0, 24.0, 22.0, 21.0, 20.0)
    site = with_curing(small_plan.site, most_air_c=35.0)
    found = hazards_said(DayWeather(20.0, 37.0, True, sky=Sky(air)), site, pours=True)
    assert [line.replace(GLUE, " ") for line in found] == [
        "HEAT, 37 degC: do not pour; keep blocks damp and in the shade."
    ]


def test_a_yard_that_asks_for_mild_air_is_told_of_air_that_is_not(small_plan: Plan) -> None:
    mild = with_curing(small_plan.site, least_air_c=12.0)
    assert said(mild, 9, 18) == ["COLD for this yard, 9 degC: do not pour."]
    assert said(mild, 12, 18) == []


def test_in_heat_tops_are_covered_also_where_nobody_knows_how_they_dry(small_plan: Plan) -> None:
    known = {"wind_km_h": (5.0,), "humidity": (0.8,)}
    assert said(small_plan.site, 20, 33)[0].endswith("; cover each mould once struck off.")
    assert "cover" not in said(small_plan.site, 20, 33, **known)[0]


def test_heat_in_which_no_batch_is_poured_in_time_says_so(small_plan: Plan) -> None:
    """Foam and pour take 4 and 10 min, and at 46 degC the mix keeps 13 of its 25 min: a while about three o'clock."""
    (line,) = said(small_plan.site, 20, 46)
    hours = re.search(
        "by the hour of each batch; no foam goes in from (..:..) to (..:..), for the quickest batch takes 14 min", line
    )
    assert hours
    assert "12:30" < hours[1] < "15:00" < hours[2] <= "16:00"


def test_a_day_without_a_pour_is_told_only_what_its_blocks_need(small_plan: Plan) -> None:
    def quiet(low: float, high: float, **sky: object) -> tuple[str, ...]:
        found = hazards_said(DayWeather(low, high, True, sky=Sky(**sky)), small_plan.site, pours=False)
        return tuple(line.replace(GLUE, " ") for line in found)

    assert quiet(-2, 6) == (
        "FROST, -2 degC: cover blocks in moulds, on racks "
        "and on the stack, do not wet them in frost or on its eve, even where a chore says so.",
    )
    assert quiet(3, 9) == ("COLD, 3 degC: cover moulds and racks, they set slowly.",)
    assert quiet(20, 33) == ("HEAT, 33 degC: keep blocks damp and in the shade.",)
    assert quiet(15, 25, wind_km_h=(40.0,), humidity=(0.3,)) == (
        "DRYING WIND, 1.9 kg/m2 an hour: keep blocks damp and covered.",
    )
    assert quiet(15, 25, rain_mm=12.0, wind_km_h=(45.0,)) == ()


def test_rain_is_told_with_no_limit_on_it(small_plan: Plan) -> None:
    assert said(small_plan.site, 10, 20, rain_mm=12.0)[0].startswith("RAIN, 12 mm: pour under a roof")
    assert said(small_plan.site, 10, 20, rain_mm=0.5) == []


def test_a_wind_of_unknown_humidity_is_told(small_plan: Plan) -> None:
    assert said(small_plan.site, 10, 20, wind_km_h=(45.0,))[0].startswith("WIND, 45 km/h: cover each mould")
    assert said(small_plan.site, 10, 20, wind_km_h=(20.0,)) == []


def test_a_drying_wind_is_told_in_the_units_of_the_yard(small_plan: Plan) -> None:
    sky = {"wind_km_h": (40.0,), "humidity": (0.3,)}
    assert said(small_plan.site, 15, 25, **sky) == [
        "DRYING WIND, 1.9 kg/m2 an hour: cover each mould once struck off, keep it damp."
    ]
    us = small_plan.site.model_copy(update={"units": "US"})
    assert said(us, 15, 25, **sky)[0].startswith("DRYING WIND, 0.38 lb/ft2 an hour")
    assert said(small_plan.site, 15, 25, wind_km_h=(20.0,), humidity=(0.5,))[0].startswith("May dry fast, 0.7 kg/m2")


def test_nothing_is_said_of_a_mean_of_other_days(small_plan: Plan) -> None:
    assert said(small_plan.site, -2, 6, forecast=False) == []


def test_the_head_of_a_day_says_it(small_plan: Plan) -> None:
    first = small_plan.site.weather.first
    site = small_plan.site.model_copy(update={"weather": Weather(first, ((-2.0, 6.0), *((10.0, 20.0),) * 6))})
    text = days_text(dataclasses.replace(small_plan, site=site), 40, first, first).plain
    assert "FROST, -2 degC" in text
    assert max(map(len, text.splitlines())) <= 40


def test_quiet_days_of_frost_are_told_together_where_they_are_alike(small_plan: Plan) -> None:
    """Blocks lie on the racks after the last pour: nothing is done, and the frost is told once for all such days."""
    first = small_plan.site.weather.first
    cold = small_plan.site.model_copy(update={"weather": Weather(first, ((-3.0, 2.0),) * 40)})
    lines = days_text(dataclasses.replace(small_plan, site=cold), 80).plain.splitlines()
    together = [n for n, line in enumerate(lines) if " to " in line and "──" in line]
    assert together
    assert all(lines[n + 1].startswith("FROST, -3 degC") for n in together)


def hot_days(plan: Plan, low: float, high: float, **sky: object) -> str:
    first = plan.site.weather.first
    day = DayWeather(low, high, True, sky=Sky(**sky))
    weather = Weather(first, ((low, high),) * 7, (day.sky,) * 7)
    site = plan.site.model_copy(update={"weather": weather})
    text = days_text(dataclasses.replace(plan, site=site), 80, first, first).plain
    return " ".join(text.replace(GLUE, " ").split())


def test_each_batch_of_a_hot_day_has_one_deadline_that_of_its_own_hour(small_plan: Plan) -> None:
    """40 degC at noon are 32.1 at the foam of the first batch: EN makes 22 of 25 min of that; at the hottest 16."""
    words = hot_days(small_plan, 27.0, 40.0)
    assert "at the hottest the mix keeps 16 min, not 25 min" in words
    keeps = [int(minutes) for minutes in re.findall(r"POUR BY \d\d:\d\d \(it keeps (\d+) min in the heat", words)]
    assert keeps == sorted(keeps, reverse=True)
    foam, by, minutes = re.search(r"(\d\d:\d\d) foam for .*?POUR BY (\d\d:\d\d) \(it keeps (\d+) min", words).groups()
    assert minute(by) - minute(foam) == int(minutes)
    first = small_plan.site.weather.first
    assert "in the heat" not in days_text(small_plan, 80, first, first).plain


def minute(clock: str) -> int:
    hours, minutes = clock.split(":")
    return int(hours) * 60 + int(minutes)


def test_a_batch_that_heat_leaves_no_time_to_weigh_is_said_and_one_that_is_not_poured_in_time(small_plan: Plan) -> None:
    assert "NO TIME TO WEIGH: a smaller batch, or a cooler hour" in hot_days(small_plan, 42.0, 43.0)
    assert "CANNOT BE POURED IN TIME: do not make it at this hour" in hot_days(small_plan, 47.0, 48.0)
    assert "TIME" not in hot_days(small_plan, 20.0, 33.0).replace("LATE", "")
