"""What a site file must not hold, and how that is said."""

from collections.abc import Callable
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.site import load_site

Refuse = Callable[..., BadInput]


def test_least_over_usable_volume_prints_with_its_caret(refusal: Refuse):
    shown = str(refusal(("least_volume: 80 L", "least_volume: 300 L")))
    assert shown.endswith(
        "yard.yaml:15:19: least_volume is more than usable_volume\n"
        "    least_volume: 300 L\n"
        "                  ^\n"
        "  Write a volume up to 220 L."
    )


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("usable_volume: 220 L", "usable_volume: 220", "usable_volume: 220 has no unit, and a volume needs one"),
        ("usable_volume: 220 L", "usable_volume: 220 kg", "usable_volume: 220 kg is a mass, and a volume is due"),
        (
            "usable_volume: 220 L",
            "usable_volume: -220 L",
            "usable_volume: -220 L is out of range; it must be more than 0 L",
        ),
        ("usable_volume: 220 L", "usable_volume: .nan", "usable_volume: .nan is not a volume"),
        (
            "usable_volume: 220 L",
            "usable_volume: 9**9**9",
            "usable_volume: 9**9**9: **9**9 is not a unit of volume known here",
        ),
        ("usable_volume: 220 L", "usable_volume:", "usable_volume: is empty"),
        ("usable_volume: 220 L", "usable_volume: null", "usable_volume: is empty"),
        ("usable_volume: 220 L", "usable_volume: [220 L]", "usable_volume: is a list, and a volume is due"),
        ("usable_volume: 220 L", "usable_volume: {a: b}", "usable_volume: is a mapping, and a volume is due"),
        ("bag_step: 1/2", "bag_step: 0", "bag_step: 0 is out of range; it must be at least 0.02"),
        ("bag_step: 1/2", "bag_step: 1/0", "bag_step: 1/0 is not a number or a fraction"),
        ("bag_step: 1/2", "bag_step: half", "bag_step: half is not a number or a fraction"),
        ("agent_dilution: 1:40", "agent_dilution: 40", "agent_dilution: 40 is not a ratio"),
        ("overfill: 3 %", "overfill: 0.03", "overfill: 0.03 is not a percentage"),
        ("overfill: 3 %", "overfill: -3 %", "overfill: -3 % is out of range; it must be at least 0 %"),
        ("overfill: 3 %", "overfill: 300 %", "overfill: 300 % is out of range; it must be at most 100 %"),
        ("count: 6", "count: 010", "count: 010 starts with a nought"),
        ("count: 6", "count: 0x10", "count: 0x10 is not a whole number"),
        ("count: 6", "count: 1.5", "count: 1.5 is not a whole number"),
        ("count: 6", "count: 2.000", "count: 2.000 may be a thousand or a part of one"),
        ("on_hand: 160", "on_hand: 1.200", "on_hand: 1.200 may be a thousand or a part of one"),
        ("bags: 80", "bags: 1.250", "bags: 1.250 may be a thousand or a part of one"),
        ("count: 6", "count: 0", "count: 0 is out of range; it must be at least 1"),
        ("count: 6", "count: 6 moulds", "count: 6 moulds is not a whole number"),
        (
            "cavity: 600 x 300 x 200 mm",
            "cavity: 600 x 300 mm",
            "cavity: 600 x 300 mm is not length x height x thickness",
        ),
        (
            "cavity: 600 x 300 x 200 mm",
            "cavity: 600 x 0 x 200 mm",
            "cavity: 600 x 0 x 200 mm: a side must be more than 0",
        ),
        ("stop_ends: true", "stop_ends: yes", "stop_ends: yes is neither true nor false"),
        ("kind: gang-4", "kind: gang/4", "kind: gang/4 has a stroke in it"),
        ("start: 2027-04-05", "start: 05/04/2027", "start: 05/04/2027 is not a date"),
        ("start: 2027-04-05", "start: 2027-02-30", "start: 2027-02-30 is not a day of the calendar"),
        ("start: 2027-04-05", "start: 1027-04-05", "start: 1027-04-05 is not a year to plan in"),
        ("start: 2027-04-05", "start: 2027-04-05T07:00", "start: 2027-04-05T07:00 is not a date"),
        ("hours: 07:30-16:30", "hours: 16:30-07:30", "hours: 16:30-07:30 ends before it starts"),
        ("hours: 07:30-16:30", "hours: 450", "hours: 450 is not a span of time"),
        ("last_foam: 15:30", "last_foam: 25:00", "last_foam: 25:00 is not a time of day"),
        ("last_foam: 15:30", "last_foam: 15:60", "last_foam: 15:60 is not a time of day"),
        ("[mon, tue, wed, thu, fri, sat]", "[mon, NO]", "workdays: NO is not a day of the week"),
        ("[mon, tue, wed, thu, fri, sat]", "[]", "workdays: is an empty list"),
        ("[mon, tue, wed, thu, fri, sat]", "mon", "workdays: is a single value, and a list is due"),
        ("closed: [2027-04-16]", "closed: 2027-04-16", "closed: is a single value, and a list is due"),
        ("people: 3, away", "people: NO, away", "people: NO is not a whole number"),
        ("price: 6.10", "price: 6,10", "price: 6,10 has a comma in its number"),
        ("price: 6.10", "price: 6.10 GBP", "price: 6.10 GBP is not a plain number"),
        ("on_hand: 160", "on_hand: .inf", "on_hand: .inf is not a plain number"),
        ("on_hand: 160", "on_hand: -1", "on_hand: -1 is out of range; it must be at least 0"),
        ("units: SI", "units: imperial", "units: imperial is not a system of units known here"),
        ("site: Test yard", "site: ''", "site: is an empty name"),
        ("site: Test yard", f"site: {'x' * 5000}", "is longer than 60 characters"),
        ("site: Test yard", 'site: "a\\tb"', "site: a b has characters that do not print"),
        ("strip_at: 24 h", "strip_at: 0 h", "strip_at: 0 h is out of range; it must be more than 0"),
        ("wash_time: 4 min", "wash_time: 30 h", "wash_time: 30 h is out of range; it must be at most 24 h"),
        ("strip_at: 24 h", "strip_at: 400 d", "strip_at: 400 d is out of range; it must be at most 365 d"),
        ("strip_at: 24 h", "strip_at: -1 h", "strip_at: -1 h is out of range; it must be more than 0 h"),
        ("least_air: 5 degC", "least_air: 200 °F", "least_air: 200 °F is out of range; it must be at most 122 degF"),
        (
            "usable_volume: 220 L",
            "usable_volume: 90000 gal",
            "usable_volume: 90000 gal is out of range; it must be at most 26417 gal",
        ),
        (
            "cavity: 600 x 300 x 200 mm",
            "cavity: 400 x 12 x 8 in",
            "cavity: 400 x 12 x 8 in: a side must be more than 0 and at most 393.7 in",
        ),
        ("weather: weather.csv", "weather: typical.epw", "weather: there is no file typical.epw"),
        ("weather: weather.csv", "weather: wether.csv", "weather: there is no file wether.csv"),
        ("weather: weather.csv", "weather: [a]", "weather: there is no file a"),
        ("weather: weather.csv", "weather: {a: b}", "weather: a weather file is due"),
        ("weather: weather.csv", "weather: []", "weather: a weather file is due"),
        ("curing:\n", "curing: 24 h\nrest:\n", "curing: is a single value, and a mapping is due"),
        ("racks:\n  - {name: east, places: 120}", "racks: []", "racks: is an empty list"),
        ("racks:\n  - {name: east, places: 120}", "racks:", "racks: is empty"),
        ("  - {name: east, places: 120}", "  - east", "racks: is a single value, and a mapping is due"),
        ("mixers:\n  - name: drum", "mixers:\n    name: drum", "mixers: is a mapping, and a list is due"),
        ("pour_life: 25 min\n", "", "pour_life is missing"),
        ("    bases: 10\n", "", "sides_off_at is given without bases"),
        ("    sides_off_at: 18 h\n    sides_time: 6 min\n", "", "bases is given without sides_off_at and sides_time"),
    ],
)
def test_a_wrong_value_is_said_at_its_line(refusal: Refuse, old: str, new: str, said: str):
    error = refusal((old, new))
    assert said in "\n".join(fault.what for fault in error.all())
    assert all(fault.todo and fault.line and fault.column and fault.text for fault in error.all())


@pytest.mark.parametrize(
    ("key", "number", "todo"),
    [
        ("strip_at", "24 h", "24 of what? Write 24 h."),
        ("lay_at", "28 d", "28 of what? Write 28 d."),
        ("sides_off_at", "18 h", "18 of what? Write 18 h."),
        ("pour_time", "10 min", "10 of what? Write 10 min."),
        ("least_air", "5 degC", "5 of what? Write 5 degC or 5 degF."),
        ("foam_density", "95 g/L", "95 of what? Write 95 g/L."),
        ("usable_volume", "220 L", "220 of what? Write 220 L or 220 gal."),
    ],
)
def test_a_bare_number_is_answered_with_the_unit_usual_for_its_key(refusal: Refuse, key: str, number: str, todo: str):
    assert refusal((f"{key}: {number}", f"{key}: {number.split()[0]}")).todo == todo


def test_a_volume_over_the_usable_one_is_told_in_the_unit_it_was_written_in(refusal: Refuse):
    error = refusal(("usable_volume: 220 L", "usable_volume: 50 gal"), ("least_volume: 80 L", "least_volume: 60 gal"))
    assert error.todo == "Write a volume up to 50 gal."


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("crew: 3\n", "crew: 4\n", "mixer drum needs 4 people, and the crew is 3"),
        ("pour_life: 25 min", "pour_life: 13 min", "foam_time and pour_time take 14 min, and the pour life is 13 min"),
        ("slurry_time: 10 min", "slurry_time: 4 h", "a batch takes 258 min at least"),
        (
            "{bag: 25 kg,",
            "{bag: 25 g,",
            "batches in steps of 0.013 kg of cement are more than 1000 sizes to choose from",
        ),
        ("last_foam: 15:30", "last_foam: 08:05", "fits between no two breaks before last_foam"),
        ("last_foam: 15:30", "last_foam: 07:00", "last_foam is not after opening time"),
        (
            "strip_time: 12 min",
            "strip_time: 5 h",
            "strip_time is 5 h, and no stretch without a break is longer than 4 h",
        ),
        ("hours: 07:30-16:30", "hours: 07:30-08:30", "no working minute is left of the day"),
        ("breaks: [12:00-12:30]", "breaks: [17:00-17:30]", "the break 17:00-17:30 is not within the hours"),
        ("start: 2027-04-05", "start: 2027-05-05", "the weather runs from 2027-04-05 to 2027-04-18"),
        ("start: 2027-04-05", "start: 2027-04-04", "the weather runs from 2027-04-05 to 2027-04-18"),
        (
            "[08:30, 15:00]",
            "[08:30, 11:55]",
            "wet the rack from 11:55 to 12:05 is not within 08:00-12:00 and 12:30-16:00",
        ),
        ("[08:30, 15:00]", "[07:30]", "wet the rack from 07:30 to 07:40 is not within"),
        ("time: 10 min, people: 1}]", "time: 10 min, people: 4}]", "wet the rack needs 4 people, and the crew is 3"),
        (
            "time: 10 min, people: 1}]",
            "time: 10 min, people: 3}]",
            "on 2027-04-14 2 people are there, and the chores need 3",
        ),
        ("[{day: 2027-04-14, people: 1}]", "[{day: 2027-04-14, people: 4}]", "4 people are away on 2027-04-14"),
        (
            "  - {name: east, places: 120}",
            "  - {name: e, places: 1}\n  - {name: e, places: 2}",
            "two racks are called e",
        ),
    ],
)
def test_values_that_do_not_go_together_are_refused_at_their_line(refusal: Refuse, old: str, new: str, said: str):
    error = refusal((old, new))
    assert said in "\n".join(fault.what for fault in error.all())
    assert all(fault.todo and fault.line and fault.column for fault in error.all())


def test_chores_that_together_need_too_many_people_are_refused(refusal: Refuse):
    error = refusal(("people: 1}]\nstock", "people: 2}, {chore: sweep, at: [08:35], time: 5 min, people: 2}]\nstock"))
    assert "the chores at 08:35 need 4 people together, and the crew is 3" in str(error)


def test_an_away_day_that_is_closed_needs_no_people_for_chores(yard: Refuse):
    site = yard(("closed: [2027-04-16]", "closed: [2027-04-14]"), ("min, people: 1}]", "min, people: 3}]"))
    assert site.crew.on(site.crew.absences[0].day) == 2


def test_an_unknown_key_is_answered_with_the_nearest(refusal: Refuse):
    error = refusal(("pour_time: 10 min", "pour_tme: 10 min"))
    unknown = next(fault for fault in error.all() if fault.what == "unknown key pour_tme")
    assert (unknown.todo, unknown.line, unknown.column) == ("Did you mean pour_time?", 19, 5)


def test_a_key_with_its_unit_is_unknown_in_a_file(refusal: Refuse):
    assert "unknown key usable_volume_l" in str(refusal(("usable_volume: 220 L", "usable_volume_l: 220 L")))


def test_a_missing_key_is_answered_with_an_example(refusal: Refuse):
    assert refusal(("pour_life: 25 min\n", "")).todo == "Write a line such as pour_life: 25 min."


def test_every_fault_of_the_file_is_said_at_once(refusal: Refuse):
    error = refusal(
        ("usable_volume: 220 L", "usable_volume: 220"),
        ("count: 6", "count: six"),
        ("overfill: 3 %", "overfil: 3 %"),
        ("weather: weather.csv", "weather: nothing.csv"),
    )
    assert [fault.line for fault in error.all()] == sorted(fault.line or 0 for fault in error.all())
    assert len(error.all()) == 4


def test_no_more_than_ten_faults_are_printed(refusal: Refuse):
    edits = [
        (f"{key}: ", f"{key}: x ") for key in ("usable_volume", "least_volume", "bag_step", "slurry_time", "foam_time")
    ]
    edits += [
        (f"{key}: ", f"{key}: x ") for key in ("pour_time", "wash_time", "left_behind", "crew", "rate", "pour_life")
    ]
    assert str(refusal(*edits)).endswith("... and 1 more.")


def test_an_order_in_place_of_a_site_is_told_in_one_sentence(tmp_path: Path):
    (tmp_path / "order.yaml").write_text("order: Tool store\nmixes: []\nparts: []\n")
    with pytest.raises(BadInput) as caught:
        load_site(tmp_path / "order.yaml")
    assert [fault.what for fault in caught.value.all()] == ["this file is an order, and a site is due here"]
    assert caught.value.todo == "Swap the two files: the site comes first, then the order."


@pytest.mark.parametrize("day", ["2027-04-04", "2027-05-05"])
def test_a_start_without_weather_is_told_at_the_start(refusal: Refuse, day: str):
    error = refusal(("start: 2027-04-05", f"start: {day}"))
    assert (error.line, error.column) == (4, 10)
    assert error.todo == f"Add the days from {day} on to weather.csv, or correct the start."


@pytest.mark.parametrize(
    ("written", "what", "todo"),
    [
        ("12/05/2027", "12/05/2027 is not a date", "Write 2027-05-12 or 2027-12-05, whichever is meant."),
        ("5.27.2027", "5.27.2027 is not a date", "Write 2027-05-27."),
        ("5.12.27", "5.12.27 is not a date", "Write the date as year-month-day, for example 2027-04-05."),
        ("25/12/2027", "25/12/2027 is not a date", "Write 2027-12-25."),
        ("12-25-2027", "12-25-2027 is not a date", "Write 2027-12-25."),
        ("05/05/2027", "05/05/2027 is not a date", "Write 2027-05-05."),
        ("2027/4/5", "2027/4/5 is not a date", "Write 2027-04-05."),
        ("2027-4-5", "2027-4-5 is not a date", "Write 2027-04-05."),
        ("31/31/2027", "31/31/2027 is not a date", "Write the date as year-month-day, for example 2027-04-05."),
        ("05/04/27", "05/04/27 is not a date", "Write the date as year-month-day, for example 2027-04-05."),
    ],
)
def test_a_date_in_another_form_is_answered_with_what_it_may_mean(refusal: Refuse, written: str, what: str, todo: str):
    error = refusal(("start: 2027-04-05", f"start: {written}"))
    assert (error.what, error.todo) == (f"start: {what}", todo)


def test_a_decimal_comma_between_braces_is_told_as_that(refusal: Refuse):
    error = refusal(("price: 6.10", "price: 6,1 "))
    assert error.what == "price: 6,1 has a comma in its number"
    assert error.todo == "Write a thousand as 1000, one and a half as 1.5."


def test_a_decimal_comma_between_braces_before_a_unit_is_told_as_that(refusal: Refuse):
    error = refusal(("on_hand: 20 L", "on_hand: 20,5 L"))
    assert "on_hand: 20,5 L has a comma in its number" in [fault.what for fault in error.all()]


def test_a_most_air_under_the_least_is_told(refusal: Refuse):
    error = refusal(("least_air: 5 degC", "least_air: 15 degC\n  most_air: 12 degC"))
    assert "most_air, 12 degC, is not over least_air, 15 degC" in error.what
    error = refusal(("units: SI", "units: US"), ("least_air: 5 degC", "least_air: 15 degC\n  most_air: 12 degC"))
    assert "most_air, 53.6 degF, is not over least_air, 59 degF" in error.what


def test_rain_that_stops_and_is_not_known_is_told_with_what_to_add(refusal: Refuse):
    error = refusal(("least_air: 5 degC", "least_air: 5 degC\n  rain_stops: 5 mm"))
    assert error.what == "rain_stops is given, and weather.csv has no rain"
    assert error.todo == "Add a column rain_mm to the weather file, or take rain_stops out."


def test_more_agent_than_water_is_asked_back_the_other_way_round(refusal: Refuse):
    error = refusal(("agent_dilution: 1:40", "agent_dilution: 40:1"))
    assert (error.what, error.todo) == ("agent_dilution 40:1 is more agent than water", "Did you mean 1:40?")
    assert error.line
