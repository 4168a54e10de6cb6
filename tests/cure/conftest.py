from datetime import date

import pytest

from blockrun.site import Weather


@pytest.fixture(scope="session")
def start():
    return date(2027, 4, 5)


@pytest.fixture(scope="session")
def weather_of(start):
    """Weather from (lowest, highest) of each day, from ``start`` on."""
    return lambda *ranges: Weather(start, ranges)
