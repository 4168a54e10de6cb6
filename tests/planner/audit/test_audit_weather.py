"""Cold nights, hot days and rain."""

from datetime import date

from blockrun.site import Sky, Weather


def test_a_pour_before_a_frost_is_found(plain):
    """Only turn 2 still stands in its mould on Wednesday, the day that falls to 19.9 degC; the least is set to 20."""
    plain.change_part_of_site("curing", least_air_c=20.0)
    assert plain.broken() == []
    plain.change_site(weather=Weather(date(2027, 4, 5), ((20.0, 20.0), (20.0, 20.0), (19.9, 20.9), (20.0, 20.0))))
    assert plain.said() == [
        "gang-4/01 turn 2 is poured Tue 6 Apr and stripped Wed 7 Apr, but Wed 7 Apr falls to 19.9 degC; "
        "the least is 20 degC"
    ]


def test_the_day_of_the_pour_counts(plain):
    plain.change_part_of_site("curing", least_air_c=20.0)
    plain.change_site(weather=Weather(date(2027, 4, 5), ((19.9, 20.9), *((20.0, 20.0),) * 7)))
    assert plain.broken() == [("no frost", "gang-4/01 turn 1")]


def test_a_frost_after_the_strip_does_not_count(plain):
    plain.change_site(weather=Weather(date(2027, 4, 5), ((20.0, 20.0),) * 3 + ((-5.0, 1.0),)))
    assert plain.broken() == []


def rain(*fall_mm: float | None) -> Weather:
    """Days of 20 degC with so much rain."""
    return Weather(date(2027, 4, 5), ((20.0, 20.0),) * len(fall_mm), skies=tuple(Sky(rain_mm=mm) for mm in fall_mm))


def test_a_pour_on_a_day_too_hot_is_found(plain):
    hot = Weather(date(2027, 4, 5), ((20.0, 20.0), (20.0, 20.1), (20.0, 20.0)))
    plain.change_part_of_site("curing", most_air_c=20.0)
    assert plain.broken() == []
    plain.change_site(weather=hot)
    assert "batch 2 is poured Tue 6 Apr, which rises to 20.1 degC; the most is 20 degC" in plain.said()


def test_heat_without_a_limit_is_no_breach(plain):
    plain.change_site(weather=Weather(date(2027, 4, 5), ((20.0, 20.0), (19.0, 21.0), (20.0, 20.0))))
    assert "no heat" not in {rule for rule, _ in plain.broken()}


def test_a_pour_on_a_day_with_more_rain_than_the_limit_is_found(plain):
    plain.change_part_of_site("curing", rain_stops_mm=5.0)
    plain.change_site(weather=rain(0.0, 5.1, None))
    assert plain.said() == ["batch 2 is poured Tue 6 Apr, which has 5.1 mm of rain; more than 5 mm stops the pour"]


def test_just_as_much_rain_as_the_limit_is_no_breach(plain):
    plain.change_part_of_site("curing", rain_stops_mm=5.0)
    plain.change_site(weather=rain(5.0, 5.0, 80.0, 0.0))
    assert plain.broken() == []
