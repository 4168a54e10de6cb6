"""An EPW file of an invented year: eight lines of header and 8760 hours that follow a formula."""

from collections.abc import Callable
from datetime import date, timedelta
from math import cos, pi

HEADER = """\
LOCATION,Heron Field,-,NOW,invented,000000,52.0,0.0,0.0,30.0
DESIGN CONDITIONS,0
TYPICAL/EXTREME PERIODS,0
GROUND TEMPERATURES,0
HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0
COMMENTS 1,invented for tests
COMMENTS 2,
DATA PERIODS,1,1,Data,Monday, 1/ 1,12/31
"""


def warm_in_summer(day: date, hour: int) -> float:
    """Temperature of an hour: 10 degC in the mean, 8 K of seasons and 4 K of days, coldest in January at 3:00."""
    season = -8 * cos(2 * pi * (day.timetuple().tm_yday - 20) / 365)
    return round(10 + season + 4 * cos(2 * pi * (hour - 15) / 24), 1)


def epw(air: Callable[[date, int], float] = warm_in_summer, year: int = 2001, rain_mm: float = 0.0) -> str:
    """The text of the file; humidity is 60 %, wind 5 m/s."""
    day, lines = date(year, 1, 1), []
    while day.year == year:
        for hour in range(1, 25):
            cells = ["0"] * 35
            cells[:5] = [str(1990 + day.month), str(day.month), str(day.day), str(hour), "60"]
            cells[6], cells[8], cells[21], cells[33] = f"{air(day, hour):.1f}", "60", "5.0", f"{rain_mm / 24:.3f}"
            lines.append(",".join(cells))
        day += timedelta(days=1)
    return HEADER + "\n".join(lines) + "\n"
