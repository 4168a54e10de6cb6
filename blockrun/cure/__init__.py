"""How blocks harden: the air by the hour, equivalent age at 20 degC, and strength."""

from blockrun.cure.age import AgeClock, age_rate
from blockrun.cure.air import air_temperature
from blockrun.cure.strength import age_factor

__all__ = ["AgeClock", "age_factor", "age_rate", "air_temperature"]
