"""The air of each day: forecasts by the day or the hour, and what is taken where no forecast reaches."""

from blockrun.site.weather.day import HOURS, DayWeather, Sky
from blockrun.site.weather.days import Weather
from blockrun.site.weather.files import WeatherFile, read_weather
from blockrun.site.weather.seen import SeenWeather
from blockrun.site.weather.typical import TypicalYear

__all__ = ["HOURS", "DayWeather", "SeenWeather", "Sky", "TypicalYear", "Weather", "WeatherFile", "read_weather"]
