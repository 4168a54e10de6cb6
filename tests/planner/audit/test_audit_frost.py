"""Cold nights."""

from datetime import date

from blockrun.site import Weather


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
